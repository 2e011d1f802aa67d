/** An invented clinic with everything that a follow-up can tell: corrected, struck, bonded again, from before the app, left behind. */
import type { FollowUp } from '../../src/outcomes/follow-up-types.ts';
import { must } from '../backup/filled-journal.ts';
import {
  bonded,
  found,
  keepBonded,
  meet,
  visit,
  type WithFollowUps,
  withFollowUps,
} from '../follow-up/clinic.ts';

export const TODAY = '2026-12-01';

const by = 'TK';

/** The units of case-1: limits kept, broken, and of which nobody can tell. */
const bondedHere = () => {
  const { units, ...rest } = bonded();
  const limits = [
    { limit: 'window/open-adhesive', title: 'Open adhesive', state: 'kept' as const },
    { limit: 'step/etch', title: 'Etch', state: 'broken' as const },
    { limit: 'step/rinse', title: 'Rinse', state: 'cannot-tell' as const },
  ];
  return { ...rest, units: units.map((unit, n) => (n === 0 ? { ...unit, limits } : unit)) };
};

export interface FollowedClinic extends WithFollowUps {
  readonly ids: {
    readonly first: string;
    readonly corrected: string;
    readonly struck: string;
    readonly again: string;
    readonly earlier: string;
  };
}

export async function followedClinic(): Promise<FollowedClinic> {
  const a = await withFollowUps('a');
  const { followUps } = a;
  await keepBonded(a, { caseId: 'case-1', said: bondedHere() });
  await keepBonded(a, {
    caseId: 'case-2',
    said: bonded({ patient: 'C-44', bondedOn: '2026-02-01' }),
  });
  const left = { patient: 'left-1', title: '', people: [], lots: [], bondedOn: '2025-06-01' };
  const after = [(await keepBonded(a, { caseId: 'left-1', said: bonded(left) })).id];
  const sight = { ...visit('2025-09-01', found('21', 'chipped')), examiner: '' };
  await keepBonded(a, { caseId: 'left-1', said: { what: 'visited', visit: sight }, after });
  must(await followUps.open());
  const caseId = 'case-1';
  const note = (one: ReturnType<typeof visit>) =>
    followUps.noteVisit({ caseId, visit: one, by }).then(must);
  const first = await note({
    ...visit('2026-01-14', found('11', 'in-place'), found('21', 'not-seen')),
    note: '=HYPERLINK("x"), said; at the desk',
  });
  const corrected = must(
    await followUps.correctVisit({
      caseId,
      of: first,
      visit: visit('2026-01-15', found('11', 'in-place')),
      reason: 'wrong day',
      by,
    }),
  );
  const wrong = await note(visit('2026-02-01', found('21', 'tooth-lost')));
  const struck = must(
    await followUps.strikeVisit({ caseId, of: wrong, reason: 'another patient', by }),
  );
  const again = await note({
    ...visit(
      '2026-07-01',
      found('11', 'lost-retention', { done: 'bonded-again', statedDay: '2026-06-20' }),
      {
        unit: '13-15',
        findings: ['chipped'],
        retainers: [
          { tooth: '13', findings: ['in-place'] },
          { tooth: '15', findings: ['partly-loose', 'caries'] },
        ],
        done: 'repaired',
        grades: [{ scale: '@Scale', year: 2010, item: 'Margin, marginal gap', grade: '3' }],
      },
    ),
    examiner: '+RS',
    isOwnWork: true,
  });
  await note(visit('2026-11-30', found('11', 'in-place')));
  const { what: _, protocol: _none, ...before } = bonded({ patient: 'C-55', lots: [], people: [] });
  const bonding = { ...before, bondedOn: '2020-03-01', seenFrom: '2026-03-01' };
  const earlier = must(await followUps.addEarlier({ bonding, by }));
  return { ...a, ids: { first, corrected, struck, again, earlier } };
}

export const followUpsOf = ({ followUps }: Pick<WithFollowUps, 'followUps'>): readonly FollowUp[] =>
  followUps.state.getState().list.map(({ followUp }) => followUp);

/** Two tablets that did not know of each other: one found 11 gone, the other in place, and found it so later too. */
export async function contradictingVisits(): Promise<readonly FollowUp[]> {
  const [a, b] = [await withFollowUps('a'), await withFollowUps('b')];
  await keepBonded(a, { caseId: 'case-1' });
  await meet(a, b);
  const note = (on: WithFollowUps, one: ReturnType<typeof visit>) =>
    on.followUps.noteVisit({ caseId: 'case-1', visit: one, by }).then(must);
  await note(a, visit('2026-06-01', found('11', 'lost-retention'), found('21', 'in-place')));
  await note(b, visit('2026-06-01', found('11', 'in-place'), found('21', 'in-place')));
  await note(b, visit('2026-09-01', found('11', 'in-place'), found('21', 'in-place')));
  await meet(a, b);
  const anew = a.anew();
  must(await anew.open());
  return followUpsOf({ followUps: anew });
}
