/** A note to a case that is signed: added after everything else, never written into it. */
import { problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { decide } from '../../engine/decide.ts';
import { type CaseLog, recordPress, replay } from '../../engine/log.ts';
import { holdsPen } from '../../engine/pen.ts';
import type { CaseEvent, Stamp } from '../../engine/types.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import { tellReadBack } from '../../words/read-back-words.ts';
import type { Clock } from '../device/clock.ts';

export interface LateNote {
  readonly caseId: string;
  readonly words: string;
  /** Id of a person of the case. */
  readonly by: string;
  /** The case as the page that asks has read it. */
  readonly known?: CaseLog;
}

/** This tablet among others of its clinic, and the name of the one that has the case. */
export interface Writer {
  readonly tablet: string;
  readonly name: string;
  readonly fromName: string;
}

type Refused = ReturnType<typeof problem> | JournalProblem;

/** A signed case of another tablet is taken by the note itself. */
function takenFirst(log: CaseLog, pen: Writer | null, stamp: Stamp): readonly CaseEvent[] {
  if (pen === null || holdsPen(log.state.pen, pen.tablet)) return [];
  const take = { do: 'take-pen', ...pen, isHeard: false } as const;
  const decided = decide(log, take, stamp, tellReadBack);
  return decided.ok ? decided.value : [];
}

async function readLog(journal: Journal, caseId: string): Promise<Result<CaseLog | null, Refused>> {
  const read = await journal.read(caseId);
  if (!read.ok) return read;
  const { entries } = read.value;
  return ok(entries.length === 0 ? null : replay(entries));
}

/**
 * Adds the note. Where the case is `known`, it is handed to the journal before anything is waited
 * for: the page may be left at once. Errors: `case-open`, `note-empty`, and those of the journal.
 */
export async function addLateNote(
  parts: {
    readonly journal: Journal;
    readonly clock: Clock;
    readonly epoch: number;
    readonly pen?: () => Writer | null;
  },
  note: LateNote,
): Promise<Result<null, Refused>> {
  const { caseId, words, by, known } = note;
  const { journal, clock, epoch } = parts;
  let log: CaseLog | null = known ?? null;
  if (log === null) {
    const read = await readLog(journal, caseId);
    if (!read.ok) return read;
    log = read.value;
  }
  const place = `case ${caseId}`;
  if (log === null || log.state.closed === null) {
    return err(problem(place, 'a case that is signed', 'one that is open', 'case-open'));
  }
  const stamp = clock.stamp();
  const decided = decide(log, { do: 'note', words }, stamp, tellReadBack);
  if (!decided.ok) return err(problem(place, 'a note in words', words, 'note-empty'));
  const events = [...takenFirst(log, parts.pen?.() ?? null, stamp), ...decided.value];
  const recorded = recordPress({ log, events, stamp, by });
  const stored = await journal.append({ caseId, epoch, recorded });
  if (stored.ok) return ok(null);
  // The page knew less of the case than the journal does.
  const isBehind = known !== undefined && stored.error.code === 'wrong-seq';
  return isBehind ? addLateNote(parts, { caseId, words, by }) : stored;
}
