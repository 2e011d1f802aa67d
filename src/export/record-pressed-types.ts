/** How steps were pressed, and passes of light, as a record tells them. */
import type { SubjectId } from '../protocol/subjects.ts';
import type { Surface } from '../protocol/types.ts';
import type { InstantFact, PressFact } from './record-instant-types.ts';

/** How it is known that a step was done, where no press was for it alone. */
export type PressedHow =
  /** A line of a list, confirmed together with others. */
  | { readonly kind: 'list'; readonly title: string; readonly lines: number }
  /** One press as the hands began to go over a round: its start, its end or both are told as intervals. */
  | { readonly kind: 'swept'; readonly start: boolean; readonly end: boolean }
  /** Said by the press of a later step. */
  | { readonly kind: 'implied'; readonly by: string; readonly title: string }
  /** Light that tones led through and that was confirmed afterwards. */
  | { readonly kind: 'paced'; readonly pacedMs: number };

/** One place that a pass of light led to. */
export interface PassPlaceFact {
  readonly subject: SubjectId;
  readonly teeth: readonly string[];
  readonly surface: Surface;
  readonly position: number;
  readonly setMs: number;
  /** `left-out`: somebody confirmed the pass without it. `open`: nobody confirmed it, so nothing counts. */
  readonly state: 'confirmed' | 'left-out' | 'open';
}

/** A pass of light: tones led over its places in turn. It counts only as far as somebody confirmed it. */
export interface PassFact {
  readonly step: string;
  readonly title: string;
  readonly changeMs: number;
  readonly turns: readonly {
    readonly kind: 'begun' | 'stopped' | 'resumed';
    readonly at: InstantFact;
    /** Null where the clocks were not watched: the light counts as stopped. */
    readonly pressed: PressFact | null;
  }[];
  readonly places: readonly PassPlaceFact[];
  readonly confirmed: {
    readonly pressed: PressFact;
    /** The later step whose press said so. */
    readonly impliedBy: { readonly step: string; readonly title: string } | null;
  } | null;
}

/** Whether the tones of the tablet were heard, as somebody said. */
export interface TonesFact {
  readonly heard: boolean;
  readonly pressed: PressFact;
}
