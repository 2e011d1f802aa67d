/**
 * Every clock that runs: dwells, the light that is on, and windows that are open. Clocks that
 * started together are one clock with several subjects. Times in ms.
 */

import type { SubjectId } from '../protocol/subjects.ts';
import type { Protects } from '../protocol/types.ts';
import { earliestMs, elapsed, latestMs, placeKey } from './axis.ts';
import { edgeInstant } from './edge-instant.ts';
import type { Instance, Layout, WindowPair } from './layout.ts';
import { isLedEdge, ledAt, ledMoments } from './led.ts';
import { leadNow } from './light-pass.ts';
import type { StatusReader } from './status.ts';
import type { CaseInstant, CaseState, Elapsed, StepRun } from './types.ts';
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

/** Clocks that were started by one press, with the first and the last of them. */
interface Group {
  readonly first: Running;
  readonly subjects: SubjectId[];
  soonest: CaseInstant;
  latest: CaseInstant;
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

/** Where the tones of a pass lead now. */
function pacedClock(state: CaseState, layout: Layout, now: CaseInstant): Running | null {
  const lead = leadNow(state.lightPass, now);
  const step = layout.byStep.get(state.lightPass?.step ?? '')?.[0]?.step;
  if (lead === null || step === undefined) return null;
  const { place, isLit, since, forMs } = lead;
  return {
    since,
    subject: place.subject,
    heldBy: `${isLit ? '' : 'to '}${place.surface}${place.position}`,
    clock: {
      kind: isLit ? 'exposure' : 'rest',
      of: step.id,
      title: step.title,
      surface: place.surface,
      paced: true,
      protects: null,
      minMs: forMs,
      targetMs: forMs,
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
  const { edge } = window.from;
  const since = edgeInstant(state.runs[from], edge) ?? ledAt(o.led, from, edge);
  if (!since) return null;
  if (isLedEdge(o.led, to, window.to.edge)) return null;
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
  readonly led: ReturnType<typeof ledMoments>;
}

/** All clocks at `now`, dwells and light first, then windows, each group in document order. */
export function clocksOf(
  state: CaseState,
  layout: Layout,
  statuses: StatusReader,
  now: CaseInstant,
): Clock[] {
  const groups = new Map<string, Group>();
  const add = (r: Running | null): void => {
    if (r === null) return;
    const key = `${r.clock.of}#${placeKey(r.since)}${r.heldBy}`;
    const group = groups.get(key);
    if (!group) {
      groups.set(key, { first: r, soonest: r.since, latest: r.since, subjects: [r.subject] });
      return;
    }
    if (!group.subjects.includes(r.subject)) group.subjects.push(r.subject);
    if (r.since.spread === undefined && group.first.since.spread === undefined) return;
    if (earliestMs(r.since) < earliestMs(group.soonest)) group.soonest = r.since;
    if (latestMs(r.since) > latestMs(group.latest)) group.latest = r.since;
  };
  for (const instance of layout.instances) {
    const run = state.runs[instance.key];
    if (run === undefined) continue;
    add(dwellClock(instance, run));
    add(lightClock(instance, run));
  }
  add(pacedClock(state, layout, now));
  const led = ledMoments(state, layout, now);
  for (const pair of layout.windows) add(windowClock(state, layout, { pair, statuses, led }));
  const clocks: Clock[] = [];
  for (const [id, group] of groups) {
    const { first, subjects } = group;
    const clock = clockOf(first.clock, { id, subjects, elapsed: elapsedOf(group, now) });
    const { soonest, latest } = group;
    const isSpread = soonest.spread !== undefined || latest.spread !== undefined;
    clocks.push(isSpread ? { ...clock, isSpread } : clock);
  }
  return clocks;
}

/** The least and the most that any of them has run: those of a sweep began one after the other. */
function elapsedOf({ first, soonest, latest }: Group, now: CaseInstant): Elapsed {
  if (soonest === latest) return elapsed(first.since, now);
  return { loMs: elapsed(latest, now).loMs, hiMs: elapsed(soonest, now).hiMs };
}

/** Written out: a spread costs more than all else that a clock is made of. */
function clockOf(kept: Kept, own: Pick<Clock, 'id' | 'subjects' | 'elapsed'>): Clock {
  const { kind, of, title, surface, paced, protects, minMs, targetMs, maxMs, severity, amber } =
    kept;
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
  if (surface === undefined) return bare;
  return paced === undefined ? { ...bare, surface } : { ...bare, surface, paced };
}
