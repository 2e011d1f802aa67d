/** What is said of one clinic is nothing to another: a tablet that was tried elsewhere before still has it. */
import { fieldsOf } from '../../base/json.ts';
import { type Root, verifiedStatement } from '../../sync/members.ts';
import type { Fact } from '../facts/fact.ts';

type Kept = Pick<Fact, 'kind' | 'said'>;

/** The box of another clinic, or a word about it. */
export const isOfOtherSite = ({ kind, said }: Kept, { site }: Pick<Root, 'site'>): boolean =>
  kind === 'clinic' && fieldsOf(said)['site'] !== site;

/** A word about tablets that the key of this clinic did not sign, or the box of another. */
export async function isOfOtherClinic(crypto: Crypto, root: Root, fact: Kept): Promise<boolean> {
  if (isOfOtherSite(fact, root)) return true;
  return fact.kind === 'tablet' && (await verifiedStatement(crypto, root, fact.said)) === null;
}
