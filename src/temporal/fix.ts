/**
 * Carries a solution forward by one fact, or by time alone, moving only what changes. Results
 * equal those of `solve` from scratch: where nothing pending has been given up and the fact lies
 * in its range, bounds only tighten, so the old values are a valid start (Dechter, Meiri & Pearl
 * 1991: every value in a minimal domain extends to a whole solution). Otherwise it does start
 * from scratch, because which bounds give way depends on all facts together.
 */

import { assert } from '../base/assert.ts';
import { nodeIndex } from './compile-network.ts';
import { type Bounds, lowerLatest, NO_ARC, raiseEarliest } from './propagate.ts';
import { type Solution, solveFixed } from './solve.ts';
import { indexAt, realAt } from './typed-array.ts';

/**
 * The solution once the moment called `id` is known to have been at `atMs`, seen at `nowMs`. A
 * moment that was fixed before is moved. `solution` stays as it was.
 */
export function fix(input: {
  readonly solution: Solution;
  readonly id: string;
  readonly atMs: number;
  readonly nowMs: number;
}): Solution {
  const { solution, id, atMs, nowMs } = input;
  assert(Number.isFinite(atMs), 'the fixed moment is not a finite number');
  const node = nodeIndex(solution.network, id);
  const fixedAtMs = solution.fixedAtMs.slice();
  fixedAtMs[node] = atMs;
  const isInRange =
    atMs >= realAt(solution.earliestMs, node) && atMs <= realAt(solution.latestMs, node);
  const isNew = Number.isNaN(realAt(solution.fixedAtMs, node));
  if (!isNew || !isInRange || !canCarryForward(solution, nowMs)) {
    return solveFixed({ ...solution, fixedAtMs, nowMs });
  }
  const bounds: Bounds = { ...solution, fixedAtMs };
  const latestMs = solution.latestMs.slice();
  latestMs[node] = atMs;
  lowerLatest(bounds, { latestMs, dirty: only(node, latestMs.length) });
  const start = { nowMs, raisedNode: node, earliestMs: withValue(solution.earliestMs, node, atMs) };
  const earliestMs = raiseToNow(bounds, start);
  if (earliestMs === null) return solveFixed({ ...solution, fixedAtMs, nowMs });
  return { ...solution, nowMs, fixedAtMs, earliestMs, latestMs };
}

/** The solution when nothing has happened but time: no pending moment can be before `nowMs`. */
export function advance(input: { readonly solution: Solution; readonly nowMs: number }): Solution {
  const { solution, nowMs } = input;
  if (!canCarryForward(solution, nowMs)) return solveFixed({ ...solution, nowMs });
  const earliestMs = raiseToNow(solution, {
    nowMs,
    raisedNode: null,
    earliestMs: solution.earliestMs.slice(),
  });
  // Latest moments depend on the facts alone, so they stand.
  return earliestMs === null
    ? solveFixed({ ...solution, nowMs })
    : { ...solution, nowMs, earliestMs };
}

/** Raises all pending moments to now and follows what that moves; null when a bound breaks. */
function raiseToNow(
  bounds: Bounds,
  start: {
    readonly nowMs: number;
    readonly raisedNode: number | null;
    readonly earliestMs: Float64Array;
  },
): Float64Array | null {
  const { earliestMs, nowMs } = start;
  const dirty = new Uint8Array(earliestMs.length);
  if (start.raisedNode !== null) dirty[start.raisedNode] = 1;
  for (let node = 0; node < earliestMs.length; node += 1) {
    if (!Number.isNaN(realAt(bounds.fixedAtMs, node))) continue;
    if (realAt(earliestMs, node) >= nowMs) continue;
    earliestMs[node] = nowMs;
    dirty[node] = 1;
  }
  const parentArc = new Int32Array(earliestMs.length).fill(NO_ARC);
  const onStuck = (): boolean => false;
  const isSettled = raiseEarliest(bounds, { earliestMs, parentArc, dirty, arcs: 'all', onStuck });
  return isSettled ? earliestMs : null;
}

/**
 * True when bounds can only tighten from here: time does not run back, and no bound of a pending
 * moment has been given up. Bounds between two facts have no further effect either way.
 */
function canCarryForward(solution: Solution, nowMs: number): boolean {
  const { network, fixedAtMs, isArcOff } = solution;
  if (!Number.isFinite(nowMs) || nowMs < solution.nowMs) return false;
  if (solution.onBroken === 'report' && solution.conflicts.length > 0) return false;
  for (let arc = isArcOff.indexOf(1); arc >= 0; arc = isArcOff.indexOf(1, arc + 1)) {
    if (Number.isNaN(realAt(fixedAtMs, indexAt(network.arcTail, arc)))) return false;
    if (Number.isNaN(realAt(fixedAtMs, indexAt(network.arcHead, arc)))) return false;
  }
  return true;
}

function only(node: number, count: number): Uint8Array {
  const dirty = new Uint8Array(count);
  dirty[node] = 1;
  return dirty;
}

function withValue(values: Float64Array, index: number, newValue: number): Float64Array {
  const copy = values.slice();
  copy[index] = newValue;
  return copy;
}
