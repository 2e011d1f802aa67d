/** The rows that screens are drawn from, made of the folds of all cases. Pure. */
import { fieldsOf } from '../../base/json.ts';
import { contradictionsIn } from '../../outcomes/contradictions.ts';
import { lastSeenOn } from '../../outcomes/follow-up.ts';
import type { FollowUp } from '../../outcomes/follow-up-types.ts';
import { laterBondings, type TakenOn, takenOnIn } from '../../outcomes/later-bondings.ts';
import { originOf } from '../../outcomes/origin.ts';
import { recallsOf } from '../../outcomes/recalls.ts';
import type { Fact } from '../facts/fact.ts';
import type { FollowUpRow, FollowUpsState } from './follow-up-state.ts';

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

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
  o: Asked & { readonly takenOn: TakenOn },
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
      contradictions: contradictionsIn(followUp, o.takenOn),
      followUp,
    },
  ];
}

interface Asked {
  readonly today: string;
  readonly everyMonths: number;
}

interface KnownRow {
  /** From when another case stands in the place of each unit. */
  readonly taken: string;
  readonly rows: readonly FollowUpRow[];
}

/**
 * Rows that were worked out, by the fold that they are made of: an entry changes the row of its case, and of one
 * on whose teeth it bonded again.
 */
export class KnownRows {
  #asked: Asked | null = null;
  #rows = new WeakMap<FollowUp, KnownRow>();

  of(followUps: readonly FollowUp[], asked: Asked): Pick<FollowUpsState, 'list' | 'due'> {
    const { today, everyMonths } = asked;
    if (this.#asked?.today !== today || this.#asked.everyMonths !== everyMonths) {
      this.#rows = new WeakMap();
      this.#asked = asked;
    }
    const laterOf = laterBondings(followUps);
    return rowsOf(followUps, (followUp) => {
      const { caseId, bonded } = followUp;
      const takenOn = takenOnIn(laterOf, caseId);
      const taken = (bonded?.units ?? []).map(({ unit }) => takenOn(unit) ?? '').join(' ');
      const known = this.#rows.get(followUp);
      if (known?.taken === taken) return known.rows;
      const rows = rowOf(followUp, { ...asked, takenOn });
      this.#rows.set(followUp, { taken, rows });
      return rows;
    });
  }
}

/** All of them, the latest bonding first; and those that are due, the longest due first. */
function rowsOf(
  followUps: readonly FollowUp[],
  row: (followUp: FollowUp) => readonly FollowUpRow[],
): Pick<FollowUpsState, 'list' | 'due'> {
  const list = followUps
    .flatMap(row)
    .toSorted((a, b) => compare(b.bondedOn, a.bondedOn) || compare(a.caseId, b.caseId));
  const due = list
    .filter((row) => row.due !== null)
    .toSorted((a, b) => compare(a.due?.dueOn ?? '', b.due?.dueOn ?? ''));
  return { list, due };
}
