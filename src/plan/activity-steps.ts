/**
 * Tasks of steps that are not light: work by hand, dwells, coats and rounds. Each maker gets the
 * instances of one step that are pressed together (or one alone) and notes their moments.
 */
import { present } from '../base/assert.ts';
import { finiteLateMs } from '../engine/axis.ts';
import { keepsHands } from '../engine/case-bounds.ts';
import { type Instance, instanceKey } from '../engine/layout.ts';
import type { StepRun } from '../engine/types.ts';
import type { Action, Step } from '../protocol/types.ts';
import type { TaskEdge, When } from './activity.ts';
import type { ActivityDraft } from './activity-draft.ts';

type Dwell = Extract<Action, { kind: 'dwell' }>;

const moment = (task: number, edge: TaskEdge): When => ({ task, edge });

const runOf = (draft: ActivityDraft, instance: Instance): StepRun | undefined =>
  draft.context.state.runs[instance.key];

/** When something that runs was begun, at the latest: a minimum counts from there. Null while it waits. */
function begunAtMs(draft: ActivityDraft, instance: Instance): number | null {
  const run = runOf(draft, instance);
  return run?.status === 'running' ? (run.startedAt ? finiteLateMs(run.startedAt) : null) : null;
}

/** Target of a dwell, kept inside its own bounds. */
function targetMs(action: Dwell): number {
  const max = action.maxMs?.value ?? Number.POSITIVE_INFINITY;
  return Math.max(action.minMs?.value ?? 0, Math.min(action.targetMs.value, max));
}

/** The share of countable work that is left. */
function shareLeft(done: number, all: number): number {
  return Math.max(0, all - done) / Math.max(1, all);
}

/** Confirming, choosing and counting: one stretch of work, pressed at its end. */
export function makeHands(draft: ActivityDraft, group: readonly Instance[]): void {
  const first = present(group[0], 'instance');
  const { action } = first.step;
  const counted = action.kind === 'tally' ? action.passesMax.value : 1;
  const doneCount = runOf(draft, first)?.counts.length ?? 0;
  // Passes beyond the first are not wanted, so that half of what is left stands for the rest.
  const share = doneCount === 0 ? 1 : shareLeft(doneCount, counted) / 2;
  const task = draft.add(group, {
    part: 'hands',
    fixedMs: 0,
    handsMs: draft.pace(group).medianMs * share,
    fixed: 'after',
  });
  const isOnePress = action.kind !== 'tally';
  for (const instance of group) {
    const begunMs = begunAtMs(draft, instance);
    const start = begunMs === null ? moment(task, isOnePress ? 'end' : 'start') : { atMs: begunMs };
    const end = moment(task, 'end');
    const entry = begunMs === null ? task : null;
    const ready = { from: end, minMs: 0 };
    draft.made.set(instance.key, { entry, last: task, start, end, endedBy: 'self', ready });
  }
}

/** Coats: the first press comes with the first coat, the last one ends the step. */
export function makeCoats(
  draft: ActivityDraft,
  group: readonly Instance[],
  action: Extract<Action, { kind: 'coats' }>,
): void {
  const first = present(group[0], 'instance');
  const count = action.count.value;
  const eachMs = draft.pace(group).medianMs / Math.max(1, count);
  const doneCount = runOf(draft, first)?.counts.length ?? 0;
  const gapMs = action.gapMsMin?.value ?? 0;
  const begin =
    doneCount > 0
      ? null
      : draft.add(group, { part: 'apply', fixedMs: 0, handsMs: eachMs, fixed: 'after' });
  const left = Math.max(0, count - Math.max(1, doneCount));
  const rest = draft.add(group, {
    part: 'hands',
    fixedMs: gapMs * left,
    handsMs: eachMs * left,
    fixed: 'within',
  });
  if (begin !== null) draft.chain(begin, rest);
  for (const instance of group) {
    const begunMs = begunAtMs(draft, instance);
    const start: When = begin === null ? { atMs: begunMs ?? 0 } : moment(begin, 'end');
    const end = moment(rest, 'end');
    draft.made.set(instance.key, {
      entry: begin,
      last: rest,
      start,
      end,
      endedBy: 'self',
      ready: { from: end, minMs: 0 },
    });
  }
}

