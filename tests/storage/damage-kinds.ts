/** Ways in which a closed profile is damaged, over homes in memory. Each names what must be left. */
import { deleteDB, openDB } from 'idb';
import { present } from '../../src/base/assert.ts';
import type { MemoryHome } from './memory-home.ts';

export const DATABASE = 'damaged';
export const CASE = 'c1';
/** Entries of the case before anything is damaged. */
export const WRITTEN = 13;

/** What a kind of damage may take from and put back. */
export interface Profile {
  readonly home: MemoryHome;
  /** The same tablet before the second sitting, of 8 entries. */
  readonly older: Copy;
  /** A tablet of another chair with cases of its own. */
  readonly other: Copy;
}

export interface Copy {
  readonly files: ReadonlyMap<string, Uint8Array>;
  readonly stores: ReadonlyMap<string, readonly (readonly [IDBValidKey, unknown])[]>;
}

export interface DamageKind {
  readonly name: string;
  readonly damage: (profile: Profile) => Promise<void>;
  /** Entries of the case that can be read afterwards. */
  readonly left: number;
  /** Entries that are kept beside them. */
  readonly apart?: number;
}

type Store = 'entries' | 'cases' | 'meta' | 'documents';

async function inDatabase(
  change: (database: Awaited<ReturnType<typeof openDB>>) => Promise<void>,
): Promise<void> {
  const database = await openDB(DATABASE);
  await change(database);
  database.close();
}

/** Everything that a profile holds, to put it back later. */
export async function copyOf(home: MemoryHome): Promise<Copy> {
  const stores = new Map<string, (readonly [IDBValidKey, unknown])[]>();
  await inDatabase(async (database) => {
    for (const name of database.objectStoreNames) {
      const { keyPath } = database.transaction(name).store;
      const [keys, values] = await Promise.all([database.getAllKeys(name), database.getAll(name)]);
      const isKeyed = keyPath !== null;
      stores.set(
        name,
        keys.map((key, i) => [isKeyed ? 0 : key, values[i]] as const),
      );
    }
  });
  return { files: new Map(home.files), stores };
}

const putDatabase = ({ stores }: Copy): Promise<void> =>
  inDatabase(async (database) => {
    for (const [name, rows] of stores) {
      await database.clear(name);
      for (const [key, value] of rows) {
        await (key === 0 ? database.put(name, value) : database.put(name, value, key));
      }
    }
  });

function putFiles({ home }: Profile, { files }: Copy): void {
  home.files.clear();
  for (const [name, bytes] of files) home.files.set(name, bytes);
}

const clear = (...names: readonly Store[]): Promise<void> =>
  inDatabase(async (database) => {
    for (const name of names) await database.clear(name);
  });

const cutEntries = (from: number, to: number): Promise<void> =>
  inDatabase((database) => database.delete('entries', IDBKeyRange.bound([CASE, from], [CASE, to])));

/** Takes the end of the case away together with its summary, as a torn log does. */
const tearDatabase = (left: number): Promise<void> =>
  inDatabase(async (database) => {
    const head: { hash: string; stamp: unknown } = await database.get('entries', [CASE, left - 1]);
    const summary: object = await database.get('cases', CASE);
    await database.delete('entries', IDBKeyRange.bound([CASE, left], [CASE, WRITTEN]));
    const { hash, stamp: lastStamp } = head;
    await database.put('cases', { ...summary, entries: left, head: hash, lastStamp });
  });

const flipEntry = (seq: number): Promise<void> =>
  inDatabase(async (database) => {
    const entry: { press: number } = await database.get('entries', [CASE, seq]);
    await database.put('entries', { ...entry, press: entry.press ^ 64 });
  });

/** Changes the lines of the case in all files; null takes a line away. */
function changeLines(
  { home }: Profile,
  change: (line: string, seq: number) => string | null,
): void {
  for (const [name, bytes] of home.files) {
    const lines = new TextDecoder().decode(bytes).split('\n');
    const kept = lines.flatMap((line) => {
      const seq = /"caseId":"c1".*"seq":(\d+)/.exec(line)?.[1];
      const changed = seq === undefined ? line : change(line, Number(seq));
      return changed === null ? [] : [changed];
    });
    home.files.set(name, new TextEncoder().encode(kept.join('\n')));
  }
}

/** Keeps `left` lines of the case, half of the next one, and nothing after it. */
function tearFile(profile: Profile, left: number): void {
  const { home } = profile;
  for (const [name, bytes] of home.files) {
    const text = new TextDecoder().decode(bytes);
    const at = text.search(new RegExp(`[^\\n]*"caseId":"c1"[^\\n]*"seq":${left}[,}]`));
    if (at >= 0) home.files.set(name, bytes.subarray(0, at + 60));
    else if (text.search(/"caseId":"c1"/) >= 0 && isAfter(text, left))
      home.files.set(name, bytes.subarray(0, 0));
  }
}

