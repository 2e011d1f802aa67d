/**
 * How far the audio clock is ahead of real time. It moves in blocks, so one reading is off by as much as a
 * block; the middle one of several is off by far less. Times in ms.
 */

/** Readings come twice a second at least. */
const KEPT = 15;
/** A reading further from the others than any block is no jitter: the audio clock has stood still. */
const JUMP_MS = 60;

export class AudioAhead {
  #readings: number[] = [];

  /** Takes a reading, the audio clock minus real time, and answers the best that is known. */
  read(aheadMs: number): number {
    if (Math.abs(aheadMs - this.#middle(aheadMs)) > JUMP_MS) this.#readings = [];
    this.#readings = [...this.#readings, aheadMs].slice(-KEPT);
    return this.#middle(aheadMs);
  }

  #middle(fallback: number): number {
    const sorted = this.#readings.toSorted((a, b) => a - b);
    return sorted[sorted.length >> 1] ?? fallback;
  }
}
