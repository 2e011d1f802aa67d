/** The facts of one item as their writers knew of each other. */
import { FACT_AFTER_MAX } from '../../base/caps.ts';
import { History } from '../../base/history.ts';
import type { Fact } from './fact.ts';

export class FactHistory extends History<Fact> {}

/** What a new fact follows of these of its item. More than a fact may name stay beside it, and are told then. */
export const headsOf = (facts: readonly Fact[]): readonly string[] =>
  new FactHistory(facts).heads.slice(0, FACT_AFTER_MAX);

/** Facts by their item. */
export function byItem(facts: readonly Fact[]): ReadonlyMap<string, readonly Fact[]> {
  const found = new Map<string, Fact[]>();
  for (const fact of facts) {
    const before = found.get(fact.item);
    if (before === undefined) found.set(fact.item, [fact]);
    else before.push(fact);
  }
  return found;
}
