/** What offers are made from, and what they are before they are ranked. */
import type { Step } from '../protocol/types.ts';
import type { Instance, Layout } from './layout.ts';
import type { StatusReader } from './status.ts';
import type { CaseInstant, CaseState } from './types.ts';
import type { Offer } from './view-types.ts';

/** What one press says beside itself. */
export interface Implied {
  /** In the order in which they were done. */
  readonly steps: readonly Instance[];
  /** Whether it confirms the pass of light that is over. */
  readonly pass: boolean;
}

/** An offer before it is ranked. */
export interface Draft {
  /** What binds it is not known yet. */
  readonly offer: Offer;
  readonly instances: readonly Instance[];
  readonly step: Step;
  readonly round: number;
  readonly phase: 'begin' | 'go-on';
  /** How long the hands are busy with it. */
  readonly busyMs: number;
  /** What the same press says of earlier steps. */
  readonly implied?: Implied;
  /** After how much time it may be another offer by itself. In ms. */
  readonly turnsInMs?: readonly number[];
}

/** A case as it stands at one instant. */
export interface CaseNow {
  readonly state: CaseState;
  readonly layout: Layout;
  readonly statuses: StatusReader;
  readonly now: CaseInstant;
}
