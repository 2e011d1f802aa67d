/**
 * The contract of the journal: what is stored of a case, what is promised about it, and what can go
 * wrong. Nothing here reads a clock or makes an id: stamps and ids come in as data.
 */
import type { Problem } from '../base/problem.ts';
import type { Result } from '../base/result.ts';
import type { WallMs } from '../base/units.ts';
import type { Recorded, Stamp } from '../engine/types.ts';

/**
 * One stored entry. `hash` is the SHA-256 (lower-case hex) of the RFC 8785 canonical JSON of the
 * entry without `hash`; `prev` is the hash of the entry before it in the same case, or 64 zeros.
 */
export interface JournalEntry extends Recorded {
  readonly caseId: string;
  /** The writer that stored it; a later writer always has a higher number. */
  readonly epoch: number;
  readonly prev: string;
  readonly hash: string;
}

/** Why an entry, and with it everything after it, is set apart. */
export type BadReason = 'shape' | 'other-case' | 'sequence' | 'link' | 'hash' | 'missing';

export interface ChainVerdict {
  /** Entries from the start whose chain holds. */
  readonly goodCount: number;
  readonly firstBad: { readonly index: number; readonly reason: BadReason } | null;
}

export interface CaseReading {
  readonly caseId: string;
  /** The entries whose chain holds. */
  readonly entries: readonly JournalEntry[];
  /** The first bad entry and everything after it, as it was found. Never dropped. */
  readonly apart: readonly unknown[];
  readonly verdict: ChainVerdict;
}

/** The tablet that goes on with a case. */
export interface CasePen {
  readonly tablet: string;
  /** Its name, where the case says it. */
  readonly name?: string;
  /** Given up, and taken by nobody yet; `to` is null: for whoever takes it. */
  readonly given?: { readonly to: string | null; readonly toName: string };
}

/** What the list of cases shows, kept beside the entries so that nothing has to be replayed. */
export interface CaseSummary {
  readonly caseId: string;
  /** Id of the case file that it was opened with; older lists do not have it. */
  readonly specId?: string;
  readonly title: string;
  readonly chartRef: string;
  readonly mode: 'patient' | 'rehearsal';
  readonly openedWallMs: WallMs;
  readonly lastStamp: Stamp;
  /** Who goes on with it; absent for cases that name no tablet, and in older lists. */
  readonly pen?: CasePen;
  /** The press that closed it, or null while it is open. */
  readonly closedByPress: number | null;
  readonly entries: number;
  /** Hash of the last entry. */
  readonly head: string;
  readonly lastEpoch: number;
}

/** What stays of a case that was deleted on purpose. */
export interface Tombstone {
  readonly caseId: string;
  readonly entries: number;
  readonly head: string;
  readonly epoch: number;
  readonly stamp: Stamp;
  readonly by: string | null;
  readonly reason: string;
}

/** Something found in one home that does not fit the other; kept, never merged. */
export interface SetApart {
  readonly from: 'file' | 'database' | 'import';
  readonly reason: string;
  readonly caseId: string | null;
  readonly seq: number | null;
  readonly content: unknown;
}

/** A case of which entries were saved here that can no longer be read, or not as one chain. */
export interface CaseDamage {
  readonly caseId: string;
  readonly title: string;
  readonly chartRef: string;
  /** Entries that the case is known to have had. */
  readonly known: number;
  /** Hash of the last of them. */
  readonly head: string;
  /** Entries from the start whose chain holds. */
  readonly left: number;
  /** Entries that are still kept, but do not follow on those. */
  readonly apart: number;
}

/** What this tablet once held and holds no more. */
export interface Damage {
  readonly cases: readonly CaseDamage[];
  /** Cases of which not even the name is left. */
  readonly unnamed: number;
  /** Lines of the file that cannot be read while nothing says what stood in them. */
  readonly unreadable: number;
  /** A person has seen it. */
  readonly isNoted: boolean;
}

export const NO_DAMAGE: Damage = { cases: [], unnamed: 0, unreadable: 0, isNoted: false };

/** A small keyed document: settings, prepared cases, protocols, approvals. */
export interface StoredDocument {
  readonly kind: string;
  readonly id: string;
  /** Null once it is deleted: the mark keeps an older copy from coming back. */
  readonly value: unknown;
  readonly version: number;
  readonly epoch: number;
}

export type JournalProblemCode =
  | 'closed'
  | 'not-writer'
  | 'stale-epoch'
  | 'wrong-seq'
  | 'case-deleted'
  | 'no-such-case'
  | 'conflict'
  | 'not-storable'
  | 'newer-format'
  | 'older-format'
  | 'database-blocked'
  | 'database-lost'
  | 'database-full'
  | 'file-lost'
  /** A part of the app that is wanted cannot be loaded now. */
  | 'not-loaded';

export interface JournalProblem extends Problem {
  readonly code: JournalProblemCode;
}

export type Copies = 0 | 1 | 2;

/** Every press up to `entries` is stored in `copies` homes. */
interface Ack {
  readonly entries: readonly JournalEntry[];
  readonly copies: Copies;
}

export interface JournalStatus {
  /** False while a press waits longer than it should: the screen says NOT SAVED. */
  readonly saved: boolean;
  /** Writes that have not been acknowledged. */
  readonly queued: number;
  /** Homes that take writes at present. */
  readonly copies: Copies;
  readonly problem: JournalProblemCode | null;
}

