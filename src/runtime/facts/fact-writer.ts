/** Says new things of an item: each fact follows every fact of it that this tablet knows. */
import { FACT_AFTER_MAX } from '../../base/caps.ts';
import { type OneByOne, oneByOne } from '../../base/one-by-one.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { Journal } from '../../storage/journal-types.ts';
import { asFacts, type Fact, type FactKind, keepFact, listFacts } from './fact.ts';
import { headsOf } from './fact-history.ts';

export interface FactParts {
  readonly journal: Journal;
  /** The writer's epoch; null while another window writes. */
  readonly epoch: () => number | null;
  readonly tablet: () => string;
  readonly nowWallMs: () => number;
}

export interface Saying {
  readonly kind: FactKind;
  readonly item: string;
  /** One fact each, in this order. */
  readonly said: readonly unknown[];
  readonly by: string | null;
  /** What its writer had seen of the item, of all that this tablet knows; everything when left out. */
  readonly seen?: (known: readonly Fact[]) => readonly string[];
  /** The facts of the item that are kept, where they are in memory; else every fact of the kind is read. */
  readonly known?: () => readonly Fact[];
}

/** One after the other: two that were said at once would not know of each other. */
const lines = new WeakMap<Journal, OneByOne>();

/** Keeps what is said, one fact after the other. Errors: `not-writer`, and the journal's. */
export function say(parts: FactParts, saying: Saying): Promise<Result<readonly Fact[], Problem>> {
  const inLine = lines.get(parts.journal) ?? oneByOne();
  lines.set(parts.journal, inLine);
  return inLine(() => sayNow(parts, saying));
}

async function sayNow(
  { journal, epoch, tablet, nowWallMs }: FactParts,
  { kind, item, said, by, seen = headsOf, known: inMemory }: Saying,
): Promise<Result<readonly Fact[], Problem>> {
  const own = epoch();
  if (own === null) {
    return err(problem('window', 'this window to be the one that writes', 'reader', 'not-writer'));
  }
  const listed = inMemory ? ok({ facts: inMemory() }) : await listFacts(journal, kind);
  if (!listed.ok) return listed;
  const known = listed.value.facts.filter((fact) => fact.item === item);
  const after = seen(known).slice(0, FACT_AFTER_MAX);
  const about = { kind, item, after, tablet: tablet(), by, atWallMs: nowWallMs() };
  const facts = asFacts({ ...about, said });
  for (const fact of facts) {
    const done = await keepFact(journal, fact, own);
    if (!done.ok) return done;
  }
  return ok(facts);
}
