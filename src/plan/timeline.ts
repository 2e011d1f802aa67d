/**
 * The appointment as a picture: bars for what people do, bands for what must not take too long, and
 * lanes to draw them in. Times in ms on the case axis; words and colours belong to the screens.
 */
import { present } from '../base/assert.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Protects, Role, Window } from '../protocol/types.ts';
import { realAt } from '../temporal/typed-array.ts';
import type { Activities, Activity, Bound, TaskPart } from './activity.ts';
import { type Because, becauseOf } from './because.ts';
import { type Execution, ForwardPass, placeOf } from './execution.ts';
import { StartRanges } from './schedule-bounds.ts';
import { ASSISTANT, DENTIST, LIGHT, type Solved } from './solve-activities.ts';

/** One stretch of work of one step; several teeth in a row are one bar. */
export interface Bar {
  readonly id: string;
  readonly step: string;
  readonly subjects: readonly SubjectId[];
  readonly round: number;
  readonly part: TaskPart;
  /** Who does it in this plan; null where something only acts. */
  readonly by: Role | null;
  readonly usesLight: boolean;
  readonly startMs: number;
  readonly endMs: number;
  /** How much later it may start without a later end of the case or a broken window. */
  readonly slackMs: number;
  /** Why it begins then. */
  readonly because: Because;
}

/** A window, or the maximum of a dwell, as planned; those that run together are one band. */
export interface Band {
  readonly id: string;
  /** Window id, or step id for a dwell. */
  readonly of: string;
  readonly what: 'window' | 'dwell';
  readonly subjects: readonly SubjectId[];
  readonly fromMs: number;
  /** When it is planned to close; the latest of its subjects. */
  readonly toMs: number;
  readonly maxMs: number;
  /** Room left at the planned close; negative when it cannot be kept. */
  readonly slackMs: number;
  readonly severity: Window['severity'];
  readonly protects: Protects | null;
  /** Ids of the bars that fill it, in order: what holds it. */
  readonly heldBy: readonly string[];
  /** False when no order of the work keeps it. */
  readonly canBeKept: boolean;
  /** Indexes of its bounds, for the risk. */
  readonly bounds: readonly number[];
}

export interface Lane {
  /** `dentist`, `assistant`, `light`, or a mix: `mix:1`. */
  readonly id: string;
  readonly kind: 'person' | 'light' | 'mix';
  readonly bars: readonly string[];
  readonly bands: readonly string[];
}

export interface Timeline {
  readonly startMs: number;
  readonly endMs: number;
  /** Expected time from start to end. */
  readonly chairMs: number;
  /** No plan with every window kept is shorter than this. */
  readonly lowerBoundMs: number;
  readonly bars: readonly Bar[];
  readonly bands: readonly Band[];
  readonly lanes: readonly Lane[];
}

interface TimelineScene {
  readonly execution: Execution;
  readonly activities: Activities;
  readonly solved: Solved;
  readonly pass: ForwardPass;
  /** Start range of each task behind `nowMs`, in the order of this plan. */
  readonly ranges: StartRanges;
}

const ROLE_BITS: readonly (readonly [Role, number])[] = [
  ['dentist', DENTIST],
  ['assistant', ASSISTANT],
];

/** Pauses up to this length do not cut a row of teeth into two bars. */
const PAUSE_MS = 15_000;

interface Run {
  readonly first: number;
  readonly tasks: number[];
}

/** Tasks that make one bar: the same step, round and part, one after the other. */
function runsOf(scene: TimelineScene): Run[] {
  const { activities, pass } = scene;
  const open = new Map<string, Run & { endMs: number }>();
  const runs: Run[] = [];
  const inTime = activities.tasks
    .map((_, i) => i)
    .sort((a, b) => realAt(pass.startMs, a) - realAt(pass.startMs, b) || a - b);
  for (const i of inTime) {
    const task = present(activities.tasks[i], 'task');
    const startMs = realAt(pass.startMs, i);
    const endMs = startMs + realAt(pass.lengthMs, i);
    const row = task.part === 'hands' ? task.subjects.join(' ') : task.round;
    const key = `${task.step} ${task.part} ${row} ${scene.solved.schedule.staff[i]}`;
    const run = open.get(key);
    if (run !== undefined && startMs - run.endMs <= PAUSE_MS) {
      run.tasks.push(i);
      run.endMs = Math.max(run.endMs, endMs);
      continue;
    }
    const fresh = { first: i, tasks: [i], endMs };
    open.set(key, fresh);
    runs.push(fresh);
  }
  return runs;
}

function barOf(scene: TimelineScene, run: Run): Bar {
  const { activities, pass, solved, ranges } = scene;
  const task = present(activities.tasks[run.first], 'task');
  const staff = solved.schedule.staff[run.first] ?? 0;
  const starts = run.tasks.map((i) => realAt(pass.startMs, i));
  const ends = run.tasks.map((i) => realAt(pass.startMs, i) + realAt(pass.lengthMs, i));
  const rooms = run.tasks.map((i) => realAt(ranges.hi, i) - realAt(ranges.lo, i));
  return {
    id: `${task.step}/${task.part}/${task.subjects[0] ?? ''}/${run.first}`,
    step: task.step,
    subjects: [...new Set(run.tasks.flatMap((i) => activities.tasks[i]?.subjects ?? []))],
    round: task.round,
    part: task.part,
    by: ROLE_BITS.find(([, bit]) => (staff & bit) !== 0)?.[0] ?? null,
    usesLight: (staff & LIGHT) !== 0,
    startMs: Math.min(...starts),
    endMs: Math.max(...ends),
    slackMs: Math.max(0, Math.min(...rooms)),
    because: becauseOf(scene.execution, pass, run.first),
  };
}

