/** Visits that cannot all be so: refused by one tablet, told where two noted them, whichever came first. */
import { describe, expect, it } from 'vitest';
import { checkVisit } from '../../src/outcomes/check-visit.ts';
import { contradictionsIn } from '../../src/outcomes/contradictions.ts';
import type { UnitFound, Visit } from '../../src/outcomes/follow-up-types.ts';
import { livesOf } from '../../src/outcomes/lives.ts';
import { must } from '../backup/filled-journal.ts';
import { bonded, found, keepBonded, meet, visit, withFollowUps } from './clinic.ts';

const TODAY = '2026-12-01';

/** Two tablets that know of one case; each notes a visit without knowing of the other. */
async function noted(first: Visit, second: Visit, later: string | null = null) {
  const [a, b] = [await withFollowUps('a'), await withFollowUps('b')];
  await keepBonded(a, { caseId: 'case-1' });
  if (later !== null) {
    const [unit] = bonded().units;
    const said = bonded({ bondedOn: later, units: unit === undefined ? [] : [unit] });
    await keepBonded(a, { caseId: 'case-2', said });
  }
  await meet(a, b);
  must(await a.followUps.noteVisit({ caseId: 'case-1', visit: first, by: 'TK' }));
  must(await b.followUps.noteVisit({ caseId: 'case-1', visit: second, by: 'RS' }));
  await meet(a, b);
  const rows = [];
  for (const tablet of [a, b]) {
    const anew = tablet.anew();
    must(await anew.open());
    rows.push(anew.state.getState().list.find(({ caseId }) => caseId === 'case-1'));
  }
  expect(rows[0]?.contradictions).toEqual(rows[1]?.contradictions);
  return { contradictions: rows[0]?.contradictions ?? [], row: rows[0], a };
}

const seen = (onDay: string, ...more: readonly UnitFound[]) =>
  visit(onDay, found('11', 'in-place'), ...more);
const gone = (onDay: string, more: Partial<UnitFound> = {}) =>
  visit(onDay, found('11', 'lost-retention', more), found('21', 'in-place'));

describe('two visits of one day', () => {
  it('that found different things of a unit are told for that unit', async () => {
    const { contradictions, row } = await noted(
      seen('2026-06-01', found('21', 'in-place')),
      gone('2026-06-01'),
    );
    expect(contradictions).toMatchObject([
      {
        kind: 'same-day',
        unit: '11',
        sights: expect.arrayContaining([
          expect.objectContaining({ found: found('11', 'in-place') }),
          expect.objectContaining({ found: found('11', 'lost-retention') }),
        ]),
      },
    ]);
    // What the page says of the figures meanwhile: all that was found on that day counts.
    const lives = livesOf(row === undefined ? [] : [row.followUp], TODAY);
    expect(lives[0]?.ends.retention).toMatchObject({ event: 'event', byDay: 151 });
  });

  it('that agree, or of which one did not look, are not', async () => {
    const same = seen('2026-06-01');
    expect((await noted(same, same)).contradictions).toEqual([]);
    const notSeen = visit('2026-06-01', found('11', 'not-seen'), found('21', 'chipped'));
    expect((await noted(same, notSeen)).contradictions).toEqual([]);
  });

  it('are made to agree by a correction of one, though both tell of that day', async () => {
    const { a } = await noted(seen('2026-06-01'), visit('2026-06-01', found('11', 'chipped')));
    const anew = a.anew();
    must(await anew.open());
    const [wrong] = anew.state.getState().list[0]?.contradictions[0]?.sights ?? [];
    if (wrong === undefined) throw new Error('nothing to correct');
    const other = wrong.found.findings[0] === 'chipped' ? 'in-place' : 'chipped';
    const about = { caseId: 'case-1', of: wrong.kept.id, reason: 'looked again', by: 'TK' };
    must(await anew.correctVisit({ ...about, visit: visit('2026-06-01', found('11', other)) }));
    expect(anew.state.getState().list[0]?.contradictions).toEqual([]);
    // A third of that day is refused as before, and so is one that is moved to it.
    expect(
      await anew.noteVisit({ caseId: 'case-1', visit: seen('2026-06-01'), by: 'TK' }),
    ).toMatchObject({ ok: false, error: { code: 'noted-that-day' } });
    must(await anew.noteVisit({ caseId: 'case-1', visit: seen('2026-08-01'), by: 'TK' }));
    const of = anew.state.getState().list[0]?.followUp.visits.at(-1)?.id ?? '';
    expect(await anew.correctVisit({ ...about, of, visit: seen('2026-06-01') })).toMatchObject({
      ok: false,
      error: { code: 'noted-that-day' },
    });
  });

  it('that differ in what was done, or in the day that is stated, are told', async () => {
    const two = [
      gone('2026-06-01', { done: 'left' }),
      gone('2026-06-01', { done: 'replaced' }),
    ] as const;
    expect((await noted(...two)).contradictions).toMatchObject([{ kind: 'same-day', unit: '11' }]);
    const days = [
      gone('2026-06-01', { statedDay: '2026-05-01' }),
      gone('2026-06-01', { statedDay: '2026-05-02' }),
    ] as const;
    expect((await noted(...days)).contradictions).toMatchObject([{ kind: 'same-day' }]);
  });
});

