/**
 * Numbers that parse and that hardly anybody means: a slipped unit, a zero too many. Far wider than the
 * ranges of `ranges.ts`, which are about good practice; outside of these it is told to the clinic lead,
 * and nothing is kept away.
 */
import { caution, type Finding } from './finding.ts';
import type { QuotedUnit } from './quoted-numbers.ts';
import type { Protocol } from './types.ts';
import { basesOf } from './walk-figures.ts';

interface Bounds {
  readonly unit: QuotedUnit;
  readonly least: number;
  readonly most: number;
}

const SECOND = 1_000;
const MINUTE = 60 * SECOND;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

const time = (least: number, most: number): Bounds => ({ unit: 'ms', least, most });
const count = (most: number): Bounds => ({ unit: 'count', least: 1, most });

/**
 * By the place of a number. Common practice, no source: the longest time in the chair that ships is ten
 * minutes, the largest radiant exposure 16 J/cm², the longest wait a day.
 */
const PLAUSIBLE: readonly (readonly [place: RegExp, bounds: Bounds])[] = [
  [/^protocol\.steps\[\d+\]\.action\..*(?:min|target|max)Ms$/, time(SECOND, HOUR)],
  [/\.action\.count$/, count(20)],
  [/\.action\.passesMax$/, count(30)],
  [/\.action\.gapMsMin$/, time(SECOND, 10 * MINUTE)],
  [/\.action\.perSurfaceMs$/, time(SECOND, 2 * MINUTE)],
  [/\.action\.doseJPerCm2$/, { unit: 'J/cm2', least: 0.5, most: 100 }],
  [/\.action\.restMs$/, time(SECOND, 10 * MINUTE)],
  [/\.pressed\./, time(1, 5 * MINUTE)],
  [/\.hands\./, time(1, 10 * MINUTE)],
  [/\.pace\./, time(1, 2 * HOUR)],
  [/^protocol\.windows\[\d+\]\.(?:min|target|max)Ms$/, time(5 * SECOND, 14 * DAY)],
];

/** A caution for every number that is far outside of what its kind can be. */
export function checkPlausible(protocol: Protocol): readonly Finding[] {
  return basesOf(protocol).flatMap(({ place, figure }): readonly Finding[] => {
    const bounds = PLAUSIBLE.find(([pattern]) => pattern.test(place))?.[1];
    if (figure === null || bounds === undefined) return [];
    const { value } = figure;
    const { unit, least, most } = bounds;
    if (value >= least && value <= most) return [];
    return [caution('hardly-meant', place, { value, unit, least, most })];
  });
}
