import type { MonoMs, WallMs } from '../base/units.ts';

/** What both clocks said at one instant, and which browser run they belong to. */
export interface Stamp {
  readonly wallMs: WallMs;
  readonly monoMs: MonoMs;
  readonly runId: string;
}
