/**
 * What visits of one case say of one unit that cannot all be so. A form refuses it, but two tablets may each note a part
 * of it without knowing of the other. Whichever came first does not matter. Pure.
 */
import { isSameJson } from '../base/json.ts';
import type { FollowUp, KeptVisit, UnitFound } from './follow-up-types.ts';
import { asOneDay, foundOf, isBack, isGone, looksAt } from './found.ts';
import type { TakenOn } from './later-bondings.ts';

/**
 * `same-day`: visits of one day found different things. `after-gone`: one found it gone, a later one found it where
 * it was bonded, and nothing says that it was bonded again.
 */
export type ContradictionKind = 'same-day' | 'after-gone';

export interface Contradiction {
  readonly kind: ContradictionKind;
  readonly unit: string;
  /** By day, then by entry; each with what it found of the unit. */
  readonly sights: readonly Sight[];
}

export interface Sight {
  readonly kept: KeptVisit;
  readonly found: UnitFound;
}

const told = (found: UnitFound) => ({
  findings: [...foundOf(found)].toSorted(),
  done: found.done ?? null,
  bondedAgainIn: found.bondedAgainIn ?? null,
  statedDay: found.statedDay ?? null,
});

const isSame = (a: UnitFound, b: UnitFound): boolean => isSameJson(told(a), told(b));

function sightsByDay({ visits }: FollowUp, unit: string): ReadonlyMap<string, readonly Sight[]> {
  const days = new Map<string, Sight[]>();
  for (const kept of visits) {
    for (const { onDay, found } of looksAt([kept.visit], unit)) {
      days.set(onDay, [...(days.get(onDay) ?? []), { kept, found }]);
    }
  }
  return new Map([...days].toSorted(([a], [b]) => (a < b ? -1 : 1)));
}

export function contradictionsIn(followUp: FollowUp, takenOn: TakenOn): readonly Contradiction[] {
  return (followUp.bonded?.units ?? []).flatMap(({ unit }): readonly Contradiction[] => {
    const days = [...sightsByDay(followUp, unit)];
    const taken = takenOn(unit);
    return days.flatMap(([onDay, sights], at): readonly Contradiction[] => {
      const [first, ...others] = sights;
      if (first === undefined) return [];
      const differ = others.some(({ found }) => !isSame(first.found, found));
      const oneDay: readonly Contradiction[] = differ ? [{ kind: 'same-day', unit, sights }] : [];
      const [dayBefore, before = []] = days[at - 1] ?? [];
      const isPast =
        taken !== null && dayBefore !== undefined && dayBefore <= taken && taken <= onDay;
      const isAfterGone = !isPast && isGoneAt(before) && isBack(asOne(sights));
      return isAfterGone
        ? [...oneDay, { kind: 'after-gone', unit, sights: [...before, ...sights] }]
        : oneDay;
    });
  });
}

const asOne = (sights: readonly Sight[]): UnitFound =>
  sights.map(({ found }) => found).reduce(asOneDay);

const isGoneAt = (sights: readonly Sight[]): boolean => sights.length > 0 && isGone(asOne(sights));
