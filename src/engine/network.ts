/**
 * The case as a simple temporal network (Dechter, Meiri & Pearl, Artificial Intelligence 49:61-95,
 * 1991): the moments and bounds of `case-bounds.ts` at the pace of the protocol, windows as short as
 * sample beads have made them. From it comes the latest instant at which each pending moment keeps
 * every window that can still be kept. Times are places on the case axis, in ms; the late side (hi)
 * is used throughout, so slack is never flattered by a disagreement of clocks.
 */
import { isEmpty } from '../base/is-empty.ts';
import { compileNetwork, type Network } from '../temporal/compile-network.ts';
import type { Constraint } from '../temporal/constraint.ts';
import { areAllKept, latestOfAllKept } from '../temporal/latest.ts';
import { type Solution, solveFixed } from '../temporal/solve.ts';
import { finiteEarlyMs, finiteHiMs } from './axis.ts';
import { type CaseBound, caseBounds, type Moment, usualPaceMs } from './case-bounds.ts';
import { edgeInstant } from './edge-instant.ts';
import type { Layout } from './layout.ts';
import type { CaseInstant, CaseState } from './types.ts';
import { windowMaxMs } from './window-bounds.ts';

const momentId = ({ key, edge }: Moment): string => `${key}/${edge}`;

/** A network of all moments of a case; its edges are these bounds, in their order. */
export function compileBounds(layout: Layout, bounds: readonly CaseBound[]): Network {
  const nodes = layout.instances.flatMap(({ key }) => [
    momentId({ key, edge: 'start' }),
    momentId({ key, edge: 'end' }),
  ]);
  const edges = bounds.map(
    ({ from, to, minMs, maxMs }): Constraint => ({
      from: momentId(from),
      to: momentId(to),
      ...(minMs === undefined ? {} : { minMs }),
      ...(maxMs === undefined ? {} : { maxMs }),
    }),
  );
  return compileNetwork({ nodes, edges });
}

/** What sample beads have made of the windows; the same text for the same maxima. */
function narrowing(state: CaseState, layout: Layout): string {
  // Few cases have any, and this is asked at every picture.
  if (isEmpty(state.beads)) return '';
  return layout.windows.map((pair) => windowMaxMs(state, pair) ?? '').join(' ');
}

const known = new WeakMap<Layout, { readonly narrowed: string; readonly network: Network }>();

/** The network of a case; the same object until its layout or one of its maxima changes. */
function networkOf(state: CaseState, layout: Layout): Network {
  const narrowed = narrowing(state, layout);
  const hit = known.get(layout);
  if (hit?.narrowed === narrowed) return hit.network;
  const bounds = caseBounds({
    layout,
    paceMs: usualPaceMs,
    windowMaxMs: (pair) => windowMaxMs(state, pair),
  });
  const network = compileBounds(layout, bounds);
  known.set(layout, { narrowed, network });
  return network;
}

/** Where each moment that has happened lies; NaN for the rest. Skipped steps take no time. */
function fixedMoments(state: CaseState, layout: Layout): Float64Array {
  const { instances } = layout;
  const fixed = new Float64Array(instances.length * 2);
  for (let i = 0; i < instances.length; i += 1) {
    const run = state.runs[instances[i]?.key ?? ''];
    const skippedAt = run?.status === 'skipped' ? run.endedAt : null;
    const startedAt = skippedAt ?? edgeInstant(run, 'start');
    const endedAt = skippedAt ?? edgeInstant(run, 'end');
    fixed[2 * i] = startedAt ? finiteEarlyMs(startedAt) : Number.NaN;
    fixed[2 * i + 1] = endedAt ? finiteEarlyMs(endedAt) : Number.NaN;
  }
  return fixed;
}

/** What stays the same of a state while only time passes. */
interface Settled {
  readonly fixedAtMs: Float64Array;
  /** The latest moments while every bound can still be kept, once somebody has asked for them. */
  kept: { readonly network: Network; readonly latestMs: Float64Array } | null;
}

const settledKnown = new WeakMap<CaseState, Settled>();

function settledOf(state: CaseState, layout: Layout): Settled {
  const hit = settledKnown.get(state);
  if (hit) return hit;
  const made: Settled = { fixedAtMs: fixedMoments(state, layout), kept: null };
  settledKnown.set(state, made);
  return made;
}

/** Solves the network of a case at one instant. Windows that are broken already are given up. */
export function solveCase(state: CaseState, layout: Layout, now: CaseInstant): Solution {
  const { fixedAtMs } = settledOf(state, layout);
  const network = networkOf(state, layout);
  return solveFixed({ network, fixedAtMs, nowMs: finiteHiMs(now), onBroken: 'relax' });
}

/**
 * Latest place of every moment that keeps what can be kept; Infinity if free. The start of instance i
 * stands at 2i, its end after it.
 */
export function latestMoments(state: CaseState, layout: Layout, now: CaseInstant): Float64Array {
  const settled = settledOf(state, layout);
  const { fixedAtMs, kept } = settled;
  const network = networkOf(state, layout);
  if (!areAllKept(network, fixedAtMs, finiteHiMs(now))) {
    return solveCase(state, layout, now).latestMs;
  }
  if (kept?.network === network) return kept.latestMs;
  const latestMs = latestOfAllKept(network, fixedAtMs);
  settled.kept = { network, latestMs };
  return latestMs;
}
