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
  /** Longest pause between two keys of one label. */
  readonly gapMsMax?: number;
  readonly lengthMin?: number;
}

/** `burst`: keys that look like a scanner so far. `label`: one has come to its end. */
type WedgeOutcome =
  | { readonly kind: 'none' }
  | { readonly kind: 'burst' }
  | { readonly kind: 'label'; readonly text: string };

/** Half of what a very fast typist needs for a key (common practice, no source). */
const GAP_MS_MAX = 50;
const LENGTH_MIN = 6;
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

export class Wedge {
  readonly #options: WedgeOptions;
  #text = '';
  #lastAtMs = Number.NEGATIVE_INFINITY;

  constructor(options: WedgeOptions = {}) {
    this.#options = options;
  }

  /** Takes the next key of the page. */
  take(typed: TypedKey): WedgeOutcome {
    const { gapMsMax = GAP_MS_MAX, lengthMin = LENGTH_MIN, replacement } = this.#options;
    if (typed.isRepeat) return NONE;
    const isSlow = typed.atMs - this.#lastAtMs > gapMsMax;
    if (isSlow) this.#text = '';
    if (typed.key === 'Enter' || typed.key === 'Tab') {
      const text = this.#text;
      this.#text = '';
      if (isSlow || text.length < lengthMin) return NONE;
      return { kind: 'label', text: withSeparators(text, replacement) };
    }
    const character = characterOf(typed);
    if (character === null) {
      // Shift and its like come between the keys of one label.
      if (!isSlow) this.#lastAtMs = typed.atMs;
      return NONE;
    }
    this.#text += character;
    this.#lastAtMs = typed.atMs;
    return this.#text.length < 2 ? NONE : { kind: 'burst' };
  }
}
