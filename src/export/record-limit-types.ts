/** Limits as a record tells them: the windows that were opened, and what was not kept. */
import type { BreachKind, InstanceKey } from '../engine/types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Window } from '../protocol/types.ts';
import type { InstantFact, LengthFact } from './record-instant-types.ts';

/** One window between two moments of linked subjects, once the first has happened. */
export interface WindowFact {
  readonly window: string;
  readonly title: string;
  readonly protects: Window['protects'];
  readonly severity: Window['severity'];
  readonly subject: SubjectId;
  readonly teeth: readonly string[];
  readonly from: InstanceKey;
  readonly to: InstanceKey;
  readonly opened: InstantFact;
  readonly closed: InstantFact | null;
  readonly elapsed: LengthFact | null;
  readonly minMs: number | null;
  readonly maxMs: number | null;
  /** The maximum that it was judged by: room and sample bead can make it shorter. */
  readonly judgedMaxMs: number | null;
  /** Shortest possible elapsed time less the minimum; negative is outside. */
  readonly marginOverMinMs: number | null;
  /**
   * Judged maximum less the longest possible elapsed time; negative is outside. Null as well when
   * nobody knows how long it was.
   */
  readonly marginToMaxMs: number | null;
  /** Kept or broken whichever time of the interval it was; else it may be broken. */
  readonly state: 'open' | 'kept' | 'may-be-broken' | 'broken';
}

export interface BreachFact {
  readonly kind: BreachKind;
  readonly what: 'step' | 'window';
  readonly of: string;
  readonly title: string;
  readonly subject: SubjectId;
  readonly teeth: readonly string[];
  /** In ms; passes for `passes-over`. Null when it may be any length. */
  readonly by: number | null;
  /** It may have been kept: the limit lies inside what is known. */
  readonly perhaps: boolean;
  readonly at: InstantFact;
  readonly press: number;
  /** Counts from 2 where one press brought several of this kind on this subject. */
  readonly nth?: number;
}
