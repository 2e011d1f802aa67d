/**
 * Protocol revisions follow one another, so their follow-up differs: they are compared only over the
 * years that both have. Lives are cut at the shortest of the longest possible follow-ups, and begin at
 * the latest of the earliest entries. No source: a choice.
 */
import type { Followed } from './follow-up-length.ts';
import { placesBy } from './group-risk.ts';
import { isObserved } from './risk-table.ts';

/** The stretch in days since the bonding that all groups have, and the lives in it. */
export interface CommonYears {
  readonly fromDay: number;
  readonly untilDay: number;
  readonly lives: readonly Followed[];
  readonly groups: readonly string[];
}

export function overCommonYears(o: {
  readonly lives: readonly Followed[];
  readonly groups: readonly string[];
}): CommonYears {
  const parts = [...placesBy(o.groups).values()].map((places) =>
    places.flatMap((at) => o.lives[at] ?? []),
  );
  const fromDay = Math.max(
    0,
    ...parts.map((lives) => Math.min(...lives.map((life) => life.entry))),
  );
  const untilDay = Math.min(
    ...parts.map((lives) => Math.max(...lives.map((life) => life.possible))),
  );
  const kept = o.lives.flatMap((life, at) => {
    const cut = cutTo(life, fromDay, untilDay);
    return isObserved(cut) ? [{ life: cut, group: o.groups[at] ?? '' }] : [];
  });
  return {
    fromDay,
    untilDay,
    lives: kept.map(({ life }) => life),
    groups: kept.map(({ group }) => group),
  };
}

function cutTo(life: Followed, fromDay: number, untilDay: number): Followed {
  const isCut = life.time > untilDay;
  return {
    ...life,
    entry: Math.max(life.entry, fromDay),
    time: isCut ? untilDay : life.time,
    event: isCut ? 'none' : life.event,
    possible: Math.min(life.possible, untilDay),
  };
}
