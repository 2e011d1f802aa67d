/** What the lead signed of tablets becomes facts of the clinic: every tablet and every backup has them. */

import { fieldsOf } from '../../base/json.ts';
import type { Problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import type { SignedStatement } from '../../sync/sealed-types.ts';
import { listFacts } from '../facts/fact.ts';
import { type FactParts, say } from '../facts/fact-writer.ts';

/** Says all of them, also where one cannot be kept. Errors: the first of `say`. */
export async function sayStatements(
  facts: FactParts,
  statements: readonly SignedStatement[],
): Promise<Result<null, Problem>> {
  let result: Result<null, Problem> = ok(null);
  for (const signed of statements) {
    const item = signed.statement.device;
    const said = await say(facts, { kind: 'tablet', item, said: [signed], by: null });
    if (!said.ok && result.ok) result = said;
  }
  return result;
}

/**
 * Says what is no fact here yet, what is about this tablet first: whoever let it in may never have heard that it
 * came in, and its word counts nowhere before that is known.
 */
export async function sayMissing(
  facts: FactParts,
  o: { readonly statements: readonly SignedStatement[]; readonly device: string },
): Promise<Result<null, Problem>> {
  const listed = await listFacts(facts.journal, 'tablet');
  if (!listed.ok) return listed;
  const known = new Set(listed.value.facts.map(({ said }) => fieldsOf(said)['signature']));
  const missing = o.statements.filter(({ signature }) => !known.has(signature));
  const isOwn = ({ statement }: SignedStatement): boolean => statement.device === o.device;
  return sayStatements(facts, [
    ...missing.filter(isOwn),
    ...missing.filter((each) => !isOwn(each)),
  ]);
}