describe('a unit that was found gone and in place later', () => {
  it.each([
    ['lost', gone('2026-06-01')],
    ['replaced', visit('2026-06-01', found('11', 'fractured', { done: 'replaced' }))],
    ['without its tooth', visit('2026-06-01', found('11', 'tooth-lost'))],
  ])('is told whichever was noted first: %s', async (_, at) => {
    const back = seen('2026-07-01');
    for (const [first, second] of [
      [at, back],
      [back, at],
    ] as const) {
      const { contradictions } = await noted(first, second);
      expect(contradictions).toMatchObject([{ kind: 'after-gone', unit: '11' }]);
      expect(contradictions[0]?.sights.map(({ kept }) => kept.visit.onDay)).toEqual([
        '2026-06-01',
        '2026-07-01',
      ]);
    }
  });

  it('is not where it was bonded again, or where another case took its place', async () => {
    const again = gone('2026-06-01', { done: 'bonded-again' });
    expect((await noted(again, seen('2026-07-01'))).contradictions).toEqual([]);
    const ofLater = await noted(gone('2026-06-01'), seen('2026-07-01'), '2026-06-10');
    expect(ofLater.contradictions).toEqual([]);
    const before = await noted(gone('2026-06-01'), seen('2026-07-01'), '2026-08-10');
    expect(before.contradictions).toMatchObject([{ kind: 'after-gone' }]);
  });

  it('counts as gone until one is corrected, and then is told no more', async () => {
    const { a, row } = await noted(gone('2026-06-01'), seen('2026-07-01'));
    const lives = livesOf(row === undefined ? [] : [row.followUp], TODAY);
    expect(lives[0]?.ends.retention).toMatchObject({ event: 'event', byDay: 151 });
    const of = row?.followUp.visits[0]?.id ?? '';
    const anew = a.anew();
    must(await anew.open());
    must(await anew.strikeVisit({ caseId: 'case-1', of, reason: 'another patient', by: 'TK' }));
    expect(anew.state.getState().list[0]?.contradictions).toEqual([]);
  });

  it('is refused by the tablet that knows both, in either order', async () => {
    const a = await withFollowUps('a');
    await keepBonded(a, { caseId: 'case-1' });
    const note = (of: Visit) => a.followUps.noteVisit({ caseId: 'case-1', visit: of, by: 'TK' });
    must(await note(seen('2026-07-01')));
    expect(await note(gone('2026-06-01'))).toMatchObject({
      ok: false,
      error: { code: 'gone-before-seen', place: 'visit.units[0]' },
    });
    must(await note(gone('2026-06-01', { done: 'bonded-again' })));
    const { followUp } = a.followUps.state.getState().list[0] ?? {};
    if (followUp === undefined) throw new Error('no case');
    // Of a unit that the next visit did not look at, nothing is wrong.
    const other = visit('2026-06-02', found('21', 'tooth-lost'));
    expect(checkVisit(other, { followUp, today: TODAY })).toEqual([]);
    expect(contradictionsIn(followUp, () => null)).toEqual([]);
  });
});
