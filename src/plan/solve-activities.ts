/**
 * Puts the tasks of a case on the time axis, as short as can be shown, with every bound kept that
 * can be kept. Bounds that cannot be kept whatever people do (the temporal network says so), or not
 * with these people, are given up and named. Times in ms.
 */
import { assert } from '../base/assert.ts';
import type { Role } from '../protocol/types.ts';
import { compileNetwork } from '../temporal/compile-network.ts';
import type { Constraint } from '../temporal/constraint.ts';
import { solve } from '../temporal/solve.ts';
import {
  type Activities,
  type Activity,
  type Bound,
  expectedMs,
  offsetMs,
  type When,
} from './activity.ts';
import {
  ORIGIN,
  type Schedule,
  type ScheduleArc,
  type ScheduleProblem,
} from './schedule-problem.ts';
import { schedule } from './schedule-search.ts';

/** One bit for each resource: two people, one light. */
export const DENTIST = 1;
export const ASSISTANT = 2;
export const LIGHT = 4;

export interface Solved {
  readonly problem: ScheduleProblem;
  readonly schedule: Schedule;
  /** Expected length of each task, whole ms. */
  readonly lengthsMs: readonly number[];
  /** Indexes of the bounds that cannot be kept, ascending. */
  readonly notKept: readonly number[];
}

function waysOf(task: Activity, roles: ReadonlySet<Role>): readonly number[] {
  const light = task.usesLight ? LIGHT : 0;
  const bit = (role: Role): number => (role === 'dentist' ? DENTIST : ASSISTANT);
  // Whoever is there does the work of both.
  const alone = roles.size === 1 ? [...roles][0] : undefined;
  if (task.by === null) return [light];
  if (alone !== undefined) return [bit(alone) | light];
  if (task.by === 'either') return [DENTIST | light, ASSISTANT | light];
  return [bit(task.by) | light];
}

interface Frame {
  readonly activities: Activities;
  readonly lengthsMs: readonly number[];
}

const offsetOf = ({ activities, lengthsMs }: Frame, when: When): number => {
  if (!('task' in when)) return 0;
  const task = activities.tasks[when.task];
  return task === undefined ? 0 : offsetMs(task, when.edge, lengthsMs[when.task] ?? 0);
};

function arcOfBound(frame: Frame, bound: Bound): ScheduleArc {
  const { from, to, maxMs } = bound;
  const toOffsetMs = offsetOf(frame, to);
  if (!('task' in from)) {
    const latestMs = from.atMs + maxMs - toOffsetMs - frame.activities.nowMs;
    return { from: to.task, to: ORIGIN, gainMs: -latestMs };
  }
  return { from: to.task, to: from.task, gainMs: toOffsetMs - offsetOf(frame, from) - maxMs };
}

function arcsOfLinks(frame: Frame): ScheduleArc[] {
  return frame.activities.links.map(({ from, to, minMs }) => {
    const toOffsetMs = offsetOf(frame, to);
    if (!('task' in from)) {
      const gainMs = from.atMs + minMs - toOffsetMs - frame.activities.nowMs;
      return { from: ORIGIN, to: to.task, gainMs };
    }
    const gainMs = offsetOf(frame, from) + minMs - toOffsetMs;
    return { from: from.task, to: to.task, gainMs };
  });
}

const NOW = 'now';

function constraintOf(arc: ScheduleArc): Constraint {
  const name = (task: number): string => (task === ORIGIN ? NOW : String(task));
  return { from: name(arc.from), to: name(arc.to), minMs: arc.gainMs };
}

/** Bounds that no amount of hands could keep, by the temporal network of expected lengths. */
function brokenByTime(
  links: readonly ScheduleArc[],
  bounds: readonly ScheduleArc[],
  count: number,
) {
  const nodes = [NOW, ...Array.from({ length: count }, (_, i) => String(i))];
  const maxima = bounds.map(({ from, to, gainMs }): Constraint => {
    const forwards = constraintOf({ from: to, to: from, gainMs });
    return { from: forwards.from, to: forwards.to, maxMs: -gainMs };
  });
  const network = compileNetwork({ nodes, edges: [...maxima, ...links.map(constraintOf)] });
  const solution = solve({ network, fixed: new Map([[NOW, 0]]), nowMs: 0, onBroken: 'relax' });
  return solution.broken.filter((edge) => edge < bounds.length);
}

