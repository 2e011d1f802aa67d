/**
 * The journal on the device: IndexedDB with strict durability, and the append-only file as its
 * second home. See `journal-types.ts` for what is promised.
 */

import { ok } from '../base/result.ts';
import type { Stamp } from '../engine/types.ts';
import { readingOf } from './case-reading.ts';
import { Connection } from './connection.ts';
import { createDamageStore } from './damage-store.ts';
import { appendPress, importEntries } from './database-entries.ts';
import { nameOf } from './database-open.ts';
import { readCase } from './database-reads.ts';
import { buriedRecords, buryCase, importTombstone } from './database-transactions.ts';
import { createDocumentStore } from './document-store.ts';
import { FileKeeper } from './file-keeper.ts';
import type { FileRecord } from './file-lines.ts';
import { type ChainPoint, chainEntries, pointAfter } from './hash-chain.ts';
import type { HeadsPlace } from './heads.ts';
import { HeadsKeeper } from './heads-keeper.ts';
import { checkBackup, checkStorable } from './incoming.ts';
import { notWriting, refuse } from './journal-problem.ts';
import type {
  AppendBatch,
  Copies,
  DocumentStore,
  Journal,
  JournalEntry,
  JournalNews,
  JournalResult,
  JournalStatus,
  Tombstone,
  WriterStart,
} from './journal-types.ts';
import type { JournalDatabase } from './migrations.ts';
import { parseStamp } from './parse-stored.ts';
import { parts } from './parts.ts';
import { guardHome, type SecondHome } from './second-home.ts';
import type { TabChannel } from './tab-channel.ts';
import { type Write, WriteQueue } from './write-queue.ts';

interface JournalParts {
  /** Name of the database; a test has its own. */
  readonly name: string;
  /** Null where the platform has no private files: the journal then keeps one copy and says so. */
  readonly home: SecondHome | null;
  readonly channel: TabChannel;
  /** Places outside the two homes that remember how long the cases are. */
  readonly heads?: readonly HeadsPlace[];
}

/** How long letting go waits for writes that hang. */
const DRAIN_WITHIN_MS = 3000;

/** The journal in IndexedDB and, where there are private files, in a second home. */
export function createIndexedDbJournal(parts: JournalParts): Journal {
  return new IndexedDbJournal(parts);
}

const asRecords = (entries: readonly JournalEntry[]): readonly FileRecord[] =>
  entries.map((body) => ({ record: 'entry', body }));

type PurgeCode = Awaited<ReturnType<typeof parts.purgeCase>>;

const NO_PURGE = {
  place: 'journal.cases',
  expected: 'the part of the app that deletes',
  came: undefined,
};

class IndexedDbJournal implements Journal {
  readonly documents: DocumentStore;
  readonly damage: ReturnType<typeof createDamageStore>;
  readonly #heads: HeadsKeeper;
  readonly #file: FileKeeper;
  readonly #connection: Connection;
  readonly #channel: TabChannel;
  readonly #listeners = new Set<(status: JournalStatus) => void>();
  /** Where the chains stand that this writer has added to. */
  readonly #points = new Map<string, ChainPoint>();
  #queue: WriteQueue | null = null;

  constructor({ name, home, channel, heads = [] }: JournalParts) {
    const onChange = (): void => this.#publish();
    this.#channel = channel;
    this.#file = new FileKeeper(home === null ? null : guardHome(home), onChange);
    this.#heads = new HeadsKeeper(heads);
    this.#connection = new Connection({ name, file: this.#file, heads: this.#heads, onChange });
    this.damage = createDamageStore({
      heads: this.#heads,
      file: this.#file,
      read: (read, none) => this.#read(read, none),
      write: (store) => this.#submit({ store, records: () => [], early: () => null }),
      onSettled: (caseId) => this.#points.delete(caseId),
    });
    this.documents = createDocumentStore({
      read: (read, none) => this.#read(read, none),
      submit: (write) => this.#submit(write),
      tell: (news) => this.#tell(news),
    });
  }

  async open(): JournalResult<null> {
    const used = await this.#connection.use();
    return used.ok ? ok(null) : used;
  }

