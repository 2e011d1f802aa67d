/**
 * Every clock that runs: dwells, the light that is on, and windows that are open. Clocks that
 * started together are one clock with several subjects. Times in ms.
 */

import type { SubjectId } from '../protocol/subjects.ts';
import type { Protects } from '../protocol/types.ts';
import { elapsed, placeKey } from './axis.ts';
import { edgeInstant } from './edge-instant.ts';
import type { Instance, Layout, WindowPair } from './layout.ts';
import type { StatusReader } from './status.ts';
import type { CaseInstant, CaseState, StepRun } from './types.ts';
import type { Clock } from './view-types.ts';
import { windowMaxMs } from './window-bounds.ts';

/** A clock without what only its group knows. */
type Kept = Omit<Clock, 'id' | 'subjects' | 'elapsed'>;

interface Running {
  readonly since: CaseInstant;
  readonly clock: Kept;
  readonly subject: SubjectId;
  /** A window tells its subject by where it started: several ends, one clock. */
  readonly heldBy: string;
}

function dwellClock(instance: Instance, run: StepRun): Running | null {
  const { action } = instance.step;
  if (run.status !== 'running' || !run.startedAt || action.kind !== 'dwell') return null;
  return {
    since: run.startedAt,
    subject: instance.subject,
    heldBy: '',
    clock: {
      kind: 'dwell',
      of: instance.step.id,
      title: instance.step.title,
      protects: null,
      minMs: action.minMs?.value ?? null,
      targetMs: action.targetMs.value,
      maxMs: action.maxMs?.value ?? null,
      severity: 'warning',
      amber: false,
    },
  };
}

function lightClock(instance: Instance, { lit }: StepRun): Running | null {
  if (!lit) return null;
  return {
    since: lit.since,
    subject: instance.subject,
    heldBy: `${lit.surface}${lit.position}`,
    clock: {
      kind: 'exposure',
      of: instance.step.id,
      title: instance.step.title,
      surface: lit.surface,
      protects: null,
      minMs: lit.setMs,
      targetMs: lit.setMs,
      maxMs: null,
      severity: 'note',
      amber: false,
    },
  };
}

/** Windows that have begun and not ended; those of one window that began together are one clock. */
function windowClock(state: CaseState, layout: Layout, o: WindowStand): Running | null {
  const { pair, statuses } = o;
  const { window, from, to, subject } = pair;
  const since = edgeInstant(state.runs[from], window.from.edge);
  if (!since) return null;
  const toRun = state.runs[to];
  if (toRun?.status === 'skipped' || edgeInstant(toRun, window.to.edge)) return null;
  const target = layout.byKey.get(to);
  if (target && statuses.of(target) === 'not-applicable') return null;
  const kind = window.maxMs ? 'window' : 'hold';
  const protects: Protects = window.protects;
  return {
    since,
    subject,
    heldBy: '',
    clock: {
      kind,
      of: window.id,
      title: window.title,
      protects,
      minMs: window.minMs?.value ?? null,
      targetMs: kind === 'hold' ? (window.minMs?.value ?? null) : null,
      maxMs: windowMaxMs(state, pair) ?? null,
      severity: window.severity,
      amber: window.amber ?? false,
    },
  };
}

interface WindowStand {
  readonly pair: WindowPair;
  readonly statuses: StatusReader;
}

/** All clocks at `now`, dwells and light first, then windows, each group in document order. */
export function clocksOf(
  state: CaseState,
  layout: Layout,
  statuses: StatusReader,
  now: CaseInstant,
): Clock[] {
  const groups = new Map<string, { first: Running; subjects: SubjectId[] }>();
  const add = (r: Running | null): void => {
    if (r === null) return;
    const key = `${r.clock.of}#${placeKey(r.since)}${r.heldBy}`;
    const group = groups.get(key);
    if (!group) groups.set(key, { first: r, subjects: [r.subject] });
    else if (!group.subjects.includes(r.subject)) group.subjects.push(r.subject);
  };
  for (const instance of layout.instances) {
    const run = state.runs[instance.key];
    if (run === undefined) continue;
    add(dwellClock(instance, run));
    add(lightClock(instance, run));
  }
  for (const pair of layout.windows) add(windowClock(state, layout, { pair, statuses }));
  const clocks: Clock[] = [];
  for (const [id, { first, subjects }] of groups) {
    clocks.push(clockOf(first.clock, { id, subjects, elapsed: elapsed(first.since, now) }));
  }
  return clocks;
}

/** Written out: a spread costs more than all else that a clock is made of. */
function clockOf(kept: Kept, own: Pick<Clock, 'id' | 'subjects' | 'elapsed'>): Clock {
  const { kind, of, title, surface, protects, minMs, targetMs, maxMs, severity, amber } = kept;
  const { id, subjects, elapsed: passed } = own;
  const bare = {
    kind,
    of,
    title,
    protects,
    minMs,
    targetMs,
    maxMs,
    severity,
    amber,
    id,
    subjects,
    elapsed: passed,
  };
  return surface === undefined ? bare : { ...bare, surface };
}
