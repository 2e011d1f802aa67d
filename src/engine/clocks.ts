/**
 * Every clock that runs: dwells, the light that is on, and windows that are open. Clocks that
 * started together are one clock with several subjects. Times in ms.
 */

import type { SubjectId } from '../protocol/subjects.ts';
import type { Protects } from '../protocol/types.ts';
import { elapsed, placeKey } from './axis.ts';
import { edgeInstant } from './edge-instant.ts';
import type { Instance, Layout } from './layout.ts';
import type { StatusReader } from './status.ts';
import type { CaseInstant, CaseState } from './types.ts';
import type { Clock } from './view-types.ts';
import { windowMaxMs } from './window-bounds.ts';

interface Running {
  readonly since: CaseInstant;
  readonly clock: Omit<Clock, 'id' | 'subjects' | 'elapsed'>;
  readonly subject: SubjectId;
  /** A window tells its subject by where it started: several ends, one clock. */
  readonly heldBy: string;
}

function dwellClock(instance: Instance, state: CaseState): Running | null {
  const run = state.runs[instance.key];
  const { action } = instance.step;
  if (run?.status !== 'running' || !run.startedAt || action.kind !== 'dwell') return null;
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

function lightClock(instance: Instance, state: CaseState): Running | null {
  const lit = state.runs[instance.key]?.lit;
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

function windowClocks(state: CaseState, layout: Layout, statuses: StatusReader): Running[] {
  return layout.windows.flatMap((pair) => {
    const { window, from, to, subject } = pair;
    const since = edgeInstant(state.runs[from], window.from.edge);
    if (!since) return [];
    const toRun = state.runs[to];
    if (toRun?.status === 'skipped' || edgeInstant(toRun, window.to.edge)) return [];
    const target = layout.byKey.get(to);
    if (target && statuses.of(target) === 'not-applicable') return [];
    const kind = window.maxMs ? 'window' : 'hold';
    const protects: Protects = window.protects;
    return [
      {
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
      } as const,
    ];
  });
}

/** All clocks at `now`, dwells and light first, then windows, each group in document order. */
export function clocksOf(
  state: CaseState,
  layout: Layout,
  statuses: StatusReader,
  now: CaseInstant,
): Clock[] {
  const running = [
    ...layout.instances.flatMap((i) => [dwellClock(i, state), lightClock(i, state)]),
    ...windowClocks(state, layout, statuses),
  ].filter((r) => r !== null);
  const groups = new Map<string, { first: Running; subjects: SubjectId[] }>();
  for (const r of running) {
    const key = `${r.clock.of}#${placeKey(r.since)}${r.heldBy}`;
    const group = groups.get(key);
    if (!group) groups.set(key, { first: r, subjects: [r.subject] });
    else if (!group.subjects.includes(r.subject)) group.subjects.push(r.subject);
  }
  return [...groups].map(([id, { first, subjects }]) => ({
    ...first.clock,
    id,
    subjects,
    elapsed: elapsed(first.since, now),
  }));
}
