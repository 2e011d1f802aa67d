/** Words that were added to a line at the signature: they stand beside what they are about. */
import { breachId, gapId, skippedId, voidedId } from '../engine/sign-list.ts';
import { exportWords } from '../words/export-words.ts';
import { breachLine, gapLine, type Telling, wayBackLine } from './export-words.ts';
import type { BreachFact, RecordFacts, StepFact, VoidedFact, WindowFact } from './record-types.ts';

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

/** What was said of these limits; null where nothing was. */
const ofBreaches = (facts: RecordFacts, breaches: readonly BreachFact[]): readonly string[] =>
  breaches.map((b) => saidOf(facts, breachId(b)));

const orNull = (said: readonly string[]): string | null => said.filter(Boolean).join('; ') || null;

export function saidOfWindow(facts: RecordFacts, { window, subject }: WindowFact): string | null {
  const own = facts.breaches.filter((b) => b.of === window && b.subject === subject);
  return orNull(ofBreaches(facts, own));
}

/** Breaches of this run: what was done again is another run of the same step on the same subject. */
function ofRun(facts: RecordFacts, { step, subject, start, end }: StepFact): readonly BreachFact[] {
  const last = end?.pressed?.press ?? Number.POSITIVE_INFINITY;
  const first = start?.pressed?.press ?? (end === null ? Number.NEGATIVE_INFINITY : last);
  return facts.breaches.filter(
    (b) => b.of === step && b.subject === subject && b.press >= first && b.press <= last,
  );
}

export function saidOfStep(
  facts: RecordFacts,
  step: StepFact,
  voided: VoidedFact | null,
): string | null {
  const { status, reason } = step;
  const ofVoid = voided === null ? '' : saidOf(facts, voidedId(voided.voidedByPress));
  const isSkipped = voided === null && status === 'skipped' && reason !== null;
  const ofSkip = isSkipped ? saidOf(facts, skippedId(reason)) : '';
  return orNull([...ofBreaches(facts, ofRun(facts, step)), ofVoid, ofSkip]);
}
