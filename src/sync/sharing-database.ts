/**
 * What a tablet keeps of its clinic's store, in a database of its own: who it is there, what it owes and how
 * far it has read. It is no part of the journal, and no backup holds it: a tablet that is made from a
 * backup takes part only after it was paired.
 */
import { type DBSchema, type IDBPDatabase, openDB, type StoreNames } from 'idb';
import { giveWay } from '../storage/give-way.ts';
import type { CaseSummary } from '../storage/journal-types.ts';
import type { WrappedCaseKey } from './case-keys.ts';
import type { RefusedCode } from './sealed-types.ts';
import type { Bytes, StoredMessage, StreamName } from './store-types.ts';

const NAME = 'lutewatch-sharing';

/** A message that the store does not have yet, as it was sealed: sealed again it would be another one. */
export interface OwedMessage {
  /** In which order it goes. */
  readonly n: number;
  readonly stream: StreamName;
  readonly subject: string;
  readonly data: Bytes;
}

/** A place up to which a stream was read, and what stood there. */
export interface CursorMark {
  readonly seq: number;
  readonly subject: string;
  /** When the store kept it. */
  readonly keptAt: string;
}

export interface KeptCursor {
  readonly stream: StreamName;
  /** The last place first; older ones behind it, in case what stood there is erased. */
  readonly marks: readonly CursorMark[];
}

/** How much of a case is in the store, or owed to it. */
export interface CaseMark {
  readonly caseId: string;
  /** Entries from the start. */
  readonly known: number;
  /** From which entry on which tablet gave them; in order. */
  readonly from: readonly { readonly at: number; readonly device: string }[];
}

/** A message that could not be opened yet. */
export interface WaitingMessage extends StoredMessage {
  readonly code: Extract<RefusedCode, 'no-key' | 'unknown-tablet'>;
}

/** Entries that do not follow on what this tablet has of the case: what comes before is missing, or is another. */
export interface HeldEntries {
  readonly caseId: string;
  /** Number of the first. */
  readonly at: number;
  readonly subject: string;
  readonly device: string;
  readonly entries: readonly unknown[];
  /** Where the store keeps the message; rows of before do not have it. */
  readonly seq?: number;
}

/** A case whose entries lie on the store alone: its line, and where they are fetched. */
export interface StoreOnlyCase {
  readonly caseId: string;
  readonly summary: CaseSummary;
  /** What lists show of it and searches look at, as it was worked out. */
  readonly facts: unknown;
  /** The messages that hold its entries, in their order. */
  readonly places: readonly { readonly seq: number; readonly subject: string }[];
}

export interface KeptRefusal {
  readonly subject: string;
  readonly code: RefusedCode;
  readonly device: string;
}

/** Single things: who the tablet is, its counters. */
export interface KeptOne {
  readonly name: string;
  readonly value: unknown;
}

/** A key of a case, wrapped. */
export interface KeptKey {
  /** The case. */
  readonly item: string;
  /** Which of its keys, wrapped by which secret. */
  readonly name: string;
  readonly value: WrappedCaseKey;
}

export interface SharingSchema extends DBSchema {
  ones: { key: string; value: KeptOne };
  outbox: { key: number; value: OwedMessage };
  /** What the store said that it has, until it is read there: an older disk may have lost it since. */
  sent: { key: string; value: OwedMessage };
  /** What the store refuses for good: told, and not tried again. */
  stuck: { key: number; value: OwedMessage };
  cursors: { key: StreamName; value: KeptCursor };
  cases: { key: string; value: CaseMark };
  /** Facts and deletions that are in the store or owed to it, by id. */
  offered: { key: string; value: { readonly id: string } };
  waiting: { key: string; value: WaitingMessage };
  held: { key: [string, number, string]; value: HeldEntries };
  storeOnly: { key: string; value: StoreOnlyCase };
  refused: { key: string; value: KeptRefusal };
  keys: { key: [string, string]; value: KeptKey };
}

export type Room = StoreNames<SharingSchema>;

const KEY_PATHS: Readonly<Record<Room, string | string[]>> = {
  ones: 'name',
  outbox: 'n',
  sent: 'subject',
  stuck: 'n',
  cursors: 'stream',
  cases: 'caseId',
  offered: 'id',
  waiting: 'subject',
  held: ['caseId', 'at', 'subject'],
  storeOnly: 'caseId',
  refused: 'subject',
  keys: ['item', 'name'],
};

