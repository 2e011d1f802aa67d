/** Who belongs to the clinic, as far as that is known before anything is read. */
import type { Journal } from '../../storage/journal-types.ts';
import { verifiedStatement } from '../../sync/members.ts';
import type { Membership, SignedStatement } from '../../sync/sealed-types.ts';
import { listFacts } from '../facts/fact.ts';

/** Statements about tablets that came with the membership or are kept as facts, verified, each once. */
export async function knownStatements(o: {
  readonly crypto: Crypto;
  readonly journal: Journal;
  readonly membership: Membership;
  readonly statements: readonly SignedStatement[];
}): Promise<readonly SignedStatement[]> {
  const listed = await listFacts(o.journal, 'tablet');
  const said = listed.ok ? listed.value.facts.map((fact) => fact.said) : [];
  const verified = await Promise.all(
    [...o.statements, ...said].map((one) => verifiedStatement(o.crypto, o.membership, one)),
  );
  const found = verified.filter((one) => one !== null);
  return [...new Map(found.map((one) => [one.signature, one])).values()];
}
