/**
 * What must hold whatever happens, each against a reference that is simpler than the code. A broken one
 * is thrown as {@link Broken}; the world adds seed and step.
 */
import { isDeepStrictEqual } from 'node:util';
import { present } from '../../src/base/assert.ts';
import { type CaseLog, replay } from '../../src/engine/log.ts';
import type { CaseState, Recorded } from '../../src/engine/types.ts';
import type { Clock, View } from '../../src/engine/view-types.ts';
import { journalJson } from '../../src/export/journal-text.ts';
import type { RunningCase } from '../../src/runtime/app-state.ts';
import type { SoundStatus } from '../../src/runtime/sound/audio.ts';
import type { CaseReading, JournalEntry } from '../../src/storage/journal-types.ts';
import type { OldJournal } from './old-journals.ts';
import type { Standing } from './truth.ts';

export type Invariant =
  | 'I1'
  | 'I2'
  | 'I3'
  | 'I4'
  | 'I5'
  | 'I6'
  | 'I7'
  | 'I8'
  | 'I9'
  | 'I10'
  | 'I11'
  | 'I12'
  | 'I13'
  | 'I14'
  | 'I15'
  | 'I16';

export class Broken extends Error {
  readonly invariant: Invariant;

  constructor(invariant: Invariant, what: string) {
    super(`${invariant}: ${what}`);
    this.invariant = invariant;
  }
}

/**
 * The clocks count as agreeing within 250 ms (`engine/axis.ts`), stamps are whole milliseconds, and a
 * quartz is off by 50 ppm at most.
 */
const toleratedMs = (lengthMs: number): number => 254 + lengthMs * 1e-4;

interface When {
  readonly nowMs: number;
  /** So much no clock could tell. */
  readonly hiddenMs: number;
}

function checkLength(clock: Clock, key: string, { nowMs, hiddenMs }: When, sinceMs: number): void {
  const truthMs = nowMs - sinceMs;
  const { loMs, hiMs } = clock.elapsed;
  const offMs = toleratedMs(truthMs);
  if (truthMs >= loMs - offMs && truthMs <= hiMs + offMs + hiddenMs) return;
  throw new Broken(
    'I1',
    `${clock.kind} ${key} shows ${loMs} to ${hiMs} ms, true are ${truthMs} ms`,
  );
}

/** I1: what is shown contains the time that has truly passed. */
export function checkElapsed(running: RunningCase, standing: Standing, when: When): void {
  const { windows } = running.log.state.opened.protocol;
  for (const clock of running.view.clocks) {
    if (clock.isSpread) continue;
    for (const subject of clock.subjects) {
      const key = `${clock.of}@${subject}`;
      if (clock.kind === 'dwell') {
        const sinceMs = standing.dwells.get(key);
        if (typeof sinceMs === 'number') checkLength(clock, key, when, sinceMs);
        continue;
      }
      const window = windows.find(({ id }) => id === clock.of);
      if (window === undefined || window.match !== 'same') continue;
      const sinceMs = standing.edges.get(`${window.from.step}@${subject}/${window.from.edge}`);
      if (typeof sinceMs === 'number') checkLength(clock, key, when, sinceMs);
    }
  }
}

/** I2: what was begun and not ended has its clock, and nothing else has one. */
export function checkClocks({ view, log }: RunningCase, standing: Standing): void {
  const shown = new Set<string>();
  for (const { kind, of, subjects } of view.clocks) {
    if (kind === 'dwell') for (const subject of subjects) shown.add(`${of}@${subject}`);
  }
  const { protocol } = log.state.opened;
  for (const key of standing.dwells.keys()) {
    const step = protocol.steps.find(({ id }) => id === key.split('@')[0]);
    if (step?.action.kind !== 'dwell') continue;
    if (!shown.delete(key)) throw new Broken('I2', `${key} was begun, and no clock runs for it`);
  }
  const [more] = shown;
  if (more !== undefined) throw new Broken('I2', `a clock runs for ${more}, which nobody began`);
}

/** I3: what is over has one alarm for each clock, until somebody acknowledges it. */
export function checkAlarms(view: View, standing: Standing, nowMs: number): void {
  const ids = new Set(view.cues.map(({ id }) => id));
  if (ids.size !== view.cues.length) throw new Broken('I3', 'two alarms have one id');
  for (const clock of view.clocks) {
    if (clock.kind !== 'dwell' || clock.maxMs === null || clock.isSpread) continue;
    const sinceMs = standing.dwells.get(`${clock.of}@${clock.subjects[0] ?? ''}`);
    if (typeof sinceMs !== 'number') continue;
    const isOver = nowMs - sinceMs > clock.maxMs + toleratedMs(clock.maxMs);
    const told = view.cues.filter((c) => c.clock === clock.id && c.kind === 'over');
    const due = told.filter((c) => c.dueInMs <= 0);
    if (isOver && due.length !== 1) {
      throw new Broken('I3', `${clock.of} is over, and ${due.length} alarms say so`);
    }
    for (const { id, acknowledged } of told) {
      if (acknowledged === standing.acknowledged.has(id)) continue;
      throw new Broken(
        'I3',
        `${id} is ${acknowledged ? '' : 'not '}acknowledged, and nobody did that`,
      );
    }
  }
}

