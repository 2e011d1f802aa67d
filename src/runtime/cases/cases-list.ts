/**
 * The cases of this tablet as files: what they can be found by, whether they were exported as they
 * stand, how they are deleted, and the backup of everything.
 */

import * as v from 'valibot';
import { createStore, type StoreApi } from 'zustand/vanilla';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { CaseLog } from '../../engine/log.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { FactsCache } from '../../storage/facts-cache.ts';
import type { CaseSummary, Journal, JournalEntry, Tombstone } from '../../storage/journal-types.ts';
import type { BackupProgress } from '../backup/backup.ts';
import type { RestoreReport } from '../backup/backup-merge.ts';
import type { ApartThing } from '../backup/set-apart.ts';
import type { Clock } from '../device/clock.ts';
import type { LivesOfDeleted } from '../follow-up/forget-follow-up.ts';
import { THIS_TABLET } from '../lead/lead-documents.ts';
import type { CryptoLike } from '../lead/lead-passphrase.ts';
import { othersTurn } from '../others-turn.ts';
import type { Readable } from '../readable.ts';
import { keepAsked } from '../windows/asked-documents.ts';
import type { CasesFile, ExportedCase } from './cases-export.ts';
import type { CaseFacts } from './cases-list-facts.ts';
import type { DeletionParts } from './delete-followed.ts';
import type { KnownFacts } from './known-facts.ts';
import { LAST_BACKUP } from './last-backup.ts';
import { addLateNote, type LateNote, type Writer } from './late-note.ts';
import { namedElsewhere } from './not-in-backup.ts';

const EXPORTED = 'exported';
/** Forms that leave out most of a record: having one of them is no reason to delete the case. */
const PARTIAL_FORMS: ReadonlySet<string> = new Set(['csv-steps', 'csv-windows', 'ical']);
/** The page is let go after so many cases, so that a touch is answered while a list is read. */
const CASES_AT_ONCE = 4;
/** A list of tens of thousands is not drawn anew for every few cases. */
const TELL_EVERY_MS = 1000;

/** One reading of the list while it goes on. */
interface ListReading {
  readonly summaries: readonly CaseSummary[];
  readonly unreadable: Set<string>;
  /** What is also here is not told twice. */
  elsewhere: readonly CaseFacts[];
}

type Opened = Pick<CaseFacts, 'openedWallMs'>;

const newestFirst = (a: Opened, b: Opened): number => b.openedWallMs - a.openedWallMs;

const listReading = (summaries: readonly CaseSummary[]): ListReading => ({
  summaries: summaries.toSorted(newestFirst),
  unreadable: new Set(),
  elsewhere: [],
});

/** How a case was last given to somebody, and at which entry it stood then. */
interface ExportMark {
  readonly head: string;
  readonly form: string;
  readonly onWallMs: number;
}

export interface CasesListState {
  readonly isRead: boolean;
  /** Cases of which the facts are known, and how many there are. */
  readonly done: number;
  readonly of: number;
  readonly facts: readonly CaseFacts[];
  readonly marks: ReadonlyMap<string, ExportMark>;
  readonly tombstones: readonly Tombstone[];
  /** Cases that cannot be read at all. */
  readonly unreadable: readonly string[];
  readonly lastBackup: { readonly onWallMs: number; readonly cases: number } | null;
}

interface CasesListParts {
  readonly journal: Journal;
  readonly clock: Clock;
  readonly crypto: CryptoLike | null;
  /** Lines of the list that the window has read already, in any order. */
  readonly atHand?: () => readonly CaseSummary[];
  /** Lines of cases whose entries lie elsewhere, in any order. */
  readonly elsewhere?: () => Promise<readonly CaseFacts[]>;
  /** This tablet, where it belongs to a clinic of several. */
  readonly pen?: () => Writer | null;
  readonly epoch: () => number | null;
  /** What is followed of the cases; left out where nothing is. */
  readonly followUps?: NonNullable<DeletionParts['followUps']>;
  /** Opens what earlier starts worked out; left out where nothing is kept. */
  readonly cache?: () => Promise<FactsCache | null>;
  /** Called after a restore or a deletion changed what is stored. */
  readonly onChanged: () => Promise<void>;
}

