/**
 * A drill: a rehearsal in which something goes wrong at a moment that nobody expects, or nothing does.
 * Everything is drawn from the case, the protocol and the seed. Times in ms; `afterMs` counts from the
 * moment at which the subjects came into the span of their card.
 */
import type { InstanceKey } from '../engine/types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Mishap } from '../protocol/types.ts';

/** Something is seen. What it calls for is not said. */
export interface DrillCard {
  readonly id: string;
  /** `mishap` calls for a way back; a `foil` for nothing but going on; `interruption` keeps the hands away for a time. */
  readonly kind: 'mishap' | 'foil' | 'interruption';
  /** Of a mishap; null else. */
  readonly mishap: Mishap | null;
  /** Id of the protocol's way back that fits; null where none is called for. */
  readonly wayBack: string | null;
  /** Code of what is seen, for the words: `saliva-etched`, `unit-on-floor` … */
  readonly sight: string;
  readonly subjects: readonly SubjectId[];
  /** It is shown once all of these have begun (or been done) … */
  readonly from: { readonly key: InstanceKey; readonly edge: 'start' | 'end' };
  /** … and this long has passed; it is left out when the span has closed by then. */
  readonly afterMs: number;
  /** Of an interruption: how long the hands are away. */
  readonly awayMs: number | null;
}

/** What a seed draws for a case. The same seed draws the same on every machine. */
export interface DrillPlan {
  readonly seed: number;
  /** The drill begins here: a script follows up to this stage. Null: at the beginning. */
  readonly beginsAt: { readonly key: InstanceKey; readonly edge: 'start' | 'end' } | null;
  /** It ends here: the drill is over when this is reached. */
  readonly endsAt: { readonly key: InstanceKey; readonly edge: 'start' | 'end' };
  /** None to three, in the order in which they can come. */
  readonly cards: readonly DrillCard[];
}
