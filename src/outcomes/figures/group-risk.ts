/** Who is at risk in which group on each day with a failure: what all log-rank tests are made of. */
import { present } from '../../base/assert.ts';
import type { Timed } from '../life-types.ts';
import { isObserved, type RiskRow, riskTable } from './risk-table.ts';

/** A day with a failure in one stratum. Arrays are by group. */
export interface GroupRow {
  readonly day: number;
  readonly atRisk: number;
  readonly failures: number;
  readonly atRiskIn: readonly number[];
  readonly failuresIn: readonly number[];
}

const ascending = (a: number, b: number): number => a - b;

/** Lives under observation on each of `days`, which ascend. */
function atRiskOn(lives: readonly Timed[], days: readonly number[]): readonly number[] {
  const observed = lives.filter(isObserved);
  const entries = observed.map((life) => (life.entry === 0 ? -1 : life.entry)).sort(ascending);
  const times = observed.map((life) => life.time).sort(ascending);
  let entered = 0;
  let left = 0;
  return days.map((day) => {
    while ((entries[entered] ?? day) < day) entered += 1;
    while ((times[left] ?? day) < day) left += 1;
    return entered - left;
  });
}

/** `groupOf` gives 0 to `groups` - 1 for each life. Competing events end the observation. */
export function groupRows(o: {
  readonly lives: readonly Timed[];
  readonly groupOf: readonly number[];
  readonly groups: number;
}): readonly GroupRow[] {
  const rows: readonly RiskRow[] = riskTable(o.lives).filter((row) => row.failures > 0);
  const days = rows.map((row) => row.day);
  const parts = Array.from({ length: o.groups }, (_, group) => {
    const lives = o.lives.filter((_life, at) => o.groupOf[at] === group);
    const failures = new Map<number, number>();
    for (const life of lives) {
      if (life.event !== 'event' || !isObserved(life)) continue;
      failures.set(life.time, (failures.get(life.time) ?? 0) + 1);
    }
    return { atRisk: atRiskOn(lives, days), failures };
  });
  return rows.map(({ day, atRisk, failures }, at) => ({
    day,
    atRisk,
    failures,
    atRiskIn: parts.map((part) => present(part.atRisk[at], 'the number at risk')),
    failuresIn: parts.map((part) => part.failures.get(day) ?? 0),
  }));
}

/** Places in `of`, by the value there: strata, groups, patients. Values in code-unit order. */
export function placesBy<K extends string>(of: readonly K[]): ReadonlyMap<K, readonly number[]> {
  const places = new Map<K, number[]>();
  of.forEach((key, at) => {
    const known = places.get(key);
    if (known === undefined) places.set(key, [at]);
    else known.push(at);
  });
  return new Map([...places].sort(([a], [b]) => (a < b ? -1 : 1)));
}
