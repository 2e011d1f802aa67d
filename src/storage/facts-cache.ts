/**
 * What was worked out from cases, kept so that it need not be worked out at every start. Nothing
 * here is a record: it is no part of the journal or of a backup, and losing it costs only time.
 */
import { type DBSchema, type IDBPDatabase, type IDBPObjectStore, openDB } from 'idb';
import { giveWay } from './give-way.ts';

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

const READ_AT_ONCE = 1000;
type FactsStore = IDBPObjectStore<FactsSchema, ['facts'], 'facts', 'readwrite'>;

const RELAXED = { durability: 'relaxed' } as const;

/** A few at a time: the page stays free while those of tens of thousands of cases come. */
async function inParts(database: IDBPDatabase<FactsSchema>): Promise<readonly unknown[]> {
  const all: unknown[] = [];
  let after: IDBKeyRange | null = null;
  for (;;) {
    const part: readonly CachedFacts[] = await database.getAll('facts', after, READ_AT_ONCE);
    all.push(...part);
    const last = part.at(-1);
    if (last === undefined || part.length < READ_AT_ONCE) return all;
    after = IDBKeyRange.lowerBound(last.caseId, true);
  }
}

/** Opens the cache; null where there is no database. */
export async function openFactsCache(): Promise<FactsCache | null> {
  try {
    const database = await openDB<FactsSchema>(NAME, 1, {
      upgrade: (made) => void made.createObjectStore('facts', { keyPath: 'caseId' }),
      blocking: giveWay,
    });
    /** A connection that the browser has dropped refuses at once. */
    const write = async (change: (store: FactsStore) => readonly Promise<unknown>[]) => {
      try {
        const writing = database.transaction('facts', 'readwrite', RELAXED);
        writing.done.catch(() => undefined);
        await Promise.all([...change(writing.store), writing.done]);
      } catch {
        // Only time is lost.
      }
    };
    return {
      readAll: () => inParts(database).catch(() => []),
      put: (facts) => write((store) => facts.map((each) => store.put(each))),
      forget: (caseIds) => write((store) => caseIds.map((id) => store.delete(id))),
    };
  } catch {
    return null;
  }
}
