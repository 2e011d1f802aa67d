/**
 * What people should notice, and when: each clock gives its cues with their due instants. A target
 * or minimum is due by the shortest possible elapsed time, a maximum by the longest. Times in ms.
 */
import { unreachable } from '../base/assert.ts';
import { isEmpty } from '../base/is-empty.ts';
import type { CaseState } from './types.ts';
import type { Clock, Cue, CueKind } from './view-types.ts';

/** A dwell gets a warning this long before its target, if it is at least three times as long. */
const NEARING_LEAD_MS = 5_000;
/** A window warns when a fifth of it is left, but never earlier than this before its end. */
const CLOSING_LEAD_MS_MAX = 120_000;
const CLOSING_SHARE = 0.2;

/** How long before its end a window starts to warn. */
export function closingLeadMs(windowMs: number): number {
  return Math.min(CLOSING_LEAD_MS_MAX, Math.round(windowMs * CLOSING_SHARE));
}

interface Due {
  readonly kind: CueKind;
  readonly inMs: number;
}

function wantedDues(clock: Clock): Due[] {
  const { targetMs, maxMs, elapsed } = clock;
  const dues: Due[] = [];
  if (targetMs !== null) {
    if (targetMs >= 3 * NEARING_LEAD_MS && clock.kind !== 'hold') {
      dues.push({ kind: 'nearing', inMs: targetMs - NEARING_LEAD_MS - elapsed.loMs });
    }
    dues.push({ kind: 'now', inMs: targetMs - elapsed.loMs });
  }
  if (maxMs !== null) dues.push({ kind: 'over', inMs: maxMs - elapsed.hiMs });
  return dues;
}

function windowDues(clock: Clock): Due[] {
  const { maxMs, elapsed } = clock;
  if (maxMs === null) return [];
  const leftMs = maxMs - elapsed.hiMs;
  return [
    { kind: 'window-closing', inMs: leftMs - closingLeadMs(maxMs) },
    { kind: 'window-broken', inMs: leftMs },
  ];
}

function duesOf(clock: Clock): Due[] {
  switch (clock.kind) {
    case 'dwell':
    case 'exposure':
    case 'hold':
    case 'rest':
      return wantedDues(clock);
    case 'window':
      return windowDues(clock);
    default:
      return unreachable(clock.kind);
  }
}

function priorityOf(kind: CueKind, clock: Clock): Cue['priority'] {
  switch (kind) {
    case 'nearing':
      return 'low';
    case 'now':
      return clock.kind === 'dwell' ? 'medium' : 'low';
    case 'window-closing':
      return clock.severity === 'note' ? 'low' : 'medium';
    case 'over':
      return 'high';
    case 'window-broken':
      return clock.severity === 'serious' ? 'high' : 'medium';
    default:
      return unreachable(kind);
  }
}

/** Whether a limit has come only by the longest time that may have passed, and not by the shortest. */
export function isInDoubt(cue: Pick<Cue, 'kind' | 'clock'>, clocks: readonly Clock[]): boolean {
  const clock = clocks.find(({ id }) => id === cue.clock);
  if (clock === undefined || clock.maxMs === null) return false;
  if (cue.kind === 'nearing' || cue.kind === 'now') return false;
  const leadMs = cue.kind === 'window-closing' ? closingLeadMs(clock.maxMs) : 0;
  return clock.maxMs - leadMs - clock.elapsed.loMs > 0;
}

/** The cues of all running clocks, soonest first; a past due is negative. */
export function cuesOf(state: CaseState, clocks: readonly Clock[]): Cue[] {
  const cues: Cue[] = [];
  // Mostly none is: then nothing is looked up by a text that was made a moment ago.
  const isNone = isEmpty(state.acknowledged);
  for (const clock of clocks) {
    // A pass of light sounds by its places.
    if (clock.paced === true) continue;
    for (const { kind, inMs } of duesOf(clock)) {
      const id = `${clock.id}/${kind}`;
      cues.push({
        id,
        kind,
        clock: clock.id,
        of: clock.of,
        subjects: clock.subjects,
        priority: priorityOf(kind, clock),
        dueInMs: inMs,
        acknowledged: !isNone && state.acknowledged[id] === true,
      });
    }
  }
  return cues.sort((a, b) => (a.dueInMs === b.dueInMs ? 0 : a.dueInMs - b.dueInMs));
}
