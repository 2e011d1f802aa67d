/**
 * Judges whether the audio clock runs. Some tablets leave a context that calls itself running with a
 * clock that stands still, so its own word is not enough.
 */

/** How often to look, in ms. */
export const WATCH_EVERY_MS = 500;

/** Both clocks at one look. */
export interface AudioReading {
  readonly realMs: number;
  readonly audioMs: number;
}

/**
 * `advancing` when the audio clock went on by 0.8 to 1.2 of the real time since the last look (0.4 to
 * 0.6 s in half a second), `stalled` when it did not. `too-soon` when the looks are too close together
 * to tell, because the audio clock moves in blocks; `slept` when they are so far apart that the page
 * itself stood still.
 */
export function judgeAdvance(
  before: AudioReading,
  now: AudioReading,
): 'advancing' | 'stalled' | 'too-soon' | 'slept' {
  const realMs = now.realMs - before.realMs;
  if (realMs < WATCH_EVERY_MS / 2) return 'too-soon';
  if (realMs > 4 * WATCH_EVERY_MS) return 'slept';
  const share = (now.audioMs - before.audioMs) / realMs;
  return share >= 0.8 && share <= 1.2 ? 'advancing' : 'stalled';
}
