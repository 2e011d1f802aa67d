/**
 * Control charts of the textbook ("Introduction to Statistical Quality Control", chapter 9) and their run
 * lengths by the integral equation. The clinic does not draw them: they check the arithmetic of charts and
 * of run lengths where printed numbers exist.
 */
import { present } from '../../src/base/assert.ts';

/** Upper side of the tabular CUSUM, after each value. */
export function tabularCusum(o: {
  readonly x: readonly number[];
  readonly target: number;
  readonly allowance: number;
}): readonly number[] {
  let upper = 0;
  return o.x.map((x) => {
    upper = Math.max(0, upper + x - o.target - o.allowance);
    return upper;
  });
}

/** EWMA with its upper limit, after each value. */
export function ewma(o: {
  readonly x: readonly number[];
  readonly target: number;
  readonly sigma: number;
  readonly weight: number;
  readonly width: number;
}): { readonly z: readonly number[]; readonly upper: readonly number[] } {
  let z = o.target;
  const spread = o.weight / (2 - o.weight);
  return {
    z: o.x.map((x) => {
      z += o.weight * (x - z);
      return z;
    }),
    upper: o.x.map(
      (_, at) =>
        o.target + o.width * o.sigma * Math.sqrt(spread * (1 - (1 - o.weight) ** (2 * (at + 1)))),
    ),
  };
}

/** Nodes and weights of Gauss and Legendre from `low` to `high`. */
function gauss(count: number, low: number, high: number): readonly (readonly [number, number])[] {
  return Array.from({ length: count }, (_, at): readonly [number, number] => {
    let x = Math.cos((Math.PI * (at + 0.75)) / (count + 0.5));
    let slope = 1;
    for (let step = 0; step < 8; step += 1) {
      let [before, value] = [1, x];
      for (let n = 2; n <= count; n += 1) {
        [before, value] = [value, ((2 * n - 1) * x * value - (n - 1) * before) / n];
      }
      slope = (count * (x * value - before)) / (x * x - 1);
      x -= value / slope;
    }
    const half = (high - low) / 2;
    return [low + half * (1 + x), (2 * half) / ((1 - x * x) * slope * slope)];
  });
}

/** x with a x = b, by elimination. */
function solve(a: number[][], b: number[]): readonly number[] {
  const lines = a.map((line, at) => [...line, present(b[at], 'a value')]);
  for (let column = 0; column < lines.length; column += 1) {
    const best = lines.reduce(
      (most, line, at) =>
        at >= column && Math.abs(line[column] ?? 0) > Math.abs(lines[most]?.[column] ?? 0)
          ? at
          : most,
      column,
    );
    const head = present(lines[best], 'a line');
    [lines[best], lines[column]] = [present(lines[column], 'a line'), head];
    lines.forEach((line, at) => {
      const factor = at === column ? 0 : (line[column] ?? 0) / (head[column] ?? 1);
      if (factor === 0) return;
      for (let k = column; k < line.length; k += 1)
        line[k] = (line[k] ?? 0) - factor * (head[k] ?? 0);
    });
  }
  return lines.map((line, at) => (line.at(-1) ?? 0) / (line[at] ?? 1));
}

const density = (x: number): number => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);

const NODES = 40;

/** L(start) of L(u) = 1 + atom(u) L(0) + integral of L(x) kernel(u, x). */
function runLength(o: {
  readonly low: number;
  readonly high: number;
  readonly kernel: (from: number, to: number) => number;
  /** Chance to fall back to the lowest place. */
  readonly atom: (from: number) => number;
}): number {
  const nodes = gauss(NODES, o.low, o.high);
  const places = [0, ...nodes.map(([x]) => x)];
  const a = places.map((from, at) =>
    places.map((to, other) => {
      const weight = other === 0 ? o.atom(from) : o.kernel(from, to) * (nodes[other - 1]?.[1] ?? 0);
      return (at === other ? 1 : 0) - weight;
    }),
  );
  return present(
    solve(
      a,
      places.map(() => 1),
    )[0],
    'the run length',
  );
}

/** P(standard normal <= x) by Gauss and Legendre over the density. */
const normalBelow = (x: number): number =>
  0.5 + gauss(16, 0, x).reduce((sum, [at, weight]) => sum + weight * density(at), 0);

/** Mean run length of the CUSUM on both sides, for a shift in standard deviations. */
export function cusumRunLength(o: {
  readonly allowance: number;
  readonly limit: number;
  readonly shift: number;
}): number {
  const side = (shift: number): number => {
    const k = o.allowance - shift;
    return runLength({
      low: 0,
      high: o.limit,
      kernel: (from, to) => density(to + k - from),
      atom: (from) => normalBelow(k - from),
    });
  };
  return 1 / (1 / side(o.shift) + 1 / side(-o.shift));
}

/** Mean run length of the EWMA on both sides with settled limits. */
export function ewmaRunLength(o: {
  readonly weight: number;
  readonly width: number;
  readonly shift: number;
}): number {
  const high = o.width * Math.sqrt(o.weight / (2 - o.weight));
  return runLength({
    low: -high,
    high,
    kernel: (from, to) => density((to - (1 - o.weight) * from) / o.weight - o.shift) / o.weight,
    atom: () => 0,
  });
}

const CELLS = 60;

/**
 * Mean number of expected failures until the exposure CUSUM for a doubled rate is above the limit, where
 * failures come `times` as often as expected. Between failures the chart falls by an exponential stretch;
 * solved by iteration on a grid in which ln 2 is a whole number of cells.
 */
export function exposureRunLength(limit: number, times: number): number {
  const cell = Math.LN2 / CELLS;
  const count = Math.floor(limit / cell) + 1;
  const fade = Math.exp(-times * cell);
  let length = new Float64Array(count).fill(1 / times);
  const above = (at: number): number => length[at + CELLS] ?? 0;
  for (let round = 0; round < 100_000; round += 1) {
    const next = new Float64Array(count);
    let after = above(0);
    let farthest = 0;
    for (let at = 0; at < count; at += 1) {
      if (at > 0) after = after * fade + ((above(at) + above(at - 1)) / 2) * (1 - fade);
      next[at] = 1 / times + after;
      farthest = Math.max(farthest, Math.abs((next[at] ?? 0) - (length[at] ?? 0)));
    }
    length = next;
    if (farthest < 1e-6) break;
  }
  return length[0] ?? 0;
}
