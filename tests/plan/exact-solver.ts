/**
 * The scheduling problem as a mixed-integer program for HiGHS (Huangfu & Hall, Mathematical
 * Programming Computation 10:119-142, 2018), an exact solver that knows nothing of this project:
 * starts, who does what, and for each two tasks that may need one person or the light a choice of
 * which comes first (big-M; Manne, Operations Research 8:219-223, 1960).
 */
import highsLoader from 'highs';
import type { ScheduleProblem } from '../../src/plan/schedule-problem.ts';

export interface ExactAnswer {
  /** No schedule is shorter than this, as the solver proved. */
  readonly boundMs: number;
  /** The shortest schedule the solver found. */
  readonly makespanMs: number;
  readonly isOptimal: boolean;
}

const DENTIST = 1;
const ASSISTANT = 2;
const LIGHT = 4;
const UNIT_MS = 1000;
/** `kHighsModelStatusInfeasible` of the solver's interface. */
const HIGHS_INFEASIBLE = 8;

/** Longest path between the starts of every two tasks, -Infinity where there is none. */
function longestPaths({ tasks, arcs }: ScheduleProblem): number[][] {
  const n = tasks.length + 1;
  const at = (task: number): number => task + 1;
  const d = Array.from({ length: n }, (_, i) =>
    Array.from({ length: n }, (_, j) => (i === j || i === 0 ? 0 : -Infinity)),
  );
  const set = (i: number, j: number, gain: number): void => {
    const row = d[i] ?? [];
    row[j] = Math.max(row[j] ?? -Infinity, gain);
  };
  for (const arc of arcs) set(at(arc.from), at(arc.to), arc.gainMs);
  for (let k = 0; k < n; k += 1) {
    for (let i = 0; i < n; i += 1) {
      for (let j = 0; j < n; j += 1) set(i, j, (d[i]?.[k] ?? 0) + (d[k]?.[j] ?? 0));
    }
  }
  return d.slice(1).map((row) => row.slice(1));
}

class LinearProgram {
  readonly #rows: string[] = [];
  readonly #binaries: string[] = [];
  readonly #bounds: string[] = [];

  row(terms: string, right: number): void {
    this.#rows.push(` r${this.#rows.length}: ${terms} >= ${right.toFixed(6)}`);
  }

  binary(name: string): void {
    this.#binaries.push(name);
  }

  bound(line: string): void {
    this.#bounds.push(` ${line}`);
  }

  get text(): string {
    const binaries =
      this.#binaries.length === 0 ? [] : ['Binary', ` ${this.#binaries.join('\n ')}`];
    return [
      'Minimize',
      ' obj: C',
      'Subject To',
      ...this.#rows,
      'Bounds',
      ...this.#bounds,
      ...binaries,
      'End',
      '',
    ].join('\n');
  }
}

interface Frame {
  readonly lp: LinearProgram;
  readonly problem: ScheduleProblem;
  /** Range of each start, in s, given the horizon. */
  readonly lo: readonly number[];
  readonly hi: readonly number[];
}

/** Terms that switch a constraint off unless both tasks are done by the person `bit` stands for. */
function switchedOff({ problem }: Frame, pair: readonly number[], bit: number, m: number) {
  let terms = '';
  let right = 0;
  for (const task of pair) {
    if ((problem.tasks[task]?.ways.length ?? 0) < 2) continue;
    // z = 1 means the assistant.
    if (bit === DENTIST) terms += ` + ${m} z${task}`;
    else {
      terms += ` - ${m} z${task}`;
      right -= m;
    }
  }
  return { terms, right };
}

function addPair(frame: Frame, a: number, b: number): void {
  const { lp, problem, lo, hi } = frame;
  const tasks = [problem.tasks[a], problem.tasks[b]];
  const masks = tasks.map((t) => (t?.ways ?? []).reduce((x, y) => x | y, 0));
  const always = tasks.map((t) => (t?.ways ?? []).reduce((x, y) => x & y, -1));
  const shared = (masks[0] ?? 0) & (masks[1] ?? 0);
  const surely = (always[0] ?? 0) & (always[1] ?? 0);
  if (shared === 0) return;
  const before = `y${a}x${b}`;
  lp.binary(before);
  const [pa, pb] = tasks.map((t) => (t?.durationMs ?? 0) / UNIT_MS) as [number, number];
  const ma = Math.max(0, (hi[a] ?? 0) + pa - (lo[b] ?? 0));
  const mb = Math.max(0, (hi[b] ?? 0) + pb - (lo[a] ?? 0));
  const people = surely !== 0 ? [0] : [DENTIST, ASSISTANT].filter((bit) => (shared & bit) !== 0);
  for (const bit of people) {
    const none = { terms: '', right: 0 };
    const offA = bit === 0 ? none : switchedOff(frame, [a, b], bit, ma);
    const offB = bit === 0 ? none : switchedOff(frame, [a, b], bit, mb);
    lp.row(`s${b} - s${a} - ${ma} ${before}${offA.terms}`, pa - ma + offA.right);
    lp.row(`s${a} - s${b} + ${mb} ${before}${offB.terms}`, pb + offB.right);
  }
}

