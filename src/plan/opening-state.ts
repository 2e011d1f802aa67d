/** A case as it stands when it is opened, for plans that are made before there is one. */
import { monoMs, wallMs } from '../base/units.ts';
import { extend, recordPress } from '../engine/log.ts';
import type { RunPlan } from '../engine/run-plan-types.ts';
import type { CaseState } from '../engine/types.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { Protocol } from '../protocol/types.ts';

interface Opening {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly plan: RunPlan;
}

/**
 * When the case is taken to begin, in ms since 1970: at its appointment. Without one, a case that goes
 * on from an earlier one begins when every wait since its last exposure is over; for all others the
 * wall clock says nothing.
 */
function plannedWallMs({ spec, protocol }: Opening): number {
  if (spec.scheduledFor !== undefined) return Date.parse(spec.scheduledFor);
  if (spec.follows === undefined) return 0;
  const earlier = new Set(protocol.steps.flatMap((s) => (s.earlier ? [s.id] : [])));
  const waitsMs = protocol.windows.flatMap(({ from, minMs }) =>
    earlier.has(from.step) && minMs !== undefined ? [minMs.value] : [],
  );
  return spec.follows.lastExposureWallMs + Math.max(0, ...waitsMs);
}

/**
 * The state of a case that nobody has pressed anything in, at place 0 of its axis.
 * @param beganWallMs when it was opened, where that is known; else see {@link plannedWallMs}.
 */
export function openingState(o: Opening, beganWallMs: number = plannedWallMs(o)): CaseState {
  const stamp = { wallMs: wallMs(beganWallMs), monoMs: monoMs(0), runId: 'plan' };
  const { spec, protocol, plan } = o;
  const opened = {
    type: 'case-opened',
    mode: 'rehearsal',
    protocolHash: '',
    approval: null,
    spec,
    protocol,
    plan,
  } as const;
  return extend(null, recordPress({ log: null, events: [opened], stamp, by: null })).state;
}