  async startWriting(): JournalResult<WriterStart> {
    await this.stopWriting();
    await this.#connection.become('writer');
    const used = await this.#connection.use();
    const { epoch, report } = this.#connection;
    if (!used.ok || epoch === null) {
      await this.#connection.become('reader');
      return used.ok ? notWriting() : used;
    }
    this.#queue = new WriteQueue({
      connect: () => this.#connectToWrite(),
      dropConnection: () => this.#connection.drop(),
      file: this.#file,
      onChange: () => this.#publish(),
    });
    this.#publish();
    return ok({ epoch, copies: this.#copies(), report });
  }

  async #connectToWrite(): JournalResult<JournalDatabase> {
    const used = await this.#connection.use();
    if (!used.ok) return used;
    return used.value === null ? notWriting() : ok(used.value);
  }

  async stopWriting(): Promise<void> {
    const queue = this.#queue;
    if (queue === null) return;
    await queue.drain(DRAIN_WITHIN_MS);
    queue.end();
    this.#queue = null;
    this.#points.clear();
    await this.#heads.rest();
    await this.#file.end();
    await this.#connection.become('reader');
  }

  async append(batch: AppendBatch): ReturnType<Journal['append']> {
    const { caseId, recorded } = batch;
    const refusal = checkStorable(recorded, `journal.cases.${caseId}`);
    if (refusal !== null) return refusal;
    const appended = await this.#submit({
      store: (database) => appendPress(database, batch),
      records: (entries) => {
        this.#moveTo(entries);
        return asRecords(entries);
      },
      early: () => this.#chainEarly(batch),
    });
    if (!appended.ok) {
      this.#points.delete(caseId);
      return appended;
    }
    this.#heads.moved(appended.value, this.#file.last);
    this.#tell({ type: 'entries', caseId, entries: appended.value });
    return ok({ entries: appended.value, copies: this.#copies() });
  }

  #moveTo(entries: readonly JournalEntry[]): void {
    const last = entries.at(-1);
    if (last !== undefined) this.#points.set(last.caseId, pointAfter(last));
  }

  /** The entries as the database will chain them, while it cannot be asked. */
  #chainEarly({ caseId, epoch, recorded }: AppendBatch): readonly FileRecord[] | null {
    const point = this.#points.get(caseId);
    if (point === undefined || point.seq !== recorded[0]?.seq) return null;
    const entries = chainEntries(recorded, { caseId, epoch, prev: point.prev });
    this.#moveTo(entries);
    return asRecords(entries);
  }

  async adopt(taken: Parameters<Journal['adopt']>[0]): ReturnType<Journal['adopt']> {
    const { caseId, epoch } = taken;
    const stored = await this.read(caseId);
    if (!stored.ok) return stored;
    const checked = checkBackup(taken, stored.value);
    if (!checked.ok) return checked;
    const { entries, missing } = checked.value;
    const brokenFrom = stored.value.verdict.firstBad?.index ?? Number.POSITIVE_INFINITY;
    const adopted = await this.#submit({
      store: (database) => importEntries(database, { epoch, entries, brokenFrom }),
      // The file goes first: these entries keep the epochs of the device they come from, so the
      // comparison at the next start would not miss them there.
      first: asRecords(missing),
      records: () => [],
      early: () => null,
    });
    if (!adopted.ok) return adopted;
    this.#points.delete(caseId);
    this.#heads.adopted(missing);
    await this.damage.recheck(caseId);
    this.#tell({ type: 'entries', caseId, entries: missing });
    return ok({ added: adopted.value.added });
  }

  async deleteCase(deletion: Parameters<Journal['deleteCase']>[0]): JournalResult<Tombstone> {
    const { caseId, leaves = [] } = deletion;
    const refusal = checkStorable(leaves, `journal.cases.${caseId}`);
    if (refusal !== null) return refusal;
    // Wanted before anything is deleted: what is queued must not wait for a part that may not come.
    const code = await parts.purgeCase().catch(() => null);
    if (code === null) return refuse('not-loaded', NO_PURGE);
    const buried = await this.#submit({
      store: (database) => buryCase(database, deletion),
      records: buriedRecords,
      early: () => null,
      after: () => this.#purge(caseId, code),
    });
    if (!buried.ok) return buried;
    this.#points.delete(caseId);
    this.#tell({ type: 'case-deleted', caseId });
    for (const { kind, id } of buried.value.left) this.#tell({ type: 'document', kind, id });
    return ok(buried.value.tombstone);
  }

  /** Takes away what is left of the case beside its entries. Failing leaves lines that the tombstone overrules. */
  async #purge(caseId: string, { forgetApart, purgeCase }: PurgeCode): Promise<void> {
    const used = await this.#connectToWrite();
    const { home, place } = this.#file;
    if (!used.ok) return;
    await used.value.delete('heartbeats', caseId);
    await forgetApart(used.value, caseId);
    await this.#heads.gone(used.value, caseId);
    if (home === null || place === null || !this.#file.isUp) return;
    const next = { ...place, part: place.part + 1 };
    this.#file.begin(next, true);
    await purgeCase({ database: used.value, home, place: next }, caseId).catch(() => undefined);
  }

  async read(caseId: string): ReturnType<Journal['read']> {
    const nothing = readingOf(caseId, { stored: [], summary: null });
    const reading = await this.#read((database) => readCase(database, caseId), nothing);
    return reading.ok ? this.damage.mended(reading.value) : reading;
  }

  listCases(): ReturnType<Journal['listCases']> {
    return this.#read((database) => database.getAll('cases'), []);
  }

  listTombstones(): ReturnType<Journal['listTombstones']> {
    return this.#read((database) => database.getAll('tombstones'), []);
  }

  listSetApart(): ReturnType<Journal['listSetApart']> {
    return this.#read((database) => database.getAll('apart'), []);
  }

  /** Relaxed: it is overwritten every few seconds, and losing the last one only widens an interval. */
  heartbeat(caseId: string, stamp: Stamp): JournalResult<null> {
    return this.#read(async (database) => {
      const beating = database.transaction('heartbeats', 'readwrite', { durability: 'relaxed' });
      await Promise.all([beating.store.put({ caseId, stamp }), beating.done]);
      return null;
    }, null);
  }

  readHeartbeat(caseId: string): JournalResult<Stamp | null> {
    return this.#read(async (database) => {
      const beat = await database.get('heartbeats', caseId);
      return parseStamp(beat?.stamp);
    }, null);
  }

  async adoptTombstone(tombstone: Tombstone): ReturnType<Journal['adoptTombstone']> {
    const taken = await this.#submit({
      store: (database) => importTombstone(database, tombstone),
      records: (body) => (body === null ? [] : [{ record: 'tombstone', body }]),
      early: () => null,
    });
    return taken.ok ? ok({ taken: taken.value !== null }) : taken;
  }

  #submit<T>(write: Write<T>): JournalResult<T> {
    if (this.#queue === null) return Promise.resolve(notWriting());
    const submitted = this.#queue.submit(write);
    this.#publish();
    return submitted;
  }

  /** Reads, once more on a new connection when the old one turns out to be lost. */
  async #read<T>(read: (database: JournalDatabase) => Promise<T>, none: T): JournalResult<T> {
    for (let isSecond = false; ; isSecond = true) {
      const used = await this.#connection.use();
      if (!used.ok) return used;
      if (used.value === null) return ok(none);
      try {
        return ok(await read(used.value));
      } catch (cause) {
        this.#connection.drop();
        if (!isSecond) continue;
        return refuse('database-lost', {
          place: 'journal.read',
          expected: 'a database that answers',
          came: nameOf(cause),
        });
      }
    }
  }

  #copies(): Copies {
    if (this.#queue === null) return 0;
    const both = this.#connection.isOpen && this.#file.isUp;
    if (both) return 2;
    return this.#connection.isOpen || this.#file.isUp ? 1 : 0;
  }

  #status(): JournalStatus {
    const queue = this.#queue;
    const fileProblem = queue !== null && this.#file.home !== null && !this.#file.isUp;
    return {
      saved: !(queue?.isHeldUp ?? false),
      queued: queue?.length ?? 0,
      copies: this.#copies(),
      problem: queue?.problem ?? (fileProblem ? 'file-lost' : null),
    };
  }

  #publish(): void {
    const status = this.#status();
    for (const listener of this.#listeners) listener(status);
  }

  #tell(news: JournalNews): void {
    this.#channel.tell(news);
    this.#publish();
  }

  ask(document: { readonly kind: string; readonly id: string; readonly value: unknown }): void {
    this.#channel.tell({ type: 'asked-document', ...document });
  }

  subscribe(listener: (news: JournalNews) => void): () => void {
    return this.#channel.hear(listener);
  }

  onStatus(listener: (status: JournalStatus) => void): () => void {
    this.#listeners.add(listener);
    listener(this.#status());
    return () => this.#listeners.delete(listener);
  }

  async close(): Promise<void> {
    await this.stopWriting();
    this.#connection.close();
    this.#channel.close();
    this.#listeners.clear();
  }
}
