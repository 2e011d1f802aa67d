/**
 * The entries of one kind in the memory of this window: read once, and one by one as they come. Reading a
 * fact means hashing it, so nothing is read twice.
 */
import { ok, type Result } from '../../base/result.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import { type Fact, type FactKind, factDocument, listFacts, readFact } from '../facts/fact.ts';

export class KnownEntries {
  readonly #journal: Pick<Journal, 'documents'>;
  readonly #kind: FactKind;
  readonly #byItem = new Map<string, Map<string, Fact>>();
  readonly #itemOf = new Map<string, string>();
  readonly #damaged = new Set<string>();

  constructor(journal: Pick<Journal, 'documents'>, kind: FactKind) {
    this.#journal = journal;
    this.#kind = kind;
  }

  /** Reads everything. Errors: the journal's. */
  async read(): Promise<Result<null, JournalProblem>> {
    const listed = await listFacts(this.#journal, this.#kind);
    if (!listed.ok) return listed;
    for (const fact of listed.value.facts) this.add(fact);
    // What was deleted with its case leaves a mark without a value.
    for (const { id, value } of listed.value.damaged) if (value !== null) this.#damaged.add(id);
    return ok(null);
  }

  /** Reads one that came, or went. Returns its item; null where there is none. */
  async readOne(id: string): Promise<string | null> {
    const read = await this.#journal.documents.get(factDocument(this.#kind), { id });
    if (!read.ok) return null;
    const fact = readFact({ kind: factDocument(this.#kind), id, value: read.value });
    const before = this.#itemOf.get(id) ?? null;
    if (fact !== null) {
      this.add(fact);
      return fact.item;
    }
    if (read.value !== null) this.#damaged.add(id);
    else if (before !== null) {
      this.#byItem.get(before)?.delete(id);
      this.#itemOf.delete(id);
    }
    return before;
  }

  add(fact: Fact): void {
    const own = this.#byItem.get(fact.item) ?? new Map<string, Fact>();
    own.set(fact.id, fact);
    this.#byItem.set(fact.item, own);
    this.#itemOf.set(fact.id, fact.item);
    this.#damaged.delete(fact.id);
  }

  /** Nothing is known of an item any more. */
  drop(item: string): void {
    for (const id of this.#byItem.get(item)?.keys() ?? []) this.#itemOf.delete(id);
    this.#byItem.delete(item);
  }

  get items(): readonly string[] {
    return [...this.#byItem.keys()];
  }

  of(item: string): readonly Fact[] {
    return [...(this.#byItem.get(item)?.values() ?? [])];
  }

  /** Documents that are not what their name stands for; they stay stored as they are. */
  get damaged(): number {
    return this.#damaged.size;
  }
}
