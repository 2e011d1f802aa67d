/** Finds cases whose stored chain does not hold or is shorter than is known. */
import { readCase } from './database-reads.ts';
import type { CaseHead, Heads } from './heads.ts';
import type { CaseReading } from './journal-types.ts';
import type { JournalDatabase } from './migrations.ts';

/** What another place remembers of each case that is to be looked at; null where none does. */
export type Suspects = ReadonlyMap<string, CaseHead | null>;

/**
 * Looks at the cases written in the epochs from `since` and at those that another place remembers;
 * at every case where `all` is true.
 */
export async function findSuspects(
  database: JournalDatabase,
  o: {
    readonly all: boolean;
    readonly since: number;
    readonly heads: Heads;
    /** Cases of which it is known that something does not fit. */
    readonly unfit?: readonly string[];
    /** Cases whose chains were followed already. */
    readonly checked?: ReadonlySet<string>;
  },
): Promise<Suspects> {
  const { all, since, heads, unfit = [], checked } = o;
  const known = new Map(heads.recent.map((head) => [head.caseId, head]));
  const told = new Map(heads.damage.cases.map((damage) => [damage.caseId, damage]));
  const written = all
    ? await storedIds(database)
    : await database.getAllKeysFromIndex('cases', 'lastEpoch', IDBKeyRange.lowerBound(since));
  const suspects = new Map(unfit.map((id) => [id, known.get(id) ?? null]));
  const asked = [...written].filter((id) => checked?.has(id) !== true);
  for (const caseId of new Set([...asked, ...known.keys(), ...told.keys()])) {
    if ((await database.get('tombstones', caseId)) !== undefined) continue;
    const head = known.get(caseId) ?? null;
    const reading = await readCase(database, caseId);
    const before = told.get(caseId);
    const isTold = before !== undefined && before.left === reading.entries.length;
    const isListed = (await database.get('cases', caseId)) !== undefined;
    // A case of which nothing was left when it was told of has no row either.
    const isUnlisted = !isListed && !(isTold && before.left === 0);
    if (isUnlisted || ((all || !isTold) && !isWhole(reading, head))) suspects.set(caseId, head);
  }
  return suspects;
}

/**
 * Whether the list of cases is shorter than is known, and it is not known why. The database knows of itself too:
 * where no other place remembers anything, a list that is lost alone can be made again from the entries.
 */
export async function lacksCases(database: JournalDatabase, heads: Heads): Promise<boolean> {
  const { cases, damage } = heads;
  const gone = damage.cases.filter(({ left, apart }) => left + apart === 0).length;
  const here = await countListed(database);
  const listed = await database.get('meta', 'listed');
  return cases > here + gone + damage.unnamed || (typeof listed === 'number' && listed > here);
}

/** Cases that are listed, and those that were deleted. */
export async function countListed(database: JournalDatabase): Promise<number> {
  return (await database.count('cases')) + (await database.count('tombstones'));
}

/** Notes how long the list of cases is, once it was looked at whether it lacks any. */
export async function noteListed(database: JournalDatabase): Promise<void> {
  const here = await countListed(database);
  if ((await database.get('meta', 'listed')) === here) return;
  const writing = database.transaction('meta', 'readwrite', { durability: 'strict' });
  await Promise.all([writing.store.put(here, 'listed'), writing.done]);
}

const isWhole = ({ entries, verdict }: CaseReading, head: CaseHead | null): boolean =>
  verdict.firstBad === null && entries.length >= (head?.entries ?? 0);

/** Every case of which there is a summary or an entry: either can be lost. */
async function storedIds(database: JournalDatabase): Promise<ReadonlySet<string>> {
  const ids = new Set(await database.getAllKeys('cases'));
  let cursor = await database.transaction('entries').store.openKeyCursor();
  while (cursor !== null) {
    const [caseId] = cursor.key;
    ids.add(caseId);
    cursor = await cursor.continue([caseId, Number.POSITIVE_INFINITY]);
  }
  return ids;
}
