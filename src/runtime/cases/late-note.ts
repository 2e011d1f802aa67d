/** A note to a case that is signed: added after everything else, never written into it. */
import { problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { decide } from '../../engine/decide.ts';
import { recordPress, replay } from '../../engine/log.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import { tellReadBack } from '../../words/read-back-words.ts';
import type { Clock } from '../device/clock.ts';

export interface LateNote {
  readonly caseId: string;
  readonly words: string;
  /** Id of a person of the case. */
  readonly by: string;
}

type Refused = ReturnType<typeof problem> | JournalProblem;

/** Adds the note. Errors: `case-open`, `note-empty`, and those of the journal. */
export async function addLateNote(
  parts: { readonly journal: Journal; readonly clock: Clock; readonly epoch: number },
  { caseId, words, by }: LateNote,
): Promise<Result<null, Refused>> {
  const { journal, clock, epoch } = parts;
  const read = await journal.read(caseId);
  if (!read.ok) return read;
  const place = `case ${caseId}`;
  const { entries } = read.value;
  const log = entries.length === 0 ? null : replay(entries);
  if (log === null || log.state.closed === null) {
    return err(problem(place, 'a case that is signed', 'one that is open', 'case-open'));
  }
  const stamp = clock.stamp();
  const decided = decide(log, { do: 'note', words }, stamp, tellReadBack);
  if (!decided.ok) return err(problem(place, 'a note in words', words, 'note-empty'));
  const recorded = recordPress({ log, events: decided.value, stamp, by });
  const stored = await journal.append({ caseId, epoch, recorded });
  return stored.ok ? ok(null) : stored;
}
