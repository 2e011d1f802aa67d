/** A case as it stands when it is opened, for plans that are made before there is one. */
import { monoMs, wallMs } from '../base/units.ts';
import { extend, recordPress } from '../engine/log.ts';
import type { CaseState, RunPlan } from '../engine/types.ts';
import type { CaseFile, Protocol } from '../protocol/types.ts';

/** The state of a case that nobody has pressed anything in, at place 0 of its axis. */
export function openingState(o: {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly plan: RunPlan;
}): CaseState {
  const stamp = { wallMs: wallMs(0), monoMs: monoMs(0), runId: 'plan' };
  const opened = {
    type: 'case-opened',
    mode: 'rehearsal',
    protocolHash: '',
    approval: null,
    ...o,
  } as const;
  return extend(null, recordPress({ log: null, events: [opened], stamp, by: null })).state;
}