const isAfter = (text: string, left: number): boolean =>
  Number(present(/"caseId":"c1".*"seq":(\d+)/.exec(text)?.[1], 'a line of the case')) >= left;

const flip = (line: string): string => line.replace('"press":', '"prest":');

const flipLines = (profile: Profile, ...seqs: readonly number[]): void =>
  changeLines(profile, (line, seq) => (seqs.includes(seq) ? flip(line) : line));

const cutLines = (profile: Profile, ...seqs: readonly number[]): void =>
  changeLines(profile, (line, seq) => (seqs.includes(seq) ? null : line));

const range = (from: number, to: number): readonly number[] =>
  Array.from({ length: to - from + 1 }, (_, i) => from + i);

const ALL = range(0, WRITTEN - 1);

const ONE_HOME: readonly DamageKind[] = [
  { name: 'database gone', damage: () => deleteDB(DATABASE), left: WRITTEN },
  {
    name: 'database empty',
    damage: () => clear('entries', 'cases', 'meta', 'documents'),
    left: WRITTEN,
  },
  { name: 'database without its head', damage: () => cutEntries(0, 2), left: WRITTEN },
  { name: 'database with a hole', damage: () => cutEntries(5, 6), left: WRITTEN },
  { name: 'database torn at its tail', damage: () => tearDatabase(9), left: WRITTEN },
  { name: 'database with a changed entry', damage: () => flipEntry(6), left: WRITTEN },
  { name: 'file gone', damage: async ({ home }) => home.files.clear(), left: WRITTEN },
  {
    name: 'file empty',
    damage: async ({ home }) => {
      for (const name of home.files.keys()) home.files.set(name, new Uint8Array());
    },
    left: WRITTEN,
  },
  { name: 'file without its head', damage: async (p) => cutLines(p, 0, 1, 2), left: WRITTEN },
  { name: 'file with a hole', damage: async (p) => cutLines(p, 5, 6), left: WRITTEN },
  { name: 'file torn at its tail', damage: async (p) => tearFile(p, 10), left: WRITTEN },
  { name: 'file with flipped bytes', damage: async (p) => flipLines(p, 3, 10), left: WRITTEN },
];

const BOTH_HOMES: readonly DamageKind[] = [
  {
    name: 'both tails torn at different places',
    damage: async (p) => {
      await tearDatabase(8);
      tearFile(p, 10);
    },
    left: 10,
  },
  {
    name: 'both flipped, each in another entry',
    damage: async (p) => {
      await flipEntry(4);
      flipLines(p, 9);
    },
    left: WRITTEN,
  },
  {
    name: 'both flipped in the same entry',
    damage: async (p) => {
      await flipEntry(4);
      flipLines(p, 4);
    },
    left: 4,
    apart: 9,
  },
  {
    name: 'both garbled from end to end',
    damage: async (p) => {
      await deleteDB(DATABASE);
      flipLines(p, ...ALL);
    },
    left: 0,
  },
  {
    name: 'database gone and file torn',
    damage: async (p) => {
      await deleteDB(DATABASE);
      tearFile(p, 8);
    },
    left: 8,
  },
  {
    name: 'file gone and database torn',
    damage: async ({ home }) => {
      home.files.clear();
      await tearDatabase(8);
    },
    left: 8,
  },
  {
    name: 'both without the same head',
    damage: async (p) => {
      await cutEntries(0, 2);
      cutLines(p, 0, 1, 2);
    },
    left: 0,
    apart: 10,
  },
  {
    name: 'both gone',
    damage: async ({ home }) => {
      home.files.clear();
      await deleteDB(DATABASE);
    },
    left: 0,
  },
];

const REST: readonly DamageKind[] = [
  { name: 'list of the cases gone', damage: () => clear('cases', 'meta'), left: WRITTEN },
  {
    name: 'list of the cases and the head of a case gone',
    damage: async () => {
      await clear('meta');
      await cutEntries(0, 2);
    },
    left: WRITTEN,
  },
  { name: 'older database put back', damage: ({ older }) => putDatabase(older), left: WRITTEN },
  {
    name: 'older file put back',
    damage: async (p) => putFiles(p, p.older),
    left: WRITTEN,
  },
  {
    name: 'both put back as they were',
    damage: async (p) => {
      await putDatabase(p.older);
      putFiles(p, p.older);
    },
    left: 8,
  },
  {
    name: 'database of another tablet',
    damage: ({ other }) => putDatabase(other),
    left: WRITTEN,
  },
  {
    name: 'file of another tablet',
    damage: async (p) => putFiles(p, p.other),
    left: WRITTEN,
  },
];

export const DAMAGE_KINDS: readonly DamageKind[] = [...ONE_HOME, ...BOTH_HOMES, ...REST];
