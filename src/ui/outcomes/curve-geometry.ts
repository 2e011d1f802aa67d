/** Where the curve lies in its picture. Days on one axis, shares on the other; the picture is 1000 wide. Pure. */
import { DAYS_A_YEAR } from '../../outcomes/figures/sizes.ts';
import type { PlainCurve } from '../../outcomes/model/outcomes-types.ts';

export const WIDTH = 1000;
export const PLOT = { left: 84, right: 976, top: 16, bottom: 304 } as const;

export interface Scale {
  readonly lastDay: number;
  /** Share at the foot of the picture, a tenth. */
  readonly foot: number;
  readonly x: (day: number) => number;
  readonly y: (share: number) => number;
  readonly years: readonly number[];
  readonly shares: readonly number[];
}

/** The foot is the tenth below the lowest share: a curve near 100 % would else be a line. */
export function scaleOf(o: { readonly lastDay: number; readonly lowest: number }): Scale {
  const foot = Math.max(0, Math.floor(o.lowest * 10 - 1e-9) / 10);
  const lastDay = Math.max(o.lastDay, 1);
  const steps = Math.round((1 - foot) * 10);
  // No more than six lines across.
  const every = steps > 5 ? 2 : 1;
  const shares = Array.from({ length: steps + 1 }, (_, n) => foot + n / 10).filter(
    (_, n) => (steps - n) % every === 0,
  );
  const years = Array.from({ length: Math.floor(lastDay / DAYS_A_YEAR) + 1 }, (_, n) => n);
  return {
    lastDay,
    foot,
    x: (day) => PLOT.left + ((PLOT.right - PLOT.left) * day) / lastDay,
    y: (share) => PLOT.bottom - ((PLOT.bottom - PLOT.top) * (share - foot)) / (1 - foot),
    years,
    shares,
  };
}

export const yearX = (scale: Scale, years: number): number => scale.x(years * DAYS_A_YEAR);

const round = (n: number): string => n.toFixed(1);

/** What a line is drawn of. */
export type Line = Pick<PlainCurve, 'lastDay' | 'thinFrom' | 'steps'>;

/** A line of steps from day 0 on: level, then down. */
export function stepPath(curve: Pick<Line, 'lastDay' | 'steps'>, scale: Scale): string {
  const parts = [`M${round(scale.x(0))},${round(scale.y(1))}`];
  for (const { day, survival } of curve.steps) {
    parts.push(`H${round(scale.x(day))}`, `V${round(scale.y(survival))}`);
  }
  parts.push(`H${round(scale.x(curve.lastDay))}`);
  return parts.join(' ');
}

interface Banded {
  readonly day: number;
  readonly low: number;
  readonly high: number;
}

/** The interval as an area of steps, from the first step to the last day. */
export function bandPath(steps: readonly Banded[], scale: Scale): string {
  const first = steps[0];
  if (first === undefined) return '';
  const ends = steps.map((_, at) => steps[at + 1]?.day ?? scale.lastDay);
  const there = steps.flatMap(({ high }, at) => [
    `V${round(scale.y(high))}`,
    `H${round(scale.x(ends[at] ?? scale.lastDay))}`,
  ]);
  const back = steps
    .toReversed()
    .flatMap(({ low, day }) => [`V${round(scale.y(low))}`, `H${round(scale.x(day))}`]);
  return [
    `M${round(scale.x(first.day))},${round(scale.y(first.high))}`,
    ...there,
    ...back,
    'Z',
  ].join(' ');
}

/** The step nearest to a place across the picture. */
export function nearestStep(
  steps: readonly { readonly day: number }[],
  x: number,
  scale: Scale,
): number {
  let [nearest, least] = [0, Number.POSITIVE_INFINITY];
  steps.forEach(({ day }, at) => {
    const far = Math.abs(scale.x(day) - x);
    if (far < least) [nearest, least] = [at, far];
  });
  return nearest;
}

/** The part up to the day from which on fewer than 10 remain. */
export function firmPart({ lastDay, thinFrom, steps }: Line): Pick<Line, 'lastDay' | 'steps'> {
  if (thinFrom === null) return { lastDay, steps };
  return { lastDay: thinFrom, steps: steps.filter(({ day }) => day <= thinFrom) };
}

/** The part from there on, alone: what lies below it would show through its dots. Empty where there is none. */
export function thinPath({ lastDay, thinFrom, steps }: Line, scale: Scale): string {
  if (thinFrom === null) return '';
  const from = steps.findLast(({ day }) => day <= thinFrom)?.survival ?? 1;
  const parts = [`M${round(scale.x(thinFrom))},${round(scale.y(from))}`];
  for (const { day, survival } of steps) {
    if (day > thinFrom) parts.push(`H${round(scale.x(day))}`, `V${round(scale.y(survival))}`);
  }
  parts.push(`H${round(scale.x(lastDay))}`);
  return parts.join(' ');
}
