/**
 * Working time of a mix in this room: the product's own time, shortened for a warm room (never
 * lengthened for a cold one) and for the light that falls on it. Times in ms, room in C and lx.
 */
import { MS_PER_SECOND } from '../base/units.ts';
import {
  ambientLight,
  ambientLightCalc,
  ISO_4049_PASS_LUX,
  ISO_4049_PASS_SECONDS,
} from '../calc/ambient-light.ts';
import { Q10_ASSUMED, workingSeconds, workingTimeCalc } from '../calc/temperature.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { Protocol, Window } from '../protocol/types.ts';
import {
  type DecidedBy,
  type Explained,
  type Explanation,
  explain,
  sourceOf,
} from './explanation.ts';

/** Working times are stated for this room temperature (ISO 4049 tests at 23 C; from memory). */
const REFERENCE_ROOM_C = 23;

/** Windows that run from a mix and protect its working time. */
export function mixWindows(protocol: Protocol): readonly Window[] {
  const perMix = new Set(protocol.steps.flatMap((s) => (s.per === 'mix' ? [s.id] : [])));
  return protocol.windows.filter(
    (w) => w.protects === 'working' && w.maxMs !== undefined && perMix.has(w.from.step),
  );
}

interface Candidate {
  readonly seconds: number;
  readonly decidedBy: DecidedBy;
  readonly why: readonly Explanation[];
}

function byTemperature(window: Window, referenceSeconds: number, roomC: number): Candidate {
  const input = {
    referenceSeconds,
    referenceC: REFERENCE_ROOM_C,
    actualC: roomC,
    q10: window.q10?.value ?? Q10_ASSUMED,
  };
  const seconds = workingSeconds(input);
  const shorter = seconds < referenceSeconds;
  const decidedBy = shorter ? 'room-temperature' : 'product';
  const why = explain({
    id: `window/${window.id}/temperature`,
    value: seconds,
    unit: 's',
    formula: 'working-time-in-this-room',
    inputs: input,
    source: sourceOf(workingTimeCalc, input),
    calc: { name: workingTimeCalc.name, input },
    decidedBy,
  });
  return { seconds, decidedBy, why: [why] };
}

function byLamp(window: Window, lux: number): Candidate | null {
  const input = {
    passLux: ISO_4049_PASS_LUX,
    passSeconds: ISO_4049_PASS_SECONDS,
    exposures: [{ lux, seconds: 0 }],
  };
  const seconds = ambientLight(input).secondsLeftAtLastLux;
  if (seconds === null) return null;
  const why = explain({
    id: `window/${window.id}/lamp`,
    value: seconds,
    unit: 's',
    formula: 'lamp-light-allowance',
    inputs: { lux, passLux: ISO_4049_PASS_LUX, passSeconds: ISO_4049_PASS_SECONDS },
    source: sourceOf(ambientLightCalc, input),
    calc: { name: ambientLightCalc.name, input },
    decidedBy: 'lamp-light',
  });
  return { seconds, decidedBy: 'lamp-light', why: [why] };
}

function limitOf(window: Window, room: CaseFile['room']): Explained<number> {
  const productMs = window.maxMs?.value ?? 0;
  const productSeconds = productMs / MS_PER_SECOND;
  const warm = byTemperature(window, productSeconds, room.temperatureC);
  const lamp = room.lux === undefined ? null : byLamp(window, room.lux);
  const decided = lamp !== null && lamp.seconds < warm.seconds ? lamp : warm;
  const summary = explain({
    id: `window/${window.id}`,
    value: decided.seconds,
    unit: 's',
    formula: 'shortest-working-time',
    inputs: {
      productSeconds,
      roomSeconds: warm.seconds,
      ...(lamp === null ? {} : { lampSeconds: lamp.seconds }),
    },
    source: 'the shortest of the product, the room and the lamp',
    calc: null,
    decidedBy: decided.decidedBy,
  });
  const value = Math.floor(Math.min(productMs, decided.seconds * MS_PER_SECOND));
  return { value, why: [summary, ...warm.why, ...(lamp?.why ?? [])] };
}

/** The maximum in ms of each window of a mix in this room, by window id. */
export function workingLimits(
  spec: CaseFile,
  protocol: Protocol,
): Explained<Readonly<Record<string, number>>> {
  const limits = mixWindows(protocol).map((w) => [w.id, limitOf(w, spec.room)] as const);
  return {
    value: Object.fromEntries(limits.map(([id, limit]) => [id, limit.value])),
    why: limits.flatMap(([, limit]) => limit.why),
  };
}
