/**
 * Characters that come one after another as a scanner types them. Its last key is Enter, which is a key
 * that presses: what belongs to such a run must never press. Input: keys, with the ms at which they came.
 */

interface RunKey {
  readonly key: string;
  readonly repeat: boolean;
  readonly timeStamp: number;
}

/** In a field people type too: there only what is longer and faster than typing is a scanner. */
const IN_FIELD = { lengthMin: 6, gapMsMax: 100 };
/** Nobody types where no field is; the slowest scanners need some tenths of a second (common practice, no source). */
const OUTSIDE = { lengthMin: 3, gapMsMax: 300 };
/** A pedal that bounces sends one character many times, two pedals send two. */
const DIFFERENT_MIN = 3;
/** The end of a run comes about as fast as its keys. */
const END_FACTOR = 2.5;

export class TypedRun {
  #keys: readonly string[] = [];
  #lastMs = Number.NEGATIVE_INFINITY;
  #longestMs = 0;

  /** Whether this key goes on with what a scanner types, or ends it. */
  takes({ key, repeat, timeStamp }: RunKey, o: { readonly isInField: boolean }): boolean {
    const isEnd = key === 'Enter';
    if (repeat || (!isEnd && [...key].length !== 1)) return false;
    const { lengthMin, gapMsMax } = o.isInField ? IN_FIELD : OUTSIDE;
    const gapMs = timeStamp - this.#lastMs;
    const endMsMax = Math.min(gapMsMax, Math.max(gapMsMax / 2, END_FACTOR * this.#longestMs));
    const isLong = this.#keys.length >= lengthMin && new Set(this.#keys).size >= DIFFERENT_MIN;
    const isRun = isLong && this.#longestMs <= gapMsMax;
    const goesOn = isRun && gapMs <= (isEnd ? endMsMax : gapMsMax);
    if (isEnd || gapMs > OUTSIDE.gapMsMax) this.#keys = [];
    this.#longestMs = this.#keys.length === 0 ? 0 : Math.max(this.#longestMs, gapMs);
    if (!isEnd) this.#keys = [...this.#keys, key];
    this.#lastMs = timeStamp;
    return goesOn;
  }
}