const NODES_TIMES_TASKS = 160_000;
const NODES_MIN = 200;

function search(problem: ScheduleProblem): Schedule | null {
  const count = Math.max(1, problem.tasks.length);
  const nodesMax = Math.max(NODES_MIN, Math.round(NODES_TIMES_TASKS / count));
  return schedule(problem, { nodesMax, gapShare: 0.002 });
}

function violated(arcs: readonly ScheduleArc[], found: Schedule): number[] {
  const at = (task: number): number => (task === ORIGIN ? 0 : (found.startMs[task] ?? 0));
  return arcs.flatMap((arc, i) => (at(arc.to) - at(arc.from) < arc.gainMs - 1e-3 ? [i] : []));
}

/** What is to be scheduled: tasks, links that hold in any case, and bounds that should be kept. */
interface Wanted {
  readonly tasks: ScheduleProblem['tasks'];
  readonly links: readonly ScheduleArc[];
  readonly bounds: readonly ScheduleArc[];
}

interface Found {
  readonly problem: ScheduleProblem;
  readonly schedule: Schedule;
}

function without(wanted: Wanted, dropped: ReadonlySet<number>): ScheduleProblem {
  const kept = wanted.bounds.filter((_, i) => !dropped.has(i));
  return { tasks: wanted.tasks, arcs: [...wanted.links, ...kept] };
}

/** Gives up bounds until what is left can be kept by the people who are there. */
function relaxed(wanted: Wanted, dropped: Set<number>): Found {
  for (;;) {
    const problem = without(wanted, dropped);
    const found = search(problem);
    if (found !== null) return { problem, schedule: found };
    const free = { tasks: wanted.tasks, arcs: wanted.links };
    const loose = search(free);
    assert(loose !== null, 'the order of the steps contradicts itself');
    const more = violated(wanted.bounds, loose).filter((i) => !dropped.has(i));
    for (const i of more) dropped.add(i);
    if (more.length === 0) return { problem: free, schedule: loose };
  }
}

/**
 * Bounds of one window that were given up together with others, and only because nothing held them
 * any more, are taken back: where a plan exists that keeps them, they are not told as lost.
 */
function regained(
  wanted: Wanted,
  dropped: Set<number>,
  o: { readonly found: Found; readonly windows: readonly (readonly number[])[] },
): Found {
  let { found } = o;
  for (const window of o.windows) {
    const lost = new Set(violated(wanted.bounds, found.schedule));
    if (!window.some((i) => lost.has(i))) continue;
    const fewer = new Set([...dropped].filter((i) => !window.includes(i)));
    const problem = without(wanted, fewer);
    const better = search(problem);
    if (better === null) continue;
    for (const i of window) dropped.delete(i);
    found = { problem, schedule: better };
  }
  return found;
}

/**
 * Solves for the roles that are there.
 * @returns the schedule; an invariant error when links alone contradict each other.
 */
export function solveActivities(activities: Activities, roles: ReadonlySet<Role>): Solved {
  const lengthsMs = activities.tasks.map((task) => Math.round(expectedMs(task)));
  const frame: Frame = { activities, lengthsMs };
  const tasks = activities.tasks.map((task, i) => ({
    durationMs: lengthsMs[i] ?? 0,
    ways: waysOf(task, roles),
  }));
  const links = arcsOfLinks(frame);
  const bounds = activities.bounds.map((bound) => arcOfBound(frame, bound));
  const wanted: Wanted = { tasks, links, bounds };
  const byTime = new Set(brokenByTime(links, bounds, tasks.length));
  const dropped = new Set(byTime);
  const first = relaxed(wanted, dropped);
  const byPeople = [...dropped].filter((i) => !byTime.has(i));
  const names = [...new Set(byPeople.map((i) => activities.bounds[i]?.of))];
  const windows = names.map((of) => byPeople.filter((i) => activities.bounds[i]?.of === of));
  const found = windows.length < 2 ? first : regained(wanted, dropped, { found: first, windows });
  // What was given up with others may be kept all the same: only what is broken is told.
  const notKept = violated(bounds, found.schedule).filter((i) => dropped.has(i));
  return { ...found, lengthsMs, notKept };
}
