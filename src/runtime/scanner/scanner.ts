/**
 * A scanner that types: it sends a label as a burst of keys and ends with Enter. People never type
 * that fast, so speed and length tell the two apart. Input: keys with the ms at which they came.
 */

/** The separator between parts of a GS1 label (ASCII 29). */
export const GROUP_SEPARATOR = '\u001d';

export interface TypedKey {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly isRepeat: boolean;
  readonly atMs: number;
}

interface WedgeOptions {
  /** What the scanner sends in place of the separator, where it cannot send ASCII 29. */
  readonly replacement?: string;
  /** Whether a text is a label that holds together: what comes slowly is taken only then, or when it comes evenly. */
  readonly isLabel?: (text: string) => boolean;
}

/**
 * `burst`: keys that look like a scanner so far. `label`: one has come to its end. `too-slow`: what
 * came was a label, or came as evenly as a machine types, but no faster than people do.
 */
type WedgeOutcome =
  | { readonly kind: 'none' }
  | { readonly kind: 'burst' }
  | { readonly kind: 'label'; readonly text: string }
  | { readonly kind: 'too-slow'; readonly gapMs: number };

/** Half of what a very fast typist needs for a key (common practice, no source). */
const FAST_GAP_MS_MAX = 50;
const FAST_LENGTH_MIN = 6;
/** What a very fast typist needs. Scanners let their delay be set up to about this (common practice, no source). */
export const SLOW_GAP_MS_MAX = 100;
const SLOW_LENGTH_MIN = 10;
/** Beyond this nobody waits for a scanner, and what comes is typing. */
const GAP_MS_MAX = 300;
/** A machine's gaps differ by the ticks of a keyboard; those of people by more than half. */
const EVEN_FACTOR = 1.25;
const EVEN_MS = 8;
/** Of a scanner that stumbles so many of the gaps are fast. */
const FAST_SHARE = 0.75;
const NONE: WedgeOutcome = { kind: 'none' };

/** What a key adds to a label; null for one that adds nothing, such as Shift. */
function characterOf({ key, ctrlKey }: TypedKey): string | null {
  // Control and ] is how a keyboard sends ASCII 29; some scanners send F8 for it.
  if ((ctrlKey && key === ']') || key === 'F8' || key === GROUP_SEPARATOR) return GROUP_SEPARATOR;
  if (ctrlKey) return null;
  return [...key].length === 1 ? key : null;
}

/** Puts the separator back where the scanner had to send something else. */
export function withSeparators(text: string, replacement: string | undefined): string {
  return replacement === undefined || replacement === ''
    ? text
    : text.replaceAll(replacement, GROUP_SEPARATOR);
}

/** Whether gaps are those of a machine. Shift and its like lengthen some, so that the middle half counts. */
function isEven(gapsMs: readonly number[]): boolean {
  const sorted = gapsMs.toSorted((a, b) => a - b);
  const at = (part: number): number => sorted[Math.floor((sorted.length - 1) * part)] ?? 0;
  const shortest = sorted[0] ?? 0;
  return at(0.75) <= EVEN_FACTOR * shortest + EVEN_MS;
}

export class Wedge {
  readonly #options: WedgeOptions;
  #text = '';
  #gapsMs: readonly number[] = [];
  #lastAtMs = Number.NEGATIVE_INFINITY;

  constructor(options: WedgeOptions = {}) {
    this.#options = options;
  }

  /** Takes the next key of the page. */
  take(typed: TypedKey): WedgeOutcome {
    if (typed.isRepeat) return NONE;
    const gapMs = typed.atMs - this.#lastAtMs;
    const isOver = gapMs > GAP_MS_MAX;
    if (isOver) this.#begin();
    if (typed.key === 'Enter' || typed.key === 'Tab') {
      const outcome = isOver ? NONE : this.#outcome([...this.#gapsMs, gapMs]);
      this.#begin();
      return outcome;
    }
    const character = characterOf(typed);
    if (character === null) {
      // Shift and its like come between the keys of one label.
      if (!isOver) this.#lastAtMs = typed.atMs;
      return NONE;
    }
    if (this.#text !== '') this.#gapsMs = [...this.#gapsMs, gapMs];
    this.#text += character;
    this.#lastAtMs = typed.atMs;
    return this.#text.length >= 2 && gapMs <= FAST_GAP_MS_MAX ? { kind: 'burst' } : NONE;
  }

  #begin(): void {
    this.#text = '';
    this.#gapsMs = [];
  }

  /** @param gapsMs after each character, the last one before the key that ends it. */
  #outcome(gapsMs: readonly number[]): WedgeOutcome {
    const { replacement, isLabel = () => false } = this.#options;
    const read = (from: number): string => withSeparators(this.#text.slice(from), replacement);
    const label = (from: number): WedgeOutcome => ({ kind: 'label', text: read(from) });
    const lastSlow = gapsMs.findLastIndex((ms) => ms > FAST_GAP_MS_MAX) + 1;
    const longestMs = Math.max(...gapsMs);
    const isLong = this.#text.length >= SLOW_LENGTH_MIN;
    const isMostlyFast =
      gapsMs.filter((ms) => ms <= SLOW_GAP_MS_MAX).length >= FAST_SHARE * gapsMs.length;
    // A scanner stumbles now and then: a label that holds together is one, and none is cut to its end.
    if (lastSlow > 0 && isLong && isMostlyFast && isLabel(read(0))) return label(0);
    if (this.#text.length - lastSlow >= FAST_LENGTH_MIN) return label(lastSlow);
    if (!isLong || !(isEven(gapsMs) || isLabel(read(0)))) return NONE;
    return longestMs <= SLOW_GAP_MS_MAX
      ? label(0)
      : { kind: 'too-slow', gapMs: Math.round(longestMs) };
  }
}
