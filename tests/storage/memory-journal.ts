/**
 * The journal in memory, for tests: it keeps the contract that the shipped journal keeps
 * (`journal-contract.ts` runs on both). Journals of one {@link MemoryDevice} see each other as the
 * tabs of one device do.
 */
import { ok } from '../../src/base/result.ts';
import type { Stamp } from '../../src/engine/types.ts';
import { readingOf } from '../../src/storage/case-reading.ts';
import { summarise } from '../../src/storage/case-summary.ts';
import { chainEntries, NO_ENTRY_HASH } from '../../src/storage/hash-chain.ts';
import { checkBackup, checkStorable } from '../../src/storage/incoming.ts';
import { refuse } from '../../src/storage/journal-problem.ts';
import {
  type AppendBatch,
  type CaseSummary,
  type DamageStore,
  type DocumentStore,
  type Journal,
  type JournalEntry,
  type JournalNews,
  type JournalProblem,
  type JournalResult,
  type JournalStatus,
  NO_DAMAGE,
  type StoredDocument,
  type Tombstone,
  type WriterStart,
} from '../../src/storage/journal-types.ts';

/** What the journals of one device share. */
export interface MemoryDevice {
  epoch: number;
  readonly cases: Map<string, { readonly entries: JournalEntry[]; summary: CaseSummary }>;
  readonly documents: Map<string, StoredDocument>;
  readonly tombstones: Map<string, Tombstone>;
  readonly heartbeats: Map<string, Stamp>;
  readonly tabs: Set<MemoryJournal>;
}

/** A device that holds nothing. */
export function createMemoryDevice(): MemoryDevice {
  return {
    epoch: 0,
    cases: new Map(),
    documents: new Map(),
    tombstones: new Map(),
    heartbeats: new Map(),
    tabs: new Set(),
  };
}

/** A journal on `device`, which keeps it for as long as the program runs. */
export function createMemoryJournal(device: MemoryDevice = createMemoryDevice()): Journal {
  return new MemoryJournal(device);
}

const documentKey = (kind: string, id: string): string => JSON.stringify([kind, id]);

class MemoryJournal implements Journal {
  readonly documents: DocumentStore;
  /** Memory does not decay. */
  readonly damage: DamageStore = {
    read: async () => ok(NO_DAMAGE),
    note: async () => ok(null),
    settle: async () => ok(null),
  };
  readonly #device: MemoryDevice;
  readonly #news = new Set<(news: JournalNews) => void>();
  readonly #statuses = new Set<(status: JournalStatus) => void>();
  #isWriter = false;

  constructor(device: MemoryDevice) {
    this.#device = device;
    device.tabs.add(this);
    const { documents } = device;
    this.documents = {
      get: async (kind, { id }) => ok(documents.get(documentKey(kind, id))?.value ?? null),
      list: async (kind) =>
        ok(
          [...documents.values()]
            .filter((document) => document.kind === kind && document.value !== null)
            .sort((a, b) => (a.id < b.id ? -1 : 1)),
        ),
      put: (document) => this.#putDocument(document),
      delete: async (document) => {
        const put = await this.#putDocument({ ...document, value: null });
        return put.ok ? ok(null) : put;
      },
      listAll: async () => ok([...documents.values()]),
      adopt: (document) => this.#adoptDocument(document),
    };
  }

  async open(): JournalResult<null> {
    return ok(null);
  }

  async startWriting(): JournalResult<WriterStart> {
    this.#device.epoch += 1;
    this.#isWriter = true;
    this.#publish();
    const report = {
      rebuilt: null,
      entries: 0,
      conflicts: 0,
      unreadable: 0,
      databaseLost: false,
      mended: 0,
    };
    return ok({ epoch: this.#device.epoch, copies: 1, report });
  }

  async stopWriting(): Promise<void> {
    this.#isWriter = false;
    this.#publish();
  }

  /** Why this journal may not write with `epoch`, or null. */
  #fence(epoch: number): { readonly ok: false; readonly error: JournalProblem } | null {
    if (!this.#isWriter) {
      return refuse('not-writer', { place: 'journal', expected: 'startWriting', came: undefined });
    }
    if (epoch === this.#device.epoch) return null;
    const expected = `the current writer's epoch ${this.#device.epoch}`;
    return refuse('stale-epoch', { place: 'journal.epoch', expected, came: epoch });
  }

  #refuseDeleted(caseId: string): { readonly ok: false; readonly error: JournalProblem } | null {
    const gone = this.#device.tombstones.get(caseId);
    if (gone === undefined) return null;
    const place = `journal.cases.${caseId}`;
    return refuse('case-deleted', { place, expected: 'a case that is kept', came: gone.reason });
  }

  async append(batch: AppendBatch): ReturnType<Journal['append']> {
    const { caseId, epoch, recorded } = batch;
    const place = `journal.cases.${caseId}`;
    const refusal =
      checkStorable(recorded, place) ?? this.#fence(epoch) ?? this.#refuseDeleted(caseId);
    if (refusal !== null) return refusal;
    const before = this.#device.cases.get(caseId)?.summary;
    const seq = before?.entries ?? 0;
    if (recorded[0]?.seq !== seq || recorded.some((entry, i) => entry.seq !== seq + i)) {
      const came = recorded.map((entry) => entry.seq);
      return refuse('wrong-seq', { place, expected: `entries from ${seq} without holes`, came });
    }
    const prev = before?.head ?? NO_ENTRY_HASH;
    const entries = structuredClone(chainEntries(recorded, { caseId, epoch, prev }));
    this.#keep(caseId, entries);
    return ok({ entries, copies: 1 });
  }

  #keep(caseId: string, entries: readonly JournalEntry[]): void {
    const before = this.#device.cases.get(caseId);
    const summary = summarise(before?.summary ?? null, entries);
    const all = [...(before?.entries ?? []), ...entries];
    this.#device.cases.set(caseId, { entries: all, summary });
    this.#tell({ type: 'entries', caseId, entries });
  }