/** I4: what is shown as saved is among what the journal has acknowledged. */
export function checkSaved(log: CaseLog, kept: readonly string[]): void {
  const missing = log.records.findIndex(({ seq }) => kept[seq] === undefined);
  if (missing >= 0)
    throw new Broken('I4', `entry ${missing} is shown as saved and was never stored`);
}

/** I4 and I6: everything acknowledged is read again, and its chain holds. */
export function checkReading(reading: CaseReading, kept: readonly string[]): void {
  const { entries, verdict, caseId, apart } = reading;
  if (verdict.firstBad !== null) {
    const { index, reason } = verdict.firstBad;
    throw new Broken(
      'I6',
      `${caseId}: entry ${index} is bad (${reason}), ${apart.length} set apart`,
    );
  }
  kept.forEach((hash, seq) => {
    if (entries[seq]?.hash === hash) return;
    throw new Broken(
      'I4',
      `${caseId}: entry ${seq} of ${kept.length} was acknowledged and is gone`,
    );
  });
  let epoch = 0;
  for (const entry of entries) {
    // Each tablet counts its own.
    if (entry.event.type === 'pen-taken') epoch = 0;
    if (entry.epoch < epoch)
      throw new Broken('I7', `${caseId}: entry ${entry.seq} is of an older writer`);
    epoch = entry.epoch;
  }
}

/** I5: the state is what its journal says, folded from nothing. */
export function checkReplay(log: CaseLog): void {
  const again = replay(log.records);
  if (isDeepStrictEqual(again.state, log.state)) return;
  throw new Broken(
    'I5',
    `the state is not that of its ${log.records.length} records: ${differences(log.state, again.state)}`,
  );
}

/** I5: what is stored is what was pressed. */
export function checkStored(pressed: readonly Recorded[], entries: readonly JournalEntry[]): void {
  pressed.forEach(({ seq, press, stamp, by, event }, i) => {
    const { hash: _h, prev: _p, epoch: _e, caseId, ...stored } = present(entries[i], 'an entry');
    if (isDeepStrictEqual({ seq, press, stamp, by, event }, stored)) return;
    throw new Broken('I5', `${caseId}: entry ${seq} is stored as something else than was pressed`);
  });
}

function differences(a: CaseState, b: CaseState): string {
  const keys = Object.keys(a) as (keyof CaseState)[];
  return keys.filter((key) => !isDeepStrictEqual(a[key], b[key])).join(', ');
}

/** A watch looks each half second, and needs two looks to tell. */
const SILENCE_TOLD_MS = 1600;

/** I9: sound is not claimed while the clock of the loudspeaker stands still. */
export function checkSound(o: {
  readonly state: SoundStatus['state'];
  readonly stalledMs: number;
}): void {
  if (o.state !== 'on' || o.stalledMs < SILENCE_TOLD_MS) return;
  throw new Broken('I9', `sound is said to be on, and has stood still for ${o.stalledMs} ms`);
}

/** I11: a journal of an older format reads as it was written. */
export function checkOld(
  { caseId, text }: OldJournal,
  o: { readonly reading: CaseReading; readonly spoil?: ((text: string) => string) | undefined },
): void {
  const written = journalJson({ caseId, entries: o.reading.entries });
  if ((o.spoil?.(written) ?? written) === text) return;
  throw new Broken(
    'I11',
    `${caseId} of the first format is told in another way than it was written`,
  );
}

/** I10: the same journal gives the same bytes. */
export function checkExport(
  { caseId, entries }: CaseReading,
  o: {
    readonly known: Map<string, string>;
    readonly spoil?: ((text: string) => string) | undefined;
  },
): void {
  const text = journalJson({ caseId, entries });
  const key = `${caseId}/${entries.at(-1)?.hash ?? ''}`;
  const before = o.known.get(key) ?? o.spoil?.(text) ?? text;
  o.known.set(key, before);
  if (before !== text) throw new Broken('I10', `${caseId}: one journal was exported as two texts`);
}

/** What an undo has to give back: all but where the clocks stand and what the app noted of them. */
export function undoable({ anchor: _a, gaps: _g, ...state }: CaseState): unknown {
  return state;
}

/** I12: undo gives back what stood before the press. */
export function checkUndo(before: unknown, after: CaseState): void {
  if (isDeepStrictEqual(before, undoable(after))) return;
  const was = before as CaseState;
  throw new Broken(
    'I12',
    `undo gave back something else: ${differences({ ...after, ...was }, after)}`,
  );
}