/** Every room of the database. */
export const ROOMS: readonly Room[] = [
  'ones',
  'outbox',
  'sent',
  'stuck',
  'cursors',
  'cases',
  'offered',
  'waiting',
  'held',
  'refused',
  'keys',
  'storeOnly',
];

/** Goes up when a room is added. */
const VERSION = 2;

/** One change of one room. A list of them is done together or not at all. */
export type Change =
  | { readonly room: Room; readonly clear: true }
  | {
      [R in Room]:
        | { readonly room: R; readonly put: SharingSchema[R]['value'] }
        | { readonly room: R; readonly drop: SharingSchema[R]['key'] | IDBKeyRange };
    }[Room];

/** Everything rejects where the browser has dropped the database; the next call opens it anew. */
export interface SharingDatabase {
  /** Does all of it in one strict transaction, or nothing. */
  change(changes: readonly Change[]): Promise<void>;
  get<R extends Room>(
    room: R,
    key: SharingSchema[R]['key'],
  ): Promise<SharingSchema[R]['value'] | undefined>;
  /** In the order of their keys. */
  all<R extends Room>(
    room: R,
    o?: { readonly range?: IDBKeyRange; readonly most?: number },
  ): Promise<readonly SharingSchema[R]['value'][]>;
  keys<R extends Room>(room: R): Promise<readonly SharingSchema[R]['key'][]>;
  count(room: Room): Promise<number>;
  close(): void;
}

/** A single thing, or undefined. */
export async function readOne(database: SharingDatabase, name: string): Promise<unknown> {
  return (await database.get('ones', name))?.value;
}

export const keepOne = (name: string, value: unknown): Change => ({
  room: 'ones',
  put: { name, value },
});

const open = (name: string) =>
  openDB<SharingSchema>(name, VERSION, {
    upgrade: (made) => {
      const isMissing = (room: Room): boolean => !made.objectStoreNames.contains(room);
      for (const room of ROOMS.filter(isMissing)) {
        made.createObjectStore(room, { keyPath: KEY_PATHS[room] });
      }
    },
    blocking: giveWay,
  });

async function changeAll(
  database: IDBPDatabase<SharingSchema>,
  changes: readonly Change[],
): Promise<void> {
  const rooms = [...new Set(changes.map(({ room }) => room))];
  const writing = database.transaction(rooms, 'readwrite', { durability: 'strict' });
  writing.done.catch(() => undefined);
  for (const change of changes) {
    // One transaction over many rooms: the library types a room by one name at a time.
    const room = writing.objectStore(change.room);
    const done =
      'put' in change
        ? room.put(change.put)
        : 'drop' in change
          ? room.delete(change.drop)
          : room.clear();
    done.catch(() => undefined);
  }
  await writing.done;
}

type Work<T> = (database: IDBPDatabase<SharingSchema>) => Promise<T>;

const isDropped = (cause: unknown): boolean =>
  cause instanceof DOMException && cause.name === 'InvalidStateError';

/** The database of this origin. @param name only a test names another. */
export function openSharingDatabase(name = NAME): SharingDatabase {
  let opened: Promise<IDBPDatabase<SharingSchema>> | null = null;
  let isClosed = false;
  const once = async <T>(work: Work<T>): Promise<T> => {
    if (isClosed) throw new Error('the sharing database is closed');
    opened ??= open(name);
    const mine = opened;
    try {
      return await work(await mine);
    } catch (cause) {
      // A dropped connection never works again.
      if (opened === mine) opened = null;
      void mine.then(
        (database) => database.close(),
        () => undefined,
      );
      throw cause;
    }
  };
  // A connection that the browser dropped says so at the next call, before anything was begun.
  const use = <T>(work: Work<T>): Promise<T> =>
    once(work).catch((cause: unknown) => {
      if (isClosed || !isDropped(cause)) throw cause;
      return once(work);
    });
  return {
    change: (changes) =>
      changes.length === 0 ? Promise.resolve() : use((database) => changeAll(database, changes)),
    get: (room, key) => use((database) => database.get(room, key)),
    all: (room, { range, most } = {}) => use((database) => database.getAll(room, range, most)),
    keys: (room) => use((database) => database.getAllKeys(room)),
    count: (room) => use((database) => database.count(room)),
    close() {
      isClosed = true;
      void opened?.then((database) => database.close());
    },
  };
}
