/**
 * The plan a case is opened with: who is taken together in a round, which units share a mix, and
 * what light each surface is to receive. Computed from the case file and the protocol; people may
 * change it during the case. Times in ms unless the name says seconds.
 */
import { MS_PER_SECOND } from '../base/units.ts';
import { mixSizes } from '../calc/mixes.ts';
import { roundSizes } from '../calc/rounds.ts';
import { buildSubjects } from '../engine/subjects.ts';
import type { RunPlan, SubjectId, SurfacePlan } from '../engine/types.ts';
import type { CaseFile, Protocol, Step, Window } from '../protocol/types.ts';

/** Cuts a list into consecutive parts of the given sizes. */
function cut<T>(items: readonly T[], sizes: readonly number[]): T[][] {
  const parts: T[][] = [];
  let at = 0;
  for (const size of sizes) {
    parts.push(items.slice(at, at + size));
    at += size;
  }
  return parts;
}

/**
 * Rounds of a step that is begun and ended subject by subject. When not even one subject fits the
 * bounds at the pace of the hands, each goes alone: the breach will be recorded, never hidden.
 */
export function stepRounds(step: Step, subjects: readonly SubjectId[]): SubjectId[][] {
  const { action, hands } = step;
  if (action.kind !== 'dwell' || !hands) return [[...subjects]];
  // Without a minimum the hands come back at the target; without a maximum nothing limits a round.
  const minMs = action.minMs?.value ?? action.targetMs.value;
  const maxMs = action.maxMs?.value ?? Number.MAX_SAFE_INTEGER;
  const found = roundSizes(subjects.length, {
    applySeconds: hands.applyMs.value / MS_PER_SECOND,
    rinseSeconds: hands.rinseMs.value / MS_PER_SECOND,
    minSeconds: Math.max(minMs, Math.min(action.targetMs.value, maxMs)) / MS_PER_SECOND,
    maxSeconds: maxMs / MS_PER_SECOND,
  });
  return cut(subjects, found.ok ? found.value : subjects.map(() => 1));
}

/** The tightest working-time window that runs from a mix; null when the protocol has none. */
function workingWindow(protocol: Protocol): Window | null {
  const perMix = new Set(protocol.steps.flatMap((s) => (s.per === 'mix' ? [s.id] : [])));
  const fromMix = protocol.windows.filter(
    (w) => w.protects === 'working' && w.maxMs !== undefined && perMix.has(w.from.step),
  );
  return fromMix.reduce<Window | null>(
    (tight, w) => (tight && (tight.maxMs?.value ?? 0) <= (w.maxMs?.value ?? 0) ? tight : w),
    null,
  );
}

/** Share of the working time that is kept in reserve. A design choice, common practice. */
const RESERVE_SHARE = 0.1;

/** Time that passes per unit, and before the first one, between the two ends of the window. */
function mixPaceMs(protocol: Protocol, working: Window): { leadMs: number; perUnitMs: number } {
  const first = protocol.steps.findIndex((s) => s.id === working.from.step);
  const last = protocol.steps.findIndex((s) => s.id === working.to.step);
  const inside = protocol.steps.slice(first + 1, last + 1);
  const sum = (scope: Step['per']) =>
    inside.filter((s) => s.per === scope && !s.optional).reduce((ms, s) => ms + handsMs(s), 0);
  return { leadMs: sum('mix') + sum('case'), perUnitMs: sum('unit') + sum('tooth') };
}

function handsMs(step: Step): number {
  if (step.action.kind !== 'expose') return step.pace.medianMs.value;
  return (step.action.perSurfaceMs?.value ?? 0) * step.action.surfaces.length;
}

/** Unit ids of each mix: as few mixes as the working time allows, as even as possible. */
export function mixesOf(protocol: Protocol, order: readonly string[]): string[][] {
  if (!protocol.steps.some((s) => s.per === 'mix')) return [];
  const working = workingWindow(protocol);
  if (!working?.maxMs) return [[...order]];
  const windowMs = working.maxMs.value;
  const { leadMs, perUnitMs } = mixPaceMs(protocol, working);
  const found = mixSizes(order.length, {
    workingSeconds: windowMs / MS_PER_SECOND,
    reserveSeconds: (windowMs * RESERVE_SHARE) / MS_PER_SECOND,
    leadSeconds: leadMs / MS_PER_SECOND,
    perUnitSeconds: perUnitMs / MS_PER_SECOND,
  });
  return cut(order, found.ok ? found.value : order.map(() => 1));
}

function surfacesOf(step: Step): SurfacePlan[] {
  const { action } = step;
  if (action.kind !== 'expose') return [];
  return action.surfaces.map((surface) => ({
    surface,
    setMs: action.perSurfaceMs?.value ?? 0,
    positions: 1,
    decidedBy: 'product',
  }));
}

/** The plan for a case as its file stands. */
export function makeRunPlan(spec: CaseFile, protocol: Protocol): RunPlan {
  const order = spec.units.map((u) => u.id);
  const mixes = mixesOf(protocol, order);
  const bare: RunPlan = { order, mixes, rounds: {}, exposures: {} };
  const subjects = buildSubjects(spec, bare);
  const leading = protocol.steps.filter((s) => s.hands !== undefined);
  const exposing = protocol.steps.filter((s) => s.action.kind === 'expose');
  return {
    ...bare,
    rounds: Object.fromEntries(leading.map((s) => [s.id, stepRounds(s, subjects.order[s.per])])),
    exposures: Object.fromEntries(
      exposing.map((s) => [s.id, Object.fromEntries(order.map((u) => [u, surfacesOf(s)]))]),
    ),
  };
}
