/** The lines of cases that lie on the store alone, for lists and searches: read once, and again once they changed. */
import type { SharingDatabase } from '../../sync/sharing-database.ts';
import { storeOnlyRows } from '../../sync/store-only-rows.ts';
import { type CaseFacts, SharedFacts, summaryFacts } from '../cases/cases-list-facts.ts';
import { parseCaseFacts } from '../cases/parse-case-facts.ts';

/** How many there are, and a number that rises with every change of one. */
export interface StoreOnlyState {
  readonly count: number;
  readonly revision: number;
}

/** Follows how many there are; counts anew only after something has changed. */
export class StoreOnlyCount {
  readonly #onChange: () => void;
  #state: StoreOnlyState = { count: 0, revision: 0 };
  #isDirty = true;

  constructor(onChange: () => void) {
    this.#onChange = onChange;
  }

  get state(): StoreOnlyState {
    return this.#state;
  }

  changed(): void {
    this.#isDirty = true;
  }

  async look(database: Pick<SharingDatabase, 'count'>): Promise<void> {
    if (!this.#isDirty) return;
    this.#isDirty = false;
    const count = await database.count('storeOnly');
    this.#state = { count, revision: this.#state.revision + 1 };
    this.#onChange();
  }
}

export class StoreOnlyLines {
  readonly #database: Pick<SharingDatabase, 'all'>;
  #read: { readonly revision: number; readonly facts: Promise<readonly CaseFacts[]> } | null = null;

  constructor(database: Pick<SharingDatabase, 'all'>) {
    this.#database = database;
  }

  /** In the order of their ids. */
  read(revision: number): Promise<readonly CaseFacts[]> {
    if (this.#read?.revision !== revision) {
      const facts = this.#readAll();
      this.#read = { revision, facts };
      facts.catch(() => {
        this.#read = null;
      });
    }
    return this.#read?.facts ?? Promise.resolve([]);
  }

  async #readAll(): Promise<readonly CaseFacts[]> {
    const shared = new SharedFacts();
    const all: CaseFacts[] = [];
    for await (const { facts, summary } of storeOnlyRows(this.#database)) {
      // What another version worked out is read again with the store.
      const known = parseCaseFacts(facts) ?? summaryFacts(summary);
      all.push({ ...shared.of(known), isStoreOnly: true });
    }
    return all;
  }
}