  async adopt(taken: Parameters<Journal['adopt']>[0]): ReturnType<Journal['adopt']> {
    const refusal = this.#fence(taken.epoch) ?? this.#refuseDeleted(taken.caseId);
    if (refusal !== null) return refusal;
    const checked = checkBackup(taken, this.#readNow(taken.caseId));
    if (!checked.ok) return checked;
    const { missing } = checked.value;
    if (missing.length > 0) this.#keep(taken.caseId, structuredClone(missing));
    return ok({ added: missing.length });
  }

  #readNow(caseId: string): ReturnType<typeof readingOf> {
    const kept = this.#device.cases.get(caseId);
    return readingOf(caseId, { stored: kept?.entries ?? [], summary: kept?.summary ?? null });
  }

  async read(caseId: string): ReturnType<Journal['read']> {
    return ok(this.#readNow(caseId));
  }

  async listCases(): ReturnType<Journal['listCases']> {
    const summaries = [...this.#device.cases.values()].map((kept) => kept.summary);
    return ok(summaries.sort((a, b) => (a.caseId < b.caseId ? -1 : 1)));
  }

  async deleteCase(o: Parameters<Journal['deleteCase']>[0]): JournalResult<Tombstone> {
    const { leaves = [], ...deletion } = o;
    const { caseId, epoch } = deletion;
    const refusal = checkStorable(leaves, `journal.cases.${caseId}`) ?? this.#fence(epoch);
    if (refusal !== null) return refusal;
    const buried = this.#device.tombstones.get(caseId);
    if (buried !== undefined) return ok(buried);
    const kept = this.#device.cases.get(caseId);
    if (kept === undefined) {
      const place = `journal.cases.${caseId}`;
      return refuse('no-such-case', { place, expected: 'a stored case', came: undefined });
    }
    const { entries, head } = kept.summary;
    const tombstone = { ...deletion, entries, head };
    this.#device.tombstones.set(caseId, tombstone);
    this.#device.cases.delete(caseId);
    this.#device.heartbeats.delete(caseId);
    this.#tell({ type: 'case-deleted', caseId });
    for (const document of leaves) await this.#putDocument({ ...document, epoch });
    return ok(tombstone);
  }

  async adoptTombstone(tombstone: Tombstone): ReturnType<Journal['adoptTombstone']> {
    const { caseId, epoch } = tombstone;
    const refusal = this.#fence(epoch);
    if (refusal !== null) return refusal;
    const { cases, tombstones } = this.#device;
    if (cases.has(caseId) || tombstones.has(caseId)) return ok({ taken: false });
    tombstones.set(caseId, structuredClone(tombstone));
    return ok({ taken: true });
  }

  async listTombstones(): ReturnType<Journal['listTombstones']> {
    return ok([...this.#device.tombstones.values()]);
  }

  async listSetApart(): ReturnType<Journal['listSetApart']> {
    return ok([]);
  }

  async heartbeat(caseId: string, stamp: Stamp): JournalResult<null> {
    this.#device.heartbeats.set(caseId, stamp);
    return ok(null);
  }

  async readHeartbeat(caseId: string): JournalResult<Stamp | null> {
    return ok(this.#device.heartbeats.get(caseId) ?? null);
  }

  async #putDocument(document: Omit<StoredDocument, 'version'>): JournalResult<StoredDocument> {
    const { kind, id, value, epoch } = document;
    const refusal = checkStorable(value, `journal.documents.${kind}.${id}`) ?? this.#fence(epoch);
    if (refusal !== null) return refusal;
    const key = documentKey(kind, id);
    const version = (this.#device.documents.get(key)?.version ?? 0) + 1;
    const stored = { ...structuredClone(document), version };
    this.#device.documents.set(key, stored);
    this.#tell({ type: 'document', kind, id });
    return ok(stored);
  }

  async #adoptDocument(document: StoredDocument): ReturnType<DocumentStore['adopt']> {
    const { kind, id, value, version, epoch } = document;
    const refusal = checkStorable(value, `journal.documents.${kind}.${id}`) ?? this.#fence(epoch);
    if (refusal !== null) return refusal;
    const key = documentKey(kind, id);
    if ((this.#device.documents.get(key)?.version ?? 0) >= version) return ok({ taken: false });
    this.#device.documents.set(key, structuredClone(document));
    this.#tell({ type: 'document', kind, id });
    return ok({ taken: true });
  }

  #tell(news: JournalNews): void {
    for (const tab of this.#device.tabs) {
      if (tab !== this) for (const listener of tab.#news) listener(news);
    }
  }

  ask(document: { readonly kind: string; readonly id: string; readonly value: unknown }): void {
    this.#tell({ type: 'asked-document', ...document });
  }

  subscribe(listener: (news: JournalNews) => void): () => void {
    this.#news.add(listener);
    return () => this.#news.delete(listener);
  }

  #status(): JournalStatus {
    return { saved: true, queued: 0, copies: this.#isWriter ? 1 : 0, problem: null };
  }

  #publish(): void {
    for (const listener of this.#statuses) listener(this.#status());
  }

  onStatus(listener: (status: JournalStatus) => void): () => void {
    this.#statuses.add(listener);
    listener(this.#status());
    return () => this.#statuses.delete(listener);
  }

  async close(): Promise<void> {
    await this.stopWriting();
    this.#device.tabs.delete(this);
    this.#news.clear();
    this.#statuses.clear();
  }
}