/**
 * No resource is used longer than the appointment lasts, less what comes before and after all of
 * its work: once for the tasks that surely need it, once with those that may.
 */
function addWorkload(frame: Frame, bit: number, horizon: number): void {
  const { lp, problem, lo, hi } = frame;
  for (const withOpen of [false, true]) {
    let terms = 'C';
    let right = 0;
    let head = Number.POSITIVE_INFINITY;
    let tail = Number.POSITIVE_INFINITY;
    problem.tasks.forEach(({ ways, durationMs }, i) => {
      const seconds = durationMs / UNIT_MS;
      const isSure = ways.every((way) => (way & bit) !== 0);
      const isOpen = !isSure && ways.some((way) => (way & bit) !== 0);
      if (seconds === 0 || !(isSure || (isOpen && withOpen))) return;
      head = Math.min(head, lo[i] ?? 0);
      tail = Math.min(tail, horizon - (hi[i] ?? 0) - seconds);
      if (isSure) right += seconds;
      else if (bit === ASSISTANT) terms += ` - ${seconds} z${i}`;
      else {
        terms += ` + ${seconds} z${i}`;
        right += seconds;
      }
    });
    if (Number.isFinite(head)) lp.row(terms, right + head + tail);
  }
}

/** The program whose answer is the shortest schedule, of those that end by `horizonMs`. */
function programOf(problem: ScheduleProblem, horizonMs: number): string {
  const { tasks, arcs } = problem;
  const lp = new LinearProgram();
  const horizon = horizonMs / UNIT_MS;
  for (const { from, to, gainMs } of arcs) {
    const terms = [to < 0 ? '' : `+ s${to}`, from < 0 ? '' : `- s${from}`].join(' ').trim();
    if (terms !== '') lp.row(terms, gainMs / UNIT_MS);
  }
  const far = longestPaths(problem);
  const last = (i: number): number =>
    Math.max(...tasks.map((t, j) => (far[i]?.[j] ?? -Infinity) + t.durationMs)) / UNIT_MS;
  const lo = tasks.map((_, i) =>
    Math.max(0, ...arcs.filter((a) => a.from < 0 && a.to === i).map((a) => a.gainMs / UNIT_MS)),
  );
  const early = tasks.map((_, i) =>
    Math.max(...tasks.map((__, j) => (lo[j] ?? 0) + (far[j]?.[i] ?? -Infinity) / UNIT_MS)),
  );
  const hi = tasks.map((_, i) => horizon - last(i));
  const frame: Frame = { lp, problem, lo: early, hi };
  tasks.forEach((task, i) => {
    lp.row(`C - s${i}`, last(i));
    lp.bound(`${early[i]} <= s${i} <= ${hi[i]}`);
    if (task.ways.length > 1) lp.binary(`z${i}`);
  });
  lp.bound(`0 <= C <= ${horizon}`);
  for (let a = 0; a < tasks.length; a += 1) {
    for (let b = a + 1; b < tasks.length; b += 1) {
      const [pa, pb] = [tasks[a]?.durationMs ?? 0, tasks[b]?.durationMs ?? 0];
      const isSettled = (far[a]?.[b] ?? 0) >= pa || (far[b]?.[a] ?? 0) >= pb;
      if (pa > 0 && pb > 0 && !isSettled) addPair(frame, a, b);
    }
  }
  for (const bit of [DENTIST, ASSISTANT, LIGHT]) addWorkload(frame, bit, horizon);
  return lp.text;
}

const loading = highsLoader();

interface Limits {
  /** Schedules that end later than this are not looked at. */
  readonly horizonMs: number;
  readonly limitSeconds: number;
}

/** Whether the solver proves that no schedule ends by the horizon. */
export async function isProvenImpossible(problem: ScheduleProblem, o: Limits): Promise<boolean> {
  const highs = await loading;
  const model = highs.createModel({ format: 'lp', data: programOf(problem, o.horizonMs) });
  try {
    model.options.set('time_limit', o.limitSeconds);
    model.options.set('output_flag', false);
    model.run();
    return model.getModelStatus() === HIGHS_INFEASIBLE;
  } finally {
    model.dispose();
  }
}

/** Looks for the shortest schedule; one that ends by the horizon is known to exist. */
export async function solveExactly(problem: ScheduleProblem, o: Limits): Promise<ExactAnswer> {
  const highs = await loading;
  const model = highs.createModel({ format: 'lp', data: programOf(problem, o.horizonMs) });
  try {
    model.options.set('time_limit', o.limitSeconds);
    model.options.set('output_flag', false);
    model.options.set('mip_rel_gap', 1e-4);
    model.run();
    const isMip = Number(model.info.get('mip_node_count')) >= 0;
    const objectiveMs = Number(model.info.get('objective_function_value')) * UNIT_MS;
    const boundMs = isMip ? Number(model.info.get('mip_dual_bound')) * UNIT_MS : objectiveMs;
    const isOptimal = objectiveMs - boundMs <= 1e-3 * boundMs;
    return { boundMs, makespanMs: objectiveMs, isOptimal };
  } finally {
    model.dispose();
  }
}
