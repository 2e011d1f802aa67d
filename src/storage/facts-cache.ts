/**
 * What was worked out from cases, kept so that it need not be worked out at every start. Nothing
 * here is a record: it is no part of the journal or of a backup, and losing it costs only time.
 */
import { type DBSchema, openDB } from 'idb';

const NAME = 'lutewatch-facts';

/** Something that was worked out from one case. */
interface CachedFacts {
  readonly caseId: string;
}

export interface FactsCache {
  /** Everything that is kept, as it was found. */
  readAll(): Promise<readonly unknown[]>;
  /** Keeps or replaces; a failure is not told, since only time is lost. */
  put(facts: readonly CachedFacts[]): Promise<void>;
  forget(caseIds: readonly string[]): Promise<void>;
}

interface FactsSchema extends DBSchema {
  facts: { key: string; value: CachedFacts };
}

const RELAXED = { durability: 'relaxed' } as const;

/** Opens the cache; null where there is no database. */
export async function openFactsCache(): Promise<FactsCache | null> {
  try {
    const database = await openDB<FactsSchema>(NAME, 1, {
      upgrade: (made) => void made.createObjectStore('facts', { keyPath: 'caseId' }),
      // Another window with another layout must not wait for this one.
      blocking: (_current, _blocked, event) => {
        if (event.target instanceof IDBDatabase) event.target.close();
      },
    });
    return {
      readAll: () => database.getAll('facts').catch(() => []),
      async put(facts) {
        const writing = database.transaction('facts', 'readwrite', RELAXED);
        const puts = facts.map((each) => writing.store.put(each));
        await Promise.all([...puts, writing.done]).catch(() => undefined);
      },
      async forget(caseIds) {
        const writing = database.transaction('facts', 'readwrite', RELAXED);
        const gone = caseIds.map((id) => writing.store.delete(id));
        await Promise.all([...gone, writing.done]).catch(() => undefined);
      },
    };
  } catch {
    return null;
  }
}
