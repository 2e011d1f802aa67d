/**
 * Brings a backup into the journal of this tablet. Nothing that is here is lost: what a backup
 * replaces, and what it holds that does not fit, is kept as a document of the kind `set-apart`.
 * Doing it twice changes nothing the second time.
 */

import { fieldsOf } from '../../base/json.ts';
import type { Result } from '../../base/result.ts';
import { err, ok } from '../../base/result.ts';
import { canonicalText } from '../../protocol/canonical-text.ts';
import {
  CHAIN_START,
  type ChainPoint,
  checkEntry,
  hashText,
  pointAfter,
} from '../../storage/hash-chain.ts';
import type {
  Journal,
  JournalEntry,
  JournalProblem,
  StoredDocument,
} from '../../storage/journal-types.ts';
import type { RestoreCounts, RestoredThing } from '../../words/codes.ts';
import { DEFAULT_SETTINGS } from '../app-state.ts';
import { ATTEMPTS, PASSPHRASE } from '../lead/lead-documents.ts';
import { SETTINGS } from '../library/library.ts';
import { BackupFault } from './backup-format.ts';
import {
  addCounts,
  type BackupCounts,
  type BackupLine,
  LineSum,
  NO_COUNTS,
  parseBackupLine,
  SET_APART,
} from './backup-lines.ts';
import { LeadAuthority } from './lead-authority.ts';
import { RestoredThings } from './restored-things.ts';

/** What a restore found in the file, and what it did. */
export interface RestoreReport extends RestoreCounts {
  readonly found: BackupCounts;
  /** Everything that it added, changed or set apart, by name. */
  readonly things: readonly RestoredThing[];
}

const unfit = (came: string): BackupFault =>
  new BackupFault('backup-contents', { expected: 'contents as this app writes them', came });

function parsed(text: string, at: number): BackupLine {
  const line = parseBackupLine(text);
  if (!line.ok) throw unfit(`line ${at + 1} is not ${line.error}`);
  return line.value;
}

/**
 * Goes through all lines without changing anything: shapes, chains, counts and the sum.
 * @throws BackupFault when anything does not fit.
 */
export async function checkLines(lines: AsyncIterable<string>): Promise<BackupCounts> {
  let counts = NO_COUNTS;
  let point: ChainPoint = CHAIN_START;
  const seen = new Set<string>();
  const sum = new LineSum();
  let at = 0;
  let isEnded = false;
  for await (const text of lines) {
    const line = parsed(text, at);
    if ((line.record === 'begin') !== (at === 0) || isEnded) throw unfit(`line ${at + 1}`);
    at += 1;
    if (line.record === 'end') {
      isEnded = true;
      const isWhole = canonicalText(line.counts) === canonicalText(counts);
      if (!isWhole || line.sha256 !== sum.hex()) throw unfit('another sum');
      continue;
    }
    if (line.record !== 'begin') sum.add(`${text}\n`);
    if (line.record === 'entry') {
      const { body } = line;
      const isNew = body.caseId !== point.caseId;
      if (isNew && seen.has(body.caseId)) throw unfit(`case ${body.caseId} twice`);
      if (isNew) point = { ...CHAIN_START, caseId: body.caseId };
      const bad = checkEntry(body, point);
      if (bad !== null) throw unfit(`case ${body.caseId}, entry ${body.seq}: ${bad}`);
      point = pointAfter(body);
      seen.add(body.caseId);
      counts = addCounts(counts, { cases: isNew ? 1 : 0, entries: 1 });
    } else if (line.record === 'document') counts = addCounts(counts, { documents: 1 });
    else if (line.record === 'tombstone') counts = addCounts(counts, { tombstones: 1 });
  }
  if (!isEnded) throw unfit('no end');
  return counts;
}

const documentKey = (d: { readonly kind: string; readonly id: string }): string =>
  canonicalText([d.kind, d.id]);

