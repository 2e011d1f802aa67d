/** What keeps a patient's case from being begun, from whichever screen it is asked for. Pure. */
import { holdOf } from '../../engine/follow-on.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { Protocol } from '../../protocol/types.ts';

/** A finishing visit is to be begun while the hold since the last light runs. */
export interface HoldRuns {
  readonly code: 'hold-runs';
  readonly endsMs: number;
}

/** Null when nothing keeps it: people who were told of the hold may begin within it. */
export function whyNotBegun(o: {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly nowMs: number;
  readonly withinHold: boolean;
}): HoldRuns | null {
  const endsMs = holdOf(o.spec, o.protocol)?.endsMs ?? 0;
  return endsMs > o.nowMs && !o.withinHold ? { code: 'hold-runs', endsMs } : null;
}
