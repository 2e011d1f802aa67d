/** Words that were added to a line at the signature: they stand beside what they are about. */
import { breachId, gapId, skippedId, voidedId } from '../engine/sign-list.ts';
import { exportWords } from '../words/export-words.ts';
import { breachLine, gapLine, type Telling, wayBackLine } from './export-words.ts';
import type { RecordFacts, StepFact, VoidedFact, WindowFact } from './record-types.ts';

type Notes = Pick<RecordFacts, 'notes'>;

/** All that was said of this; empty where nothing was. */
export function saidOf({ notes }: Notes, id: string): string {
  return notes.flatMap(({ about, words }) => (about === id ? [words] : [])).join('; ');
}

/** The line of a record with what was said of it. */
export function withSaid(facts: Notes, id: string, line: string): string {
  const said = saidOf(facts, id);
  return said === '' ? line : exportWords.said({ line, said });
}

/** What a note is about, in words; as it was written where it is about nothing that is listed. */
export function aboutWords(facts: RecordFacts, id: string, tell: Telling): string {
  const breach = facts.breaches.find((b) => breachId(b) === id);
  if (breach) return breachLine(breach);
  const gap = facts.gaps.find(({ seq }) => gapId(seq) === id);
  if (gap) return gapLine(gap, tell);
  const voided = facts.waysBack.find(({ pressed }) => voidedId(pressed.press) === id);
  if (voided) return wayBackLine(voided);
  const skipped = facts.steps.find(({ reason }) => reason !== null && skippedId(reason) === id);
  return skipped?.reason ? exportWords.skippedFor(skipped.reason) : id;
}

/** What was said of a limit of this step or window on this subject; null where nothing was. */
function ofBreaches(facts: RecordFacts, of: string, subject: string): readonly string[] {
  return facts.breaches
    .filter((b) => b.of === of && b.subject === subject)
    .map((b) => saidOf(facts, breachId(b)));
}

const orNull = (said: readonly string[]): string | null => said.filter(Boolean).join('; ') || null;

export const saidOfWindow = (facts: RecordFacts, { window, subject }: WindowFact): string | null =>
  orNull(ofBreaches(facts, window, subject));

export function saidOfStep(
  facts: RecordFacts,
  { step, subject, status, reason }: StepFact,
  voided: VoidedFact | null,
): string | null {
  if (voided !== null) return saidOf(facts, voidedId(voided.voidedByPress)) || null;
  const skipped = status === 'skipped' && reason !== null ? saidOf(facts, skippedId(reason)) : '';
  return orNull([...ofBreaches(facts, step, subject), skipped]);
}