/** Bars on the way from the opening of a band to its close: those that end inside it. */
function heldBy(bars: readonly Bar[], band: { fromMs: number; toMs: number }): string[] {
  return bars
    .filter((bar) => bar.startMs < band.toMs && bar.endMs > band.fromMs && bar.part !== 'wait')
    .map((bar) => bar.id);
}

interface PlacedBound {
  readonly bound: Bound;
  readonly index: number;
  readonly fromMs: number;
  readonly toMs: number;
}

function bandOf(scene: TimelineScene, bars: readonly Bar[], group: readonly PlacedBound[]): Band {
  const last = group.reduce((a, b) => (b.toMs > a.toMs ? b : a));
  const { of, what, maxMs, severity, protects, fromSubject } = last.bound;
  const subjects = [...new Set(group.map((each) => each.bound.subject))];
  const span = { fromMs: Math.min(...group.map((g) => g.fromMs)), toMs: last.toMs };
  return {
    id: `${of}/${fromSubject}/${Math.round(span.fromMs)}`,
    of,
    what,
    subjects,
    ...span,
    maxMs,
    slackMs: Math.min(...group.map((g) => maxMs - (g.toMs - g.fromMs))),
    severity,
    protects,
    heldBy: heldBy(bars, span),
    canBeKept: group.every((g) => !scene.solved.notKept.includes(g.index)),
    bounds: group.map((g) => g.index),
  };
}

function bandsOf(scene: TimelineScene, bars: readonly Bar[]): Band[] {
  const { activities, pass } = scene;
  const groups = new Map<string, PlacedBound[]>();
  activities.bounds.forEach((bound, index) => {
    const fromMs = placeOf(activities.tasks, bound.from, pass);
    const toMs = placeOf(activities.tasks, bound.to, pass);
    const key = `${bound.of} ${Math.round(fromMs)} ${bound.maxMs}`;
    const group = groups.get(key) ?? [];
    group.push({ bound, index, fromMs, toMs });
    groups.set(key, group);
  });
  return [...groups.values()].map((group) => bandOf(scene, bars, group));
}

/** Bands and bars of one mix: what runs from it, and what is done with it and its units meanwhile. */
function mixLane(
  mix: { readonly id: SubjectId; readonly units: readonly SubjectId[] },
  bars: readonly Bar[],
  bands: readonly Band[],
): Lane {
  const own = bands.filter((b) => b.id.includes(`/${mix.id}/`));
  const span = {
    fromMs: Math.min(...own.map((b) => b.fromMs)),
    toMs: Math.max(...own.map((b) => b.toMs)),
  };
  const inside = bars.filter(
    (bar) =>
      bar.subjects.every((s) => s === mix.id || mix.units.includes(s)) &&
      (bar.subjects.includes(mix.id) || (bar.startMs >= span.fromMs && bar.endMs <= span.toMs)),
  );
  return { id: mix.id, kind: 'mix', bars: inside.map((b) => b.id), bands: own.map((b) => b.id) };
}

interface MixUnits {
  readonly id: SubjectId;
  readonly units: readonly SubjectId[];
}

function lanesOf(bars: readonly Bar[], bands: readonly Band[], mixes: readonly MixUnits[]): Lane[] {
  const ofPeople = ROLE_BITS.map(([role]): Lane => {
    const own = bars.filter((b) => b.by === role);
    return { id: role, kind: 'person', bars: own.map((b) => b.id), bands: [] };
  });
  const lit = bars.filter((b) => b.usesLight).map((b) => b.id);
  const light: Lane = { id: 'light', kind: 'light', bars: lit, bands: [] };
  return [...ofPeople, light, ...mixes.map((mix) => mixLane(mix, bars, bands))];
}

/** Start ranges of a plan: its own order as further arcs, and its end as the horizon. */
function rangesOf(execution: Execution, solved: Solved): StartRanges {
  const order = execution.waits.flatMap((waits, to) =>
    waits
      .filter((w) => w.isPause !== true && w.from >= 0)
      .filter((w) => w.fromEdge === 'end' && w.toEdge === 'start' && w.plusMs === 0)
      .map((w) => ({ from: w.from, to, gainMs: solved.lengthsMs[w.from] ?? 0 })),
  );
  const { tasks, arcs } = solved.problem;
  const ranges = new StartRanges({ tasks, arcs: [...arcs, ...order] });
  ranges.settle(solved.schedule.makespanMs);
  return ranges;
}

/** The picture of a solved case. */
export function timelineOf(o: {
  readonly execution: Execution;
  readonly solved: Solved;
  readonly mixes: readonly MixUnits[];
}): Timeline {
  const { execution, solved, mixes } = o;
  const { activities } = execution;
  const pass = new ForwardPass(execution);
  pass.lengthMs.set(solved.lengthsMs);
  const endMs = pass.run();
  const scene: TimelineScene = {
    execution,
    activities,
    solved,
    pass,
    ranges: rangesOf(execution, solved),
  };
  const bars = runsOf(scene).map((run) => barOf(scene, run));
  const bands = bandsOf(scene, bars);
  return {
    startMs: activities.nowMs,
    endMs,
    chairMs: endMs - activities.nowMs,
    lowerBoundMs: solved.schedule.lowerBoundMs,
    bars,
    bands,
    lanes: lanesOf(bars, bands, mixes),
  };
}

/** Whether a task is done by hand, so that its length differs from day to day. */
export const isByHand = (task: Activity): boolean => task.handsMs > 0 && task.sigma > 0;