/** What the comparison of the two homes found and did. */
export interface ReconcileReport {
  readonly rebuilt: 'database' | 'file' | 'both' | null;
  /** Records written to the home that lacked them: entries, documents and tombstones. */
  readonly entries: number;
  readonly conflicts: number;
  /** Lines of the file that cannot be read, a torn last line among them. */
  readonly unreadable: number;
  /** The browser said that it had thrown the database away. */
  readonly databaseLost: boolean;
  /** Damaged or missing entries of the database that the file gave back. */
  readonly mended: number;
}

export interface WriterStart {
  readonly epoch: number;
  readonly copies: Copies;
  readonly report: ReconcileReport;
}

/** What another tab wrote, or what came from another tablet. */
export type JournalNews =
  | {
      readonly type: 'entries';
      readonly caseId: string;
      readonly entries: readonly JournalEntry[];
    }
  | { readonly type: 'case-deleted'; readonly caseId: string }
  | { readonly type: 'document'; readonly kind: string; readonly id: string }
  /** A window that only reads asks the one that writes to keep a document. */
  | {
      readonly type: 'asked-document';
      readonly kind: string;
      readonly id: string;
      readonly value: unknown;
    };

export type JournalResult<T> = Promise<Result<T, JournalProblem>>;

export interface AppendBatch {
  readonly caseId: string;
  readonly epoch: number;
  /**
   * The entries of one press, stored together or not at all. The first `seq` is the number of
   * entries that the case already has.
   */
  readonly recorded: readonly Recorded[];
}

export interface DocumentStore {
  get(kind: string, options: { readonly id: string }): JournalResult<unknown>;
  list(kind: string): JournalResult<readonly StoredDocument[]>;
  put(document: {
    readonly kind: string;
    readonly id: string;
    readonly value: unknown;
    readonly epoch: number;
  }): JournalResult<StoredDocument>;
  delete(document: {
    readonly kind: string;
    readonly id: string;
    readonly epoch: number;
  }): JournalResult<null>;
  /** Every document of every kind, marks of deletion included: what a backup must hold. */
  listAll(): JournalResult<readonly StoredDocument[]>;
  /**
   * Takes a document from a backup with its version, when that is higher than the one stored here.
   * `epoch` is the writer's own.
   */
  adopt(document: StoredDocument): JournalResult<{ readonly taken: boolean }>;
}

/** What is known of the damage on this tablet. */
export interface DamageStore {
  read(): JournalResult<Damage>;
  /** A person has seen it: the banner goes, the cases go on telling. */
  note(): JournalResult<null>;
  /**
   * Sets apart what lies behind the break of a case, so that it can go on from what holds. Refused
   * with `no-such-case` where nothing holds.
   */
  settle(of: { readonly caseId: string; readonly epoch: number }): JournalResult<null>;
}

/**
 * Append-only storage of cases. One writer at a time: call `startWriting` only while the writer
 * lock is held. Every writing call carries the epoch it was given; an old one is refused.
 */
export interface Journal {
  /** Opens for reading. A device that holds nothing yet is not a problem. */
  open(): JournalResult<null>;
  /** Migrates, rotates, raises the epoch and compares the two homes. */
  startWriting(): JournalResult<WriterStart>;
  /** Waits for what is queued, then lets go of the files. */
  stopWriting(): Promise<void>;
  /**
   * Stores one press. Resolves once every home has answered; while the database is lost it waits
   * and the status says so. Fails with `wrong-seq`, `stale-epoch`, `case-deleted`, `not-storable`.
   */
  append(batch: AppendBatch): JournalResult<Ack>;
  /**
   * Takes over entries that were chained elsewhere: a backup. Adds what is missing or damaged here,
   * keeps the rest.
   */
  adopt(taken: {
    readonly caseId: string;
    readonly epoch: number;
    readonly entries: readonly unknown[];
  }): JournalResult<{ readonly added: number }>;
  /** Verified. Where this window writes, what is damaged is first filled from the other home. */
  read(caseId: string): JournalResult<CaseReading>;
  listCases(): JournalResult<readonly CaseSummary[]>;
  deleteCase(deletion: {
    readonly caseId: string;
    readonly epoch: number;
    readonly stamp: Stamp;
    readonly by: string | null;
    readonly reason: string;
    /**
     * Documents that stay in its place, each new to this journal: kept together with the mark, or not at all. Nothing of
     * them is kept where the case was deleted before.
     */
    readonly leaves?: readonly Pick<StoredDocument, 'kind' | 'id' | 'value'>[];
  }): JournalResult<Tombstone>;
  /**
   * Takes the mark of a deletion from a backup. A case that is kept here is not deleted by it.
   * `epoch` is the writer's own.
   */
  adoptTombstone(tombstone: Tombstone): JournalResult<{ readonly taken: boolean }>;
  listTombstones(): JournalResult<readonly Tombstone[]>;
  listSetApart(): JournalResult<readonly SetApart[]>;
  /** Notes that the case was still being watched at this stamp; bounds the dead time after a crash. */
  heartbeat(caseId: string, stamp: Stamp): JournalResult<null>;
  readHeartbeat(caseId: string): JournalResult<Stamp | null>;
  readonly documents: DocumentStore;
  readonly damage: DamageStore;
  /** Asks the tab that writes to keep a small document; it may refuse. */
  ask(document: { readonly kind: string; readonly id: string; readonly value: unknown }): void;
  /** Tells what other tabs write, and what came from other tablets. Returns the way to stop. */
  subscribe(listener: (news: JournalNews) => void): () => void;
  /** Tells the status now and at each change. Returns the way to stop. */
  onStatus(listener: (status: JournalStatus) => void): () => void;
  close(): Promise<void>;
}
