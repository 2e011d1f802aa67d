/**
 * The log of a case and its fold. Corrections are entries like any other, but they change how
 * earlier entries are read: a retracted press is left out, a retimed press is moved, a settled gap
 * gets its length. After a correction the log is folded anew, so that undo gives back exactly the
 * state before.
 */
import { assert, present } from '../base/assert.ts';
import { apply } from './apply.ts';
import type { Correction } from './apply-clock.ts';
import type { CaseEvent, CaseState, Recorded, Stamp } from './types.ts';

export interface CaseLog {
  readonly records: readonly Recorded[];
  readonly state: CaseState;
}

interface Corrections {
  readonly retracted: ReadonlySet<number>;
  readonly shiftMs: ReadonlyMap<number, number>;
  readonly settledMs: ReadonlyMap<number, number>;
}

const CORRECTING: readonly CaseEvent['type'][] = [
  'press-retracted',
  'press-retimed',
  'gap-settled',
];

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

/** Folds a whole log. The first record must open the case. */
export function replay(records: readonly Recorded[]): CaseLog {
  const corrections = correctionsIn(records);
  let state: CaseState | null = null;
  for (const recorded of records) {
    if (corrections.retracted.has(recorded.press)) continue;
    const correction: Correction = {
      shiftMs: corrections.shiftMs.get(recorded.press) ?? 0,
      settledMs: corrections.settledMs.get(recorded.seq) ?? null,
    };
    state = apply(state, recorded, correction);
  }
  return { records, state: present(state, 'a log with at least one entry') };
}

/** Adds the records of one press to a log. */
export function extend(log: CaseLog | null, batch: readonly Recorded[]): CaseLog {
  const records = [...(log?.records ?? []), ...batch];
  if (log === null || batch.some((r) => CORRECTING.includes(r.event.type))) return replay(records);
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
    if (event.type !== 'press-retracted') counted.add(press);
  }
  return [...counted];
}