type Done<T> = Promise<Result<T, Problem>>;
type OnProgress = (progress: BackupProgress) => void;

const markSchema = v.object({
  head: v.string(),
  form: v.pipe(
    v.string(),
    v.check((form) => !PARTIAL_FORMS.has(form)),
  ),
  onWallMs: v.number(),
});

const backupSchema = v.object({ onWallMs: v.number(), cases: v.number() });

/** Whether a case was exported with everything that it holds now. */
export function isExported(state: CasesListState, of: Pick<CaseFacts, 'caseId' | 'head'>): boolean {
  return state.marks.get(of.caseId)?.head === of.head;
}

/** Closed cases on patients that nobody has a copy of outside this tablet. */
export function notExported(state: CasesListState): readonly CaseFacts[] {
  return state.facts.filter(
    (f) => f.mode === 'patient' && f.isClosed && !f.isStoreOnly && !isExported(state, f),
  );
}

export class CasesList {
  readonly #parts: CasesListParts;
  #opening: Promise<KnownFacts> | null = null;
  readonly #state: StoreApi<CasesListState> = createStore<CasesListState>(() => ({
    isRead: false,
    done: 0,
    of: 0,
    facts: [],
    marks: new Map(),
    tombstones: [],
    unreadable: [],
    lastBackup: null,
  }));
  #reading: Promise<void> | null = null;

  constructor(parts: CasesListParts) {
    this.#parts = parts;
    const onChanged = () => void this.#readMarks();
    keepAsked(parts, { kinds: [EXPORTED, LAST_BACKUP], onChanged });
  }

  get state(): Readable<CasesListState> {
    return this.#state;
  }

  /** Reads what changed since the last time. Calls that come meanwhile wait for the same reading. */
  refresh(): Promise<void> {
    this.#reading ??= this.#read().finally(() => {
      this.#reading = null;
    });
    return this.#reading;
  }

  async #read(): Promise<void> {
    const { journal } = this.#parts;
    const known = await this.#known();
    // People see what there is before anything is looked up: reading tens of thousands of lines takes a second.
    const atHand = known.isRecalled ? [] : (this.#parts.atHand?.() ?? []);
    if (atHand.length > 0) this.#tell(listReading(atHand), known);
    const cases = await journal.listCases();
    if (!cases.ok) return;
    const reading = listReading(cases.value);
    if (!known.isRecalled) this.#tell(reading, known);
    await this.#readMarks();
    await known.recall();
    await known.prune(cases.value);
    reading.elsewhere = await this.#elsewhere(cases.value);
    this.#tell(reading, known);
    let since = this.#parts.clock.stamp().monoMs;
    let read = 0;
    for (const summary of reading.summaries) {
      // One that did not hold together is looked at again: a restore can have mended it.
      if (typeof known.of(summary)?.breaches === 'number') continue;
      if ((await known.read(summary)) === null) reading.unreadable.add(summary.caseId);
      read += 1;
      if (read % CASES_AT_ONCE !== 0) continue;
      await othersTurn();
      const nowMs = this.#parts.clock.stamp().monoMs;
      if (nowMs - since < TELL_EVERY_MS) continue;
      since = nowMs;
      this.#tell(reading, known);
      await known.keep();
    }
    await known.keep();
    this.#tell(reading, known);
    this.#set({ isRead: true, unreadable: [...reading.unreadable] });
  }

  /** Where they cannot be read now, the list is told without them. */
  async #elsewhere(here: readonly CaseSummary[]): Promise<readonly CaseFacts[]> {
    const all = await this.#parts.elsewhere?.().catch(() => null);
    if (!all?.length) return [];
    const ids = new Set(here.map(({ caseId }) => caseId));
    return all.filter(({ caseId }) => !ids.has(caseId));
  }

  /** Keeps what the list tells of a case that was just closed: nothing has to be read for it. */
  async keepFacts(summary: CaseSummary, log: CaseLog): Promise<void> {
    const known = await this.#known();
    known.folded(summary, log);
    await known.keep();
  }

  /** Loaded with the first list, which no first screen shows. */
  #known(): Promise<KnownFacts> {
    const { journal, cache = async () => null } = this.#parts;
    this.#opening ??= import('./known-facts.ts').then(
      ({ KnownFacts }) => new KnownFacts({ journal, openCache: cache }),
    );
    return this.#opening;
  }

  /** Tells what is known so far; a case that was not read yet is listed by its summary. */
  #tell({ summaries, unreadable, elsewhere }: ListReading, known: KnownFacts): void {
    let done = 0;
    const here = summaries.flatMap((summary) => {
      if (unreadable.has(summary.caseId)) return [];
      const own = known.of(summary);
      if (own === null) return [known.unread(summary)];
      done += 1;
      return [own];
    });
    const facts = elsewhere.length === 0 ? here : [...here, ...elsewhere].toSorted(newestFirst);
    this.#set({ facts, done: done + elsewhere.length, of: facts.length + unreadable.size });
  }

  async #readMarks(): Promise<void> {
    const { journal } = this.#parts;
    const [marks, tombstones, backup] = await Promise.all([
      journal.documents.list(EXPORTED),
      journal.listTombstones(),
      journal.documents.get(LAST_BACKUP, { id: THIS_TABLET }),
    ]);
    const parsed = (marks.ok ? marks.value : []).flatMap((d) => {
      const mark: ExportMark | null = parsedOr(markSchema, d.value);
      return mark === null ? [] : [[d.id, mark] as const];
    });
    this.#set({
      marks: new Map(parsed),
      tombstones: tombstones.ok ? tombstones.value : this.#state.getState().tombstones,
      lastBackup: parsedOr(backupSchema, backup.ok ? backup.value : null),
    });
  }

  /** Notes that a case was given out in one form, as it stood at `head`, if that form holds it all. */
  async markExported(o: {
    readonly caseId: string;
    readonly head: string;
    readonly form: string;
  }): Done<null> {
    if (PARTIAL_FORMS.has(o.form)) return ok(null);
    return this.#put(this.#exported(o, o.form));
  }

  #exported({ caseId: id, head }: ExportedCase, form: string) {
    const value = { head, form, onWallMs: this.#parts.clock.stamp().wallMs };
    return { kind: EXPORTED, id, value };
  }

  /** Puts closed cases on patients that were not exported into one file; nothing is noted yet. */
  async exportFile(o: {
    /** Today in the clinic, `2026-11-27`, for the name of the file. */
    readonly day: string;
    readonly onProgress: (done: number) => void;
  }): Promise<CasesFile> {
    const { journal } = this.#parts;
    const asked = notExported(this.#state.getState());
    const caseIds = asked.map((f) => f.caseId);
    const heads = new Map(asked.map((f) => [f.caseId, f.head]));
    const { casesFile } = await import('./cases-export.ts');
    return casesFile({ journal, caseIds, heads, ...o });
  }

  /** Notes that all of these were given out in one file. Errors: `not-writer`, and the journal's. */
  async markAllExported(cases: readonly ExportedCase[], form: string): Done<null> {
    const epoch = this.#parts.epoch();
    if (epoch === null) return err(notWriter());
    const { documents } = this.#parts.journal;
    for (const each of cases) {
      const put = await documents.put({ ...this.#exported(each, form), epoch });
      if (!put.ok) return put;
    }
    await this.#readMarks();
    return ok(null);
  }

  /** Adds a note to a signed case. Errors: see `addLateNote`, and `not-writer`. */
  async addNote(note: LateNote): Done<null> {
    const epoch = this.#parts.epoch();
    if (epoch === null) return err(notWriter());
    // In the same turn: the page may be left at once.
    const added = await addLateNote({ ...this.#parts, epoch }, note);
    if (added.ok) await this.#parts.onChanged();
    return added;
  }

  /**
   * Deletes a case for good and leaves a mark. Its follow-up goes with it, unless its lives are to be left
   * as counts that lead to nobody. Errors: `not-exported`, `not-writer`, and those of the journal.
   */
  async deleteCase(o: {
    readonly caseId: string;
    readonly by: string;
    readonly reason: string;
    /** Absent: taken. */
    readonly lives?: LivesOfDeleted;
  }): Done<null> {
    const { journal, clock, onChanged } = this.#parts;
    const epoch = this.#parts.epoch();
    if (epoch === null) return err(notWriter());
    await this.refresh();
    const cases = await journal.listCases();
    const summary = cases.ok ? cases.value.find((c) => c.caseId === o.caseId) : undefined;
    if (summary === undefined || !isExported(this.#state.getState(), summary)) {
      const place = `case ${o.caseId}`;
      return err(problem(place, 'an export of all it holds', 'none', 'not-exported'));
    }
    const { deleteFollowed } = await import('./delete-followed.ts');
    const gone = await deleteFollowed({ ...this.#parts, epoch }, { ...o, stamp: clock.stamp() });
    if (!gone.ok) return gone;
    await this.refresh();
    await onChanged();
    return ok(null);
  }

  /** Writes everything into one encrypted file. Errors: see `makeBackup`, and `no-crypto`. */
  async backUp(passphrase: string, onProgress: OnProgress): Done<Blob> {
    const { journal, crypto, clock } = this.#parts;
    if (crypto === null) return err(noCrypto());
    const elsewhere = await this.#parts.elsewhere?.().catch(() => null);
    const named = await namedElsewhere(journal, elsewhere ?? []);
    if (named !== null) await this.#put(named);
    // Loaded when it is wanted: a first visit wants no backup.
    const { makeBackup } = await import('../backup/backup.ts');
    const made = await makeBackup({ journal, crypto, passphrase, onProgress, own: this.#parts });
    if (!made.ok) return made;
    const { wallMs } = clock.stamp();
    const value = { onWallMs: wallMs, cases: made.value.counts.cases };
    // Noted after the file was made, so that the note is not part of it.
    await this.#put({ kind: LAST_BACKUP, id: THIS_TABLET, value });
    return ok(made.value.file);
  }

  /** Merges a backup into what is here. Errors: see `restoreBackup`, `not-writer`, `no-crypto`. */
  async restore(
    o: { readonly file: Blob; readonly passphrase: string },
    onProgress: OnProgress,
  ): Done<RestoreReport> {
    const { journal, crypto, onChanged } = this.#parts;
    const epoch = this.#parts.epoch();
    if (epoch === null) return err(notWriter());
    if (crypto === null) return err(noCrypto());
    const { restoreBackup } = await import('../backup/backup.ts');
    const known = await this.#known();
    await known.recall();
    const onAdded = (entries: readonly JournalEntry[]) => known.takenIn(entries);
    const restored = await restoreBackup({ journal, epoch, crypto, ...o, onProgress, onAdded });
    await known.keep();
    if (!restored.ok) return restored;
    await this.refresh();
    await onChanged();
    return restored;
  }

  /** What was set apart on this tablet, by the journal or by a restore. Errors: the journal's. */
  async readApart(): Done<readonly ApartThing[]> {
    const { readApart } = await import('../backup/set-apart.ts');
    return readApart(this.#parts.journal);
  }

  async #put(document: { kind: string; id: string; value: unknown }): Done<null> {
    const { journal } = this.#parts;
    const epoch = this.#parts.epoch();
    if (epoch === null) {
      journal.ask(document);
      return ok(null);
    }
    const put = await journal.documents.put({ ...document, epoch });
    if (!put.ok) return put;
    await this.#readMarks();
    return ok(null);
  }

  #set(change: Partial<CasesListState>): void {
    this.#state.setState(change);
  }
}

const notWriter = (): Problem =>
  problem('window', 'this window to be the one that writes', 'reader', 'not-writer');

const noCrypto = (): Problem =>
  problem('window', 'a page that was served securely', 'none', 'no-crypto');
