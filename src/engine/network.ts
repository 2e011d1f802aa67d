/**
 * The case as a simple temporal network (Dechter, Meiri & Pearl, Artificial Intelligence 49:61-95,
 * 1991): two moments for each step on each subject; bounds from dwells, order, windows and the
 * pace of the hands. From it comes the latest instant at which each pending moment keeps every
 * window that can still be kept. Times are places on the case axis, in ms; the late side (hi) is
 * used throughout, so slack is never flattered by a disagreement of clocks.
 */
import { present } from '../base/assert.ts';
import { compileNetwork, type Network } from '../temporal/compile-network.ts';
import type { Constraint } from '../temporal/constraint.ts';
import { type Solution, solveFixed } from '../temporal/solve.ts';
import { edgeInstant } from './edge-instant.ts';
import { type Instance, type Layout, surfacePlans } from './layout.ts';
import type { CaseInstant, CaseState } from './types.ts';
import { plannedMaxMs } from './window-bounds.ts';

export interface CaseNetwork {
  readonly network: Network;
  /** Index of an instance's start moment; its end is the next one. */
  readonly startOf: ReadonlyMap<string, number>;
}

const momentId = (key: string, edge: 'start' | 'end'): string => `${key}/${edge}`;

/** Shortest time one instance takes, and the longest it may take by its own bounds. */
function lengthOf(layout: Layout, instance: Instance): { minMs: number; maxMs?: number } {
  const { action, pace, onlyIf, optional } = instance.step;
  if (optional || (onlyIf?.length ?? 0) > 0) return { minMs: 0 };
  switch (action.kind) {
    case 'dwell': {
      const minMs = action.minMs?.value ?? action.targetMs.value;
      return action.maxMs ? { minMs, maxMs: action.maxMs.value } : { minMs };
    }
    case 'expose': {
      const plans = surfacePlans(layout, instance);
      return { minMs: plans.reduce((ms, p) => ms + p.setMs * p.positions, 0) };
    }
    default:
      return { minMs: pace.medianMs.value };
  }
}

/** The hands move from subject to subject: the next one is not begun before this much later. */
function handsMs(layout: Layout, instance: Instance): number {
  const { step } = instance;
  if (step.together) return 0;
  if (step.action.kind === 'dwell') return step.hands?.applyMs.value ?? 0;
  if (step.action.kind === 'expose') return surfacePlans(layout, instance)[0]?.setMs ?? 0;
  return step.pace.medianMs.value;
}

function constraintsOf(layout: Layout): Constraint[] {
  const own = layout.instances.map((instance) => ({
    from: momentId(instance.key, 'start'),
    to: momentId(instance.key, 'end'),
    ...lengthOf(layout, instance),
  }));
  const order = layout.instances.flatMap((instance) =>
    instance.needs.map((need) => ({
      from: momentId(need.key, need.edge),
      to: momentId(instance.key, 'start'),
      minMs: 0,
    })),
  );
  const hands = [...layout.byStep.values()].flatMap((list) =>
    list.slice(1).map((instance, i) => {
      const before = present(list[i], 'instance before');
      return {
        from: momentId(before.key, 'start'),
        to: momentId(instance.key, 'start'),
        minMs: handsMs(layout, before),
      };
    }),
  );
  const windows = layout.windows.map(({ window, from, to }) => {
    const maxMs = plannedMaxMs(window, layout.plan);
    return {
      from: momentId(from, window.from.edge),
      to: momentId(to, window.to.edge),
      ...(window.minMs ? { minMs: window.minMs.value } : {}),
      ...(maxMs === undefined ? {} : { maxMs }),
    };
  });
  return [...own, ...order, ...hands.filter((h) => h.minMs > 0), ...windows];
}

const known = new WeakMap<Layout, CaseNetwork>();

/** The compiled network of a layout; the same object for the same layout. */
export function networkOf(layout: Layout): CaseNetwork {
  const hit = known.get(layout);
  if (hit) return hit;
  const nodes = layout.instances.flatMap((i) => [momentId(i.key, 'start'), momentId(i.key, 'end')]);
  const made: CaseNetwork = {
    network: compileNetwork({ nodes, edges: constraintsOf(layout) }),
    startOf: new Map(layout.instances.map((instance, i) => [instance.key, 2 * i])),
  };
  known.set(layout, made);
  return made;
}

/** Where each moment that has happened lies; NaN for the rest. Skipped steps take no time. */
function fixedMoments(state: CaseState, layout: Layout): Float64Array {
  const fixed = new Float64Array(layout.instances.length * 2).fill(Number.NaN);
  layout.instances.forEach((instance, i) => {
    const run = state.runs[instance.key];
    if (!run) return;
    const skippedAt = run.status === 'skipped' ? run.endedAt : null;
    const startedAt = skippedAt ?? edgeInstant(run, 'start');
    const endedAt = skippedAt ?? edgeInstant(run, 'end');
    if (startedAt) fixed[2 * i] = startedAt.hiMs;
    if (endedAt) fixed[2 * i + 1] = endedAt.hiMs;
  });
  return fixed;
}

const fixedKnown = new WeakMap<CaseState, Float64Array>();

/** Solves the network of a case at one instant. Windows that are broken already are given up. */
export function solveCase(state: CaseState, layout: Layout, now: CaseInstant): Solution {
  let fixedAtMs = fixedKnown.get(state);
  if (!fixedAtMs) {
    fixedAtMs = fixedMoments(state, layout);
    fixedKnown.set(state, fixedAtMs);
  }
  const { network } = networkOf(layout);
  return solveFixed({ network, fixedAtMs, nowMs: now.hiMs, onBroken: 'relax' });
}

/** Latest place of one moment of one instance that keeps what can be kept; Infinity if free. */
export function latestOf(
  solution: Solution,
  layout: Layout,
  moment: { readonly key: string; readonly edge: 'start' | 'end' },
): number {
  const start = present(networkOf(layout).startOf.get(moment.key), moment.key);
  return present(solution.latestMs[moment.edge === 'start' ? start : start + 1], moment.key);
}