/** Who may open the desk here is not decided by a file that somebody brings along. */
const KEPT_KINDS: ReadonlySet<string> = new Set([PASSPHRASE, ATTEMPTS]);

/**
 * Its screen was measured here and its sound was heard here: another tablet cannot vouch for them;
 * and two tablets must not have one id.
 */
function ofThisTablet(document: StoredDocument, here: StoredDocument | undefined): StoredDocument {
  if (document.kind !== SETTINGS || document.value === null) return document;
  const { zone, tablet, pxPerMm, heardAtMs, heardBy, heardVolume } = {
    ...DEFAULT_SETTINGS,
    ...fieldsOf(here?.value),
  };
  // A backup of a version that knew no zone of the clinic does not take it away.
  const known = zone === '' ? {} : { zone };
  const value = {
    ...known,
    ...fieldsOf(document.value),
    tablet,
    pxPerMm,
    heardAtMs,
    heardBy,
    heardVolume,
  };
  return { ...document, value };
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };
type Done = Promise<Result<null, JournalProblem>>;

/** Merges checked lines, case by case. */
export class Merger {
  readonly #journal: Journal;
  readonly #epoch: number;
  readonly #report: Mutable<Omit<RestoreReport, 'things'>>;
  readonly #things = new RestoredThings();
  readonly #documents = new Map<string, StoredDocument>();
  #authority = new LeadAuthority([]);
  readonly #seen = new Set<string>();
  readonly #deleted = new Set<string>();
  #waiting: JournalEntry[] = [];

