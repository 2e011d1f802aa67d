import { showCame } from '../base/problem.ts';
import { err } from '../base/result.ts';
import type { JournalProblem, JournalProblemCode } from './journal-types.ts';

/** A failed call: which promise of the journal was not kept, at which place. */
function journalProblem(
  code: JournalProblemCode,
  at: { readonly place: string; readonly expected: string; readonly came: unknown },
): JournalProblem {
  return { code, place: at.place, expected: at.expected, came: showCame(at.came) };
}

/** The same, as a failed result. */
export function refuse(
  code: JournalProblemCode,
  at: { readonly place: string; readonly expected: string; readonly came: unknown },
): { readonly ok: false; readonly error: JournalProblem } {
  return err(journalProblem(code, at));
}

/** A write by a window that does not write. */
export function notWriting(): ReturnType<typeof refuse> {
  return refuse('not-writer', {
    place: 'journal',
    expected: 'startWriting, with the writer lock held, before any write',
    came: undefined,
  });
}
