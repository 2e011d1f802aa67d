/**
 * Times that a curing light can be set to. Lights run fixed programmes and stop by themselves, so a
 * computed time is rounded up to one programme or to the sum of two. All times in s.
 */

/** Without a list of the lamp's own, times go up in steps of this. */
export const STEP_SECONDS = 5;
/** What one press leaves for a second one is at least this: a shorter press cannot be aimed. */
const REMAINDER_MIN_SECONDS = 3;
const ROUNDING = 1e-9;

interface Lamp {
  /** The lamp's programmes, each above 0; absent where nobody named them. */
  readonly programmesSeconds?: readonly number[] | undefined;
  /** The longest that one press may be. */
  readonly pressMaxSeconds: number;
}

/** Every time that one press can be set to, shortest first. */
function settable({ programmesSeconds, pressMaxSeconds }: Lamp): readonly number[] {
  if (programmesSeconds === undefined) {
    const count = Math.max(0, Math.floor(pressMaxSeconds / STEP_SECONDS + ROUNDING));
    return Array.from({ length: count }, (_, i) => (i + 1) * STEP_SECONDS);
  }
  return [...new Set(programmesSeconds)]
    .filter((seconds) => seconds <= pressMaxSeconds + ROUNDING)
    .toSorted((a, b) => a - b);
}

const sumOf = (presses: readonly number[]): number => presses.reduce((sum, s) => sum + s, 0);

/** Less light first; of the same light fewer presses, then the more even ones. */
function isBetter(a: readonly number[], b: readonly number[]): boolean {
  const more = sumOf(a) - sumOf(b);
  if (Math.abs(more) > ROUNDING) return more < 0;
  if (a.length !== b.length) return a.length < b.length;
  return (a[0] ?? 0) < (b[0] ?? 0);
}

/**
 * The presses with the smallest sum that reaches a time: one, or two of which the longer comes
 * first. A second press is set for 3 s or more that the first one leaves.
 * @param seconds the time to reach, above 0.
 * @returns one or two times, or null where two presses of this lamp do not reach it.
 */
export function pressesFor(seconds: number, lamp: Lamp): readonly number[] | null {
  const times = settable(lamp);
  let best: readonly number[] | null = null;
  const offer = (presses: readonly number[]): void => {
    if (sumOf(presses) + ROUNDING < seconds) return;
    if (best === null || isBetter(presses, best)) best = presses;
  };
  for (const first of times) {
    offer([first]);
    if (seconds - first + ROUNDING < REMAINDER_MIN_SECONDS) continue;
    for (const second of times) if (second <= first) offer([first, second]);
  }
  return best;
}

/**
 * As many presses as a time takes that two do not reach: the longest programme over and over, then
 * what is left; null where no programme of this lamp is as short as a press may be.
 */
export function manyPresses(seconds: number, lamp: Lamp): readonly number[] | null {
  const longest = settable(lamp).at(-1);
  if (longest === undefined) return null;
  const count = Math.floor(seconds / longest + ROUNDING);
  const left = seconds - count * longest;
  const presses = Array.from({ length: count }, () => longest);
  return left <= ROUNDING * seconds ? presses : [...presses, ...(pressesFor(left, lamp) ?? [])];
}

/** The most that two presses of this lamp give within a time; none where no programme fits. */
export function mostWithin(seconds: number, lamp: Lamp): readonly number[] {
  const times = settable(lamp).filter((each) => each <= seconds + ROUNDING);
  let best: readonly number[] = [];
  const offer = (presses: readonly number[]): void => {
    const sum = sumOf(presses);
    if (sum > seconds + ROUNDING) return;
    const more = sum - sumOf(best);
    if (more > ROUNDING || (Math.abs(more) <= ROUNDING && presses.length < best.length))
      best = presses;
  };
  for (const first of times) {
    offer([first]);
    for (const second of times) {
      if (second <= first && second >= REMAINDER_MIN_SECONDS) offer([first, second]);
    }
  }
  return best;
}
