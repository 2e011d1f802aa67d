/**
 * What lies on a tablet's disk, read and changed behind the back of the app: the records of the double
 * of the database, and the lines of the files. Used only while no page of the tablet lives.
 */
import { fieldsOf, jsonOr } from '../../src/base/json.ts';
import { hashHolds } from '../../src/storage/hash-chain.ts';
import { parseEntry } from '../../src/storage/parse-stored.ts';
import type { Tablet } from './tablet.ts';

export interface RawRecord {
  readonly key: IDBValidKey;
  value: unknown;
}

interface RawRecords {
  values(): Iterable<RawRecord>;
  delete(key: IDBValidKey): unknown;
  put(record: RawRecord): unknown;
  clear(): unknown;
}

interface RawStore {
  readonly records: RawRecords;
  readonly rawIndexes: ReadonlyMap<string, { readonly records: RawRecords }>;
}

interface FactoryDouble extends IDBFactory {
  readonly _databases: ReadonlyMap<
    string,
    { readonly rawObjectStores: ReadonlyMap<string, RawStore> }
  >;
}

const storesOf = (tablet: Tablet): ReadonlyMap<string, RawStore> => {
  const { _databases: databases } = tablet.idb as FactoryDouble;
  return databases.get('lutewatch')?.rawObjectStores ?? new Map();
};

/** Each list of records of the database: those of the stores, and those of their indexes. */
function everyRecord(tablet: Tablet): readonly RawRecords[] {
  return [...storesOf(tablet).values()].flatMap(({ records, rawIndexes }) => [
    records,
    ...[...rawIndexes.values()].map((index) => index.records),
  ]);
}

/** The whole database as it stands. */
export type Snapshot = readonly (readonly RawRecord[])[];

export const snapshotOf = (tablet: Tablet): Snapshot =>
  everyRecord(tablet).map((records) => [...records.values()]);

/** Puts an older state back; false where it does not fit the database that is there. */
export function putBack(tablet: Tablet, snapshot: Snapshot): boolean {
  const all = everyRecord(tablet);
  if (all.length !== snapshot.length || all.length === 0) return false;
  for (const [i, records] of all.entries()) {
    records.clear();
    for (const record of snapshot[i] ?? []) records.put(record);
  }
  return true;
}

/** Empties a store with its indexes. */
export function emptyStore(tablet: Tablet, name: string): boolean {
  const store = storesOf(tablet).get(name);
  store?.records.clear();
  for (const { records } of store?.rawIndexes.values() ?? []) records.clear();
  return store !== undefined;
}

/** The records of one store; null where there is no such database. */
export const rawRecords = (tablet: Tablet, store: string): RawRecords | null =>
  storesOf(tablet).get(store)?.records ?? null;

/** Hashes of entries, by case and place. */
type Holding = ReadonlyMap<string, ReadonlyMap<number, string>>;

function holding(values: Iterable<unknown>): Holding {
  const held = new Map<string, Map<number, string>>();
  for (const value of values) {
    const entry = parseEntry(value);
    if (entry === null || !hashHolds(entry)) continue;
    const { caseId, seq, hash } = entry;
    const hashes = held.get(caseId) ?? new Map<number, string>();
    held.set(caseId, hashes.set(seq, hash));
  }
  return held;
}

/** What of the entries stands whole in the database. */
export function databaseHolds(tablet: Tablet): Holding {
  return holding([...(rawRecords(tablet, 'entries')?.values() ?? [])].map(({ value }) => value));
}

/** What of the entries stands whole in the files. */
export function filesHold(tablet: Tablet): Holding {
  const decoder = new TextDecoder();
  const lines = [...tablet.files.values()].flatMap((bytes) => decoder.decode(bytes).split('\n'));
  return holding(lines.map((line) => fieldsOf(jsonOr(line)?.value)['body']));
}

/** Whether a home alone holds all of these. */
export function holdsAll(held: Holding, cases: ReadonlyMap<string, readonly string[]>): boolean {
  for (const [caseId, hashes] of cases) {
    const own = held.get(caseId);
    for (const [seq, hash] of hashes.entries()) {
      if (hash !== undefined && own?.get(seq) !== hash) return false;
    }
  }
  return true;
}

const documentKey = (body: Readonly<Record<string, unknown>>): string =>
  `${String(body['kind'])} ${String(body['id'])}`;

function versions(values: Iterable<unknown>): ReadonlyMap<string, number> {
  const found = new Map<string, number>();
  for (const value of values) {
    const body = fieldsOf(value);
    const { version } = body;
    if (typeof version !== 'number') continue;
    const key = documentKey(body);
    found.set(key, Math.max(version, found.get(key) ?? 0));
  }
  return found;
}

/** Whether each document stands in both homes alike. */
export function documentsAgree(tablet: Tablet): boolean {
  const inDatabase = versions(
    [...(rawRecords(tablet, 'documents')?.values() ?? [])].map(({ value }) => value),
  );
  const decoder = new TextDecoder();
  const lines = [...tablet.files.values()].flatMap((bytes) => decoder.decode(bytes).split('\n'));
  const inFiles = versions(lines.map((line) => fieldsOf(jsonOr(line)?.value)['body']));
  return (
    inDatabase.size === inFiles.size &&
    [...inDatabase].every(([key, version]) => inFiles.get(key) === version)
  );
}
