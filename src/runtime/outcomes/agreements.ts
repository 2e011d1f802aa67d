/**
 * Who agreed that something is shown under the own name: entries of what the clinic says of its outcomes, one item
 * a person and thing, so that they reach every tablet. Who asks is not known to a tablet: it takes the name that it is given.
 */
import { NAME_LENGTH_MAX } from '../../base/caps.ts';
import { personKey } from '../../base/person-key.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { foldAgreements } from '../../outcomes/agreements.ts';
import type { Agreement, ReviewSaid } from '../../outcomes/review-types.ts';
import type { Journal } from '../../storage/journal-types.ts';
import { listFacts } from '../facts/fact.ts';
import { byItem, FactHistory } from '../facts/fact-history.ts';
import { type FactParts, say } from '../facts/fact-writer.ts';
import { OUTCOME_REVIEW } from '../follow-up/follow-up-state.ts';

export type AgreementSaid = Agreement & { readonly isAgreed: boolean };

/** One item for each person and each thing. */
export const agreementItem = ({ to, person }: Pick<Agreement, 'to' | 'person'>): string =>
  `${to}-${personKey(person)}`;

/** The entry that says it. Errors: `empty`, `too-long`. */
export function agreementSaid(o: AgreementSaid): Result<ReviewSaid, Problem> {
  const { isAgreed, to, onDay } = o;
  const person = o.person.trim();
  if (personKey(person) === '') return err(problem('person', 'a name', o.person, 'empty'));
  if (person.length > NAME_LENGTH_MAX) {
    return err(problem('person', `at most ${NAME_LENGTH_MAX} characters`, person, 'too-long'));
  }
  return ok({ what: isAgreed ? 'person-agreed' : 'person-withdrew', person, to, onDay });
}

/** What stands. Errors: the journal's. */
export async function readAgreed(
  journal: Pick<Journal, 'documents'>,
): Promise<Result<readonly Agreement[], Problem>> {
  const listed = await listFacts(journal, OUTCOME_REVIEW);
  if (!listed.ok) return listed;
  const histories = [...byItem(listed.value.facts).values()].map((facts) => new FactHistory(facts));
  return ok(foldAgreements(histories));
}

/** Says it where the follow-up is not read. Errors: `empty`, `too-long`, `not-writer`, the journal's. */
export async function sayAgreed(
  parts: FactParts,
  o: AgreementSaid,
): Promise<Result<null, Problem>> {
  const said = agreementSaid(o);
  if (!said.ok) return said;
  const about = { kind: OUTCOME_REVIEW, item: agreementItem(o), by: o.person } as const;
  const kept = await say(parts, { ...about, said: [said.value] });
  return kept.ok ? ok(null) : kept;
}
