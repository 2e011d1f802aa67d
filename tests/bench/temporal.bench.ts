/**
 * The temporal network at 10, 100 and 1,000 moments with five bounds each: a case in progress,
 * half of it fixed, the rest pending behind work that takes time and windows that must be kept.
 * A plain Floyd-Warshall on the same network in the same run is the measure.
 */
import { pathToFileURL } from 'node:url';
import { compileNetwork } from '../../src/temporal/compile-network.ts';
import type { Constraint } from '../../src/temporal/constraint.ts';
import { minimalNetwork } from '../../src/temporal/minimal-network.ts';
import { type OnBroken, solve } from '../../src/temporal/solve.ts';

interface Measured {
  readonly name: string;
  readonly unit: 'ms' | 'times';
  readonly p50: number;
  readonly p95: number;
  readonly n: number;
}

const BOUNDS_PER_MOMENT = 5;
/** How far ahead of a moment a bound reaches. */
const REACH = 12;

/** A linear congruential generator (Numerical Recipes constants), so that every run is alike. */
function dice(seed: number): (below: number) => number {
  let state = seed >>> 0;
  return (below) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

/** Moments `stepMs` apart or so, bounds around that schedule; `spread` sets how far they reach. */
function workload(count: number, reach: number) {
  const roll = dice(count);
  const times: number[] = [];
  let atMs = 0;
  for (let index = 0; index < count; index += 1) {
    atMs += 1000 + roll(9000);
    times.push(atMs);
  }
  const nodes = times.map((_, index) => `moment-${index}`);
  const edges: Constraint[] = [];
  for (let from = 0; from < count; from += 1) {
    for (let k = 0; k < BOUNDS_PER_MOMENT; k += 1) {
      const to = Math.min(count - 1, from + 1 + roll(reach));
      if (to === from) continue;
      const gapMs = (times[to] ?? 0) - (times[from] ?? 0);
      const minMs = Math.floor((gapMs * (50 + roll(50))) / 100);
      const maxMs = gapMs + roll(30_000);
      const ids = { from: `moment-${from}`, to: `moment-${to}` };
      // Two of five are windows with an end; the others only say how long things take.
      edges.push(k < 2 ? { ...ids, minMs, maxMs } : { ...ids, minMs });
    }
  }
  return { nodes, times, edges };
}

function percentiles(name: string, samplesMs: number[]): Measured {
  const sorted = [...samplesMs].sort((a, b) => a - b);
  const at = (share: number): number =>
    sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;
  return { name, unit: 'ms', p50: at(0.5), p95: at(0.95), n: sorted.length };
}

function measure(name: string, times: number, work: (round: number) => unknown): Measured {
  for (let warm = 0; warm < (times < 5 ? 1 : 30); warm += 1) work(warm);
  const samplesMs: number[] = [];
  for (let round = 0; round < times; round += 1) {
    const startMs = performance.now();
    work(round);
    samplesMs.push(performance.now() - startMs);
  }
  return percentiles(name, samplesMs);
}

function plainFloydWarshall(nodes: readonly string[], edges: readonly Constraint[]): Float64Array {
  const n = nodes.length;
  const place = new Map(nodes.map((id, index) => [id, index]));
  const d = new Float64Array(n * n).fill(Infinity);
  const lower = (cell: number, to: number): void => {
    if (to < (d[cell] ?? Number.NaN)) d[cell] = to;
  };
  for (let i = 0; i < n; i += 1) d[i * n + i] = 0;
  for (const { from, to, minMs, maxMs } of edges) {
    const f = place.get(from) ?? 0;
    const t = place.get(to) ?? 0;
    if (maxMs !== undefined) lower(f * n + t, maxMs);
    if (minMs !== undefined) lower(t * n + f, -minMs);
  }
  for (let k = 0; k < n; k += 1) {
    for (let i = 0; i < n; i += 1) {
      const ik = d[i * n + k] ?? Infinity;
      if (ik === Infinity) continue;
      for (let j = 0; j < n; j += 1) lower(i * n + j, ik + (d[k * n + j] ?? Infinity));
    }
  }
  return d;
}

function benchUpdates(count: number, label: string, reach: number): Measured[] {
  const { nodes, times, edges } = workload(count, reach);
  const network = compileNetwork({ nodes, edges });
  const half = Math.floor(count / 2);
  const fixed = new Map(nodes.slice(0, half).map((id, index) => [id, times[index] ?? 0]));
  const nowMs = times[half - 1] ?? 0;
  const base = { network, fixed, onBroken: 'relax' as OnBroken };
  const solution = solve({ ...base, nowMs });
  if (solution.broken.length > 0) throw new Error('the workload should be kept');
  // After a sleep of ten minutes, many windows are over or out of reach.
  const lateMs = nowMs + 600_000;
  const late = solve({ ...base, nowMs: lateMs });
  const title = (what: string): string => `temporal ${label}${count}: ${what}`;
  const rounds = count >= 1000 ? 200 : 500;
  return [
    measure(title('compile'), rounds / 4, () => compileNetwork({ nodes, edges })),
    measure(title('solve, half fixed'), rounds, () => solve({ ...base, nowMs })),
    measure(title('solve, nothing fixed'), rounds, () =>
      solve({ ...base, fixed: new Map(), nowMs: 0 }),
    ),
    measure(title(`solve, ${late.conflicts.length} bounds broken`), rounds, () =>
      solve({ ...base, nowMs: lateMs }),
    ),
  ];
}

function benchAllPairs(count: number): Measured[] {
  const { nodes, edges } = workload(count, REACH);
  const rounds = count >= 1000 ? 3 : count >= 100 ? 40 : 500;
  const title = (what: string): string => `temporal ${count}: ${what}`;
  const ours = measure(title('minimal network'), rounds, () => minimalNetwork(edges));
  const plain = measure(title('plain Floyd-Warshall'), rounds, () =>
    plainFloydWarshall(nodes, edges),
  );
  const base = { network: compileNetwork({ nodes, edges }), fixed: new Map([['moment-0', 0]]) };
  const one = measure(title('solve from one moment'), 200, () =>
    solve({ ...base, nowMs: 0, onBroken: 'relax' }),
  );
  const ratio = (name: string, against: Measured): Measured => ({
    name: title(name),
    unit: 'times',
    p50: plain.p50 / against.p50,
    p95: plain.p95 / against.p95,
    n: rounds,
  });
  return [
    ours,
    plain,
    one,
    ratio('Floyd-Warshall takes this many minimal networks', ours),
    ratio('Floyd-Warshall takes this many solves', one),
  ];
}

/** Runs all of it, a few seconds. */
export default async function temporalBench(): Promise<Measured[]> {
  return [10, 100, 1000].flatMap((count) => [
    ...benchUpdates(count, '', REACH),
    ...benchUpdates(count, 'far-reaching ', count),
    ...benchAllPairs(count),
  ]);
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  for (const row of await temporalBench()) console.log(JSON.stringify(row));
}
