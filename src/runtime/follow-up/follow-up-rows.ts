/** The rows that screens are drawn from, made of the folds of all cases. Pure. */
import { fieldsOf } from '../../base/json.ts';
import { lastSeenOn } from '../../outcomes/follow-up.ts';
import type { FollowUp } from '../../outcomes/follow-up-types.ts';
import { recallsOf } from '../../outcomes/recalls.ts';
import type { Fact } from '../facts/fact.ts';
import type { FollowUpRow, FollowUpsState } from './follow-up-state.ts';

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Where the bonding under this id comes from. */
export const originOf = (caseId: string): FollowUpRow['origin'] =>
  caseId.startsWith('earlier-') ? 'earlier' : caseId.startsWith('left-') ? 'left' : 'case';

/** The entries that say what was bonded and were not withdrawn. */
export function standingBonded(facts: readonly Fact[]): readonly Fact[] {
  const said = (fact: Fact) => fieldsOf(fact.said);
  const withdrawn = new Set(
    facts.flatMap((fact) => (said(fact)['what'] === 'bonding-withdrawn' ? [said(fact)['of']] : [])),
  );
  return facts.filter((fact) => said(fact)['what'] === 'bonded' && !withdrawn.has(fact.id));
}

function rowOf(
  followUp: FollowUp,
  o: { readonly today: string; readonly everyMonths: number },
): readonly FollowUpRow[] {
  const { caseId, bonded, differing } = followUp;
  if (bonded === null || bonded.units.length === 0) return [];
  const { patient, title, bondedOn, units } = bonded;
  const origin = originOf(caseId);
  const all = recallsOf(followUp, o);
  // Nobody can be asked for whose chart reference is gone.
  const recalls = origin === 'left' ? { ...all, due: null, next: null } : all;
  return [
    {
      caseId,
      origin,
      patient,
      title,
      bondedOn,
      units,
      recalls,
      due: recalls.due,
      lastSeen: lastSeenOn(followUp),
      differing,
      followUp,
    },
  ];
}

/** All of them, the latest bonding first; and those that are due, the longest due first. */
export function rowsOf(
  followUps: readonly FollowUp[],
  o: { readonly today: string; readonly everyMonths: number },
): Pick<FollowUpsState, 'list' | 'due'> {
  const list = followUps
    .flatMap((followUp) => rowOf(followUp, o))
    .toSorted((a, b) => compare(b.bondedOn, a.bondedOn) || compare(a.caseId, b.caseId));
  const due = list
    .filter((row) => row.due !== null)
    .toSorted((a, b) => compare(a.due?.dueOn ?? '', b.due?.dueOn ?? ''));
  return { list, due };
}