  constructor(o: {
    readonly journal: Journal;
    readonly epoch: number;
    readonly found: BackupCounts;
  }) {
    this.#journal = o.journal;
    this.#epoch = o.epoch;
    this.#report = {
      found: o.found,
      casesAdded: 0,
      casesContinued: 0,
      casesSame: 0,
      casesDeleted: 0,
      casesDiffering: 0,
      documentsTaken: 0,
      tombstonesTaken: 0,
      setApart: 0,
    };
  }

  /** Takes every line in; `onCase` is called after each case. */
  async run(
    lines: AsyncIterable<string>,
    onCase: (done: number) => void,
  ): Promise<Result<RestoreReport, JournalProblem>> {
    const here = await this.#readHere();
    if (!here.ok) return here;
    let at = 0;
    let cases = 0;
    for await (const text of lines) {
      const line = parsed(text, at);
      at += 1;
      const isNext = line.record !== 'entry' || line.body.caseId !== this.#waiting[0]?.caseId;
      if (isNext && this.#waiting.length > 0) {
        const taken = await this.#takeCase();
        if (!taken.ok) return taken;
        cases += 1;
        onCase(cases);
      }
      const done = await this.#take(line);
      if (!done.ok) return done;
    }
    return ok({ ...this.#report, things: this.#things.list() });
  }

  async #readHere(): Done {
    const documents = await this.#journal.documents.listAll();
    if (!documents.ok) return documents;
    this.#authority = new LeadAuthority(documents.value);
    for (const document of documents.value) {
      this.#documents.set(documentKey(document), document);
      this.#things.meet(document);
    }
    const cases = await this.#journal.listCases();
    if (!cases.ok) return cases;
    for (const { caseId } of cases.value) this.#seen.add(caseId);
    const tombstones = await this.#journal.listTombstones();
    if (!tombstones.ok) return tombstones;
    for (const { caseId } of tombstones.value) this.#deleted.add(caseId);
    return ok(null);
  }

  async #take(line: BackupLine): Done {
    switch (line.record) {
      case 'entry':
        this.#waiting.push(line.body);
        return ok(null);
      case 'apart':
        // What was deleted for good does not come back by its copies either.
        if (this.#deleted.has(line.caseId)) return ok(null);
        return this.#setApart({ caseId: line.caseId, content: line.content });
      case 'document':
        return this.#takeDocument(line.body);
      case 'tombstone': {
        const taken = await this.#journal.adoptTombstone({ ...line.body, epoch: this.#epoch });
        if (!taken.ok) return taken;
        this.#report.tombstonesTaken += taken.value.taken ? 1 : 0;
        return ok(null);
      }
      case 'begin':
      case 'end':
        return ok(null);
    }
  }

  async #takeCase(): Done {
    const entries = this.#waiting;
    this.#waiting = [];
    const caseId = entries[0]?.caseId ?? '';
    const adopted = await this.#journal.adopt({ caseId, epoch: this.#epoch, entries });
    if (adopted.ok) {
      if (adopted.value.added === 0) {
        this.#report.casesSame += 1;
        return ok(null);
      }
      const isHere = this.#seen.has(caseId);
      if (isHere) this.#report.casesContinued += 1;
      else this.#report.casesAdded += 1;
      const deed = isHere ? 'changed' : 'added';
      this.#things.ofCase({ caseId, opening: entries[0], deed });
      return ok(null);
    }
    if (adopted.error.code === 'case-deleted') {
      this.#report.casesDeleted += 1;
      return ok(null);
    }
    if (adopted.error.code !== 'conflict') return err(adopted.error);
    this.#report.casesDiffering += 1;
    return this.#setApart({ caseId, entries });
  }

  async #takeDocument(found: StoredDocument): Done {
    const here = this.#documents.get(documentKey(found));
    if (here !== undefined && KEPT_KINDS.has(found.kind)) return ok(null);
    this.#things.meet(found);
    const taking = this.#authority.taking(found, here);
    if (taking.do === 'leave') return ok(null);
    if (taking.do === 'take') return this.#adopt(taking.document, undefined);
    if (taking.do === 'set-apart') {
      const { kind, id, value, version } = found;
      return value === null ? ok(null) : this.#setApart({ kind, id, value, version });
    }
    const document = ofThisTablet(found, here);
    const { kind, id, value, version } = document;
    const isSame = here !== undefined && canonicalText(here.value) === canonicalText(value);
    if (here !== undefined && isSame && here.version >= version) return ok(null);
    if (here !== undefined && !isSame) {
      const isTaken = version > here.version;
      if (!isTaken && version < here.version) return ok(null);
      // The one that gives way is kept: two tablets may have changed the same thing.
      const loser = isTaken ? here : document;
      const kept = { kind, id, value: loser.value, version: loser.version };
      if (!isTaken) return loser.value === null ? ok(null) : this.#setApart(kept);
      const put = loser.value === null ? ok(null) : await this.#keepApart(kept);
      if (!put.ok) return put;
      if (put.value !== null) this.#things.earlierApart(here);
    }
    return this.#adopt(document, here);
  }

  async #adopt(document: StoredDocument, here: StoredDocument | undefined): Done {
    const taken = await this.#journal.documents.adopt({ ...document, epoch: this.#epoch });
    if (!taken.ok) return taken;
    if (!taken.value.taken) return ok(null);
    this.#report.documentsTaken += 1;
    const isSame =
      here !== undefined && canonicalText(here.value) === canonicalText(document.value);
    if (!isSame) this.#things.taken(document, here);
    return ok(null);
  }

  /** Sets apart what the file holds. */
  async #setApart(value: unknown): Done {
    const kept = await this.#keepApart(value);
    if (!kept.ok) return kept;
    if (kept.value !== null) this.#things.apart(value);
    return ok(null);
  }

  /** Named by its content: the same thing is kept once. Null when it was kept already. */
  async #keepApart(value: unknown): Promise<Result<StoredDocument | null, JournalProblem>> {
    const id = hashText(canonicalText(value));
    const key = documentKey({ kind: SET_APART, id });
    if (this.#documents.has(key)) return ok(null);
    const put = await this.#journal.documents.put({
      kind: SET_APART,
      id,
      value,
      epoch: this.#epoch,
    });
    if (!put.ok) return put;
    this.#documents.set(key, put.value);
    this.#report.setApart += 1;
    return put;
  }
}
