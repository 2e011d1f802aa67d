/**
 * The log of a case and its fold. Corrections are entries like any other, but they change how
 * earlier entries are read: a retracted press is left out, a retimed press is moved, a settled gap
 * gets its length. After a correction the log is folded anew, so that undo gives back exactly the
 * state before.
 */
import { assert, present } from '../base/assert.ts';
import { apply } from './apply.ts';
import { type Correction, placed } from './apply-clock.ts';
import type { OwnRuns } from './apply-run.ts';
import { shift } from './axis.ts';
import { traitsOf } from './event-traits.ts';
import type { CaseEvent, CaseInstant, CaseState, Recorded, Stamp } from './types.ts';

export interface CaseLog {
  readonly records: readonly Recorded[];
  readonly state: CaseState;
}

interface Corrections {
  readonly retracted: ReadonlySet<number>;
  readonly shiftMs: ReadonlyMap<number, number>;
  readonly settledMs: ReadonlyMap<number, number>;
}

/** Reads corrections from the newest to the oldest, so that an undone undo counts for nothing. */
function correctionsIn(records: readonly Recorded[]): Corrections {
  const retracted = new Set<number>();
  const shiftMs = new Map<number, number>();
  const settledMs = new Map<number, number>();
  for (let i = records.length - 1; i >= 0; i--) {
    const { event, press } = present(records[i], 'record');
    if (retracted.has(press)) continue;
    if (event.type === 'press-retracted') retracted.add(event.press);
    else if (event.type === 'press-retimed') {
      shiftMs.set(event.press, (shiftMs.get(event.press) ?? 0) + event.byMs);
    } else if (event.type === 'gap-settled' && !settledMs.has(event.gap)) {
      settledMs.set(event.gap, event.lengthMs);
    }
  }
  return { retracted, shiftMs, settledMs };
}

const correctionOf = (all: Corrections, recorded: Recorded): Correction => ({
  shiftMs: all.shiftMs.get(recorded.press) ?? 0,
  settledMs: all.settledMs.get(recorded.seq) ?? null,
});

function fold(
  records: readonly Recorded[],
  corrections: Corrections,
  visit?: (met: CaseState, recorded: Recorded) => void,
): CaseState {
  let state: CaseState | null = null;
  const own: OwnRuns = new Map();
  for (const recorded of records) {
    if (corrections.retracted.has(recorded.press)) continue;
    if (state !== null) visit?.(state, recorded);
    state = apply(state, recorded, correctionOf(corrections, recorded), own);
  }
  return present(state, 'a log with at least one entry');
}

/** Folds a whole log. The first record must open the case. */
export function replay(records: readonly Recorded[]): CaseLog {
  return { records, state: fold(records, correctionsIn(records)) };
}

/** Shows each entry that counts, but for the first, with the state that it met: to be read, not kept. */
export function eachKept(
  records: readonly Recorded[],
  visit: (met: CaseState, recorded: Recorded) => void,
): void {
  fold(records, correctionsIn(records), visit);
}

/** The state that a press met, read with all corrections that were made since. */
export function stateBefore(log: CaseLog, press: number): CaseState {
  const earlier = log.records.filter((r) => r.press < press);
  return fold(earlier, correctionsIn(log.records));
}

/** Where a press lies now, with all corrections that were made since. */
export function momentOf(log: CaseLog, press: number): CaseInstant {
  const first = present(
    log.records.find((r) => r.press === press),
    `press ${press}`,
  );
  const correction = correctionOf(correctionsIn(log.records), first);
  return shift(placed(stateBefore(log, press), first, correction).at, correction.shiftMs);
}

/** Where each press that counts lies now; one fold, for readers that need them all. */
export function momentsOf(log: CaseLog): ReadonlyMap<number, CaseInstant> {
  const corrections = correctionsIn(log.records);
  const moments = new Map<number, CaseInstant>();
  const own: OwnRuns = new Map();
  let state: CaseState | null = null;
  for (const recorded of log.records) {
    if (corrections.retracted.has(recorded.press)) continue;
    const correction = correctionOf(corrections, recorded);
    if (state !== null && !moments.has(recorded.press)) {
      const { at } = placed(state, recorded, correction);
      moments.set(recorded.press, shift(at, correction.shiftMs));
    }
    state = apply(state, recorded, correction, own);
    if (moments.size === 0) moments.set(recorded.press, state.anchor.at);
  }
  return moments;
}

/** Adds the records of one press to a log. */
export function extend(log: CaseLog | null, batch: readonly Recorded[]): CaseLog {
  const records = [...(log?.records ?? []), ...batch];
  if (log === null || batch.some((r) => traitsOf(r.event).isCorrecting)) return replay(records);
  const state = batch.reduce<CaseState>((s, r) => apply(s, r), log.state);
  return { records, state };
}

/** Numbers the events of one press so that they can be written and applied. */
export function recordPress(o: {
  readonly log: CaseLog | null;
  readonly events: readonly CaseEvent[];
  readonly stamp: Stamp;
  readonly by: string | null;
}): Recorded[] {
  const last = o.log?.records.at(-1);
  const seq = last ? last.seq + 1 : 0;
  const press = last ? last.press + 1 : 0;
  assert(o.events.length > 0, 'a press records something');
  return o.events.map((event, i) => ({ seq: seq + i, press, stamp: o.stamp, by: o.by, event }));
}

/** Press numbers that still count and can be taken back, newest last; the opening cannot. */
export function presses(log: CaseLog): number[] {
  const { retracted } = correctionsIn(log.records);
  const counted = new Set<number>();
  for (const { press, event, by } of log.records) {
    if (press === 0 || retracted.has(press) || by === null) continue;
    if (traitsOf(event).canBeTakenBack) counted.add(press);
  }
  return [...counted];
}

/** The presses that can be retimed, newest last. */
export function timedPresses(log: CaseLog): number[] {
  const timed = new Set(log.records.filter((r) => traitsOf(r.event).isTimed).map((r) => r.press));
  return presses(log).filter((press) => timed.has(press));
}