/** A dwell without rounds of its own: put on, left to act, and ended by whatever follows. */
export function makeDwell(draft: ActivityDraft, group: readonly Instance[], action: Dwell): void {
  const first = present(group[0], 'instance');
  const { nowMs } = draft.context;
  const begun = group.map((instance) => begunAtMs(draft, instance));
  const begunMs = begun.reduce<number | null>(
    (a, b) => (b === null ? a : Math.max(a ?? b, b)),
    null,
  );
  const passedMs = begunMs === null ? 0 : nowMs - begunMs;
  const fixedMs = Math.max(0, targetMs(action) - passedMs);
  const paceMs = draft.pace(group).medianMs;
  const holds = keepsHands(first.step, group.length);
  const isPutOn = begunMs === null && !holds && first.step.beginsWith === undefined;
  const put = isPutOn
    ? draft.add(group, { part: 'apply', fixedMs: 0, handsMs: paceMs, fixed: 'after' })
    : null;
  const act = draft.add(group, {
    part: holds ? 'hands' : 'wait',
    fixedMs,
    handsMs: holds ? Math.max(0, paceMs - passedMs) : 0,
    fixed: 'within',
  });
  if (put !== null) draft.chain(put, act);
  group.forEach((instance, i) => {
    const atMs = begun[i] ?? null;
    const start: When = atMs === null ? moment(act, 'start') : { atMs };
    const end = moment(act, 'end');
    const entry = begunMs === null ? (put ?? act) : null;
    const ready = { from: end, minMs: 0 };
    draft.made.set(instance.key, { entry, last: act, start, end, endedBy: 'next', ready });
  });
}

/** The step that ends this one for the whole round in one go; null when each is ended by itself. */
function endedTogetherBy(draft: ActivityDraft, round: readonly Instance[]): Step | null {
  const first = present(round[0], 'instance');
  const { layout, state } = draft.context;
  const next = layout.beginners.get(first.key)?.find(({ step }) => step.together === true)?.step;
  if (next === undefined || next.per !== first.step.per) return null;
  const isOpen = round.every((i) => {
    const key = instanceKey(next.id, i.subject);
    return layout.byKey.get(key)?.round === i.round && state.runs[key] === undefined;
  });
  return isOpen ? next : null;
}

/** The same touch ends this and begins the next of the same kind: acid on enamel, then on dentine. */
function isHandedOver(draft: ActivityDraft, instance: Instance): boolean {
  const next = draft.context.layout.beginners.get(instance.key) ?? [];
  return next.some(({ step }) => step.hands !== undefined);
}

/**
 * A round: touched one after the other, then ended one after the other in the same order. The
 * clock of each runs from its own touch; the last is ended by the step that takes over, if any.
 */
export function makeRound(draft: ActivityDraft, round: readonly Instance[], action: Dwell): void {
  const first = present(round[0], 'instance');
  const applyMs = first.step.hands?.applyMs.value ?? 0;
  const rinseMs = first.step.hands?.rinseMs.value ?? 0;
  const waitMs = targetMs(action);
  let before: number | null = null;
  const touches = round.map((instance) => {
    const atMs = begunAtMs(draft, instance);
    if (atMs !== null) return { when: { atMs }, task: null };
    const task = draft.add([instance], {
      part: 'apply',
      fixedMs: 0,
      handsMs: applyMs,
      fixed: 'after',
    });
    if (before !== null) draft.chain(before, task);
    before = task;
    return { when: moment(task, 'start'), task };
  });
  const takenOver = endedTogetherBy(draft, round) !== null;
  round.forEach((instance, i) => {
    const touch = present(touches[i], 'touch');
    const isTakenOver = takenOver && i === round.length - 1;
    if (isTakenOver) {
      const { when } = touch;
      const ready = { from: when, minMs: waitMs };
      // Until the step that takes over is made, the touch stands for the end.
      const moments = { start: when, end: when, endedBy: 'next', ready } as const;
      draft.made.set(instance.key, { entry: touch.task, last: before, ...moments });
      return;
    }
    const end = draft.add([instance], {
      part: 'finish',
      fixedMs: 0,
      handsMs: isHandedOver(draft, instance) ? 0 : rinseMs,
      fixed: 'after',
    });
    draft.link(touch.when, { task: end, edge: 'start' }, waitMs);
    if (before !== null) draft.chain(before, end);
    before = end;
    draft.made.set(instance.key, {
      entry: touch.task,
      last: end,
      start: touch.when,
      end: moment(end, 'start'),
      endedBy: 'self',
      ready: { from: moment(end, 'end'), minMs: 0 },
    });
  });
}
