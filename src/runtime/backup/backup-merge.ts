/**
 * Brings a backup into the journal of this tablet. Nothing that is here is lost: cases and facts become the
 * union of both; of what belongs to one tablet, as its settings, the later version counts, and the one that
 * gives way, like everything that does not fit, is kept as a document of the kind `set-apart`.
 * Doing it twice changes nothing the second time.
 */

import { CASE_ENTRIES_MAX, ITEM_FACTS_MAX } from '../../base/caps.ts';
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
import { type Fact, factKindOf } from '../facts/fact.ts';
import { isCounted } from '../facts/legacy-facts.ts';
import { CAME_IN, CLINIC_DESK, LAYOUT, LOG_TAKEN_OVER, MARK_KINDS } from '../facts/this-tablet.ts';
import { FOLLOW_UP } from '../follow-up/follow-up-state.ts';
import { forgetFollowUp } from '../follow-up/forget-follow-up.ts';
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
import type { FoundSeal, Signed } from './backup-seal.ts';
import { asFromElsewhere } from './drafts-elsewhere.ts';
import { FactMerger, type FileMarks, isHeldBack } from './merge-facts.ts';
import { RestoredThings } from './restored-things.ts';
import { ofThisTablet } from './settings-merge.ts';

/** What a file was found to hold when it was gone through. */
interface CheckedLines {
  readonly counts: BackupCounts;
  /** The tablet that made it; empty where it does not say. */
  readonly tablet: string;
  /** What that tablet had marked of what came to it from elsewhere. */
  readonly marks: FileMarks;
  readonly end: {
    readonly counts: BackupCounts;
    readonly sha256: string;
    readonly signed: Signed | undefined;
  };
}

/** What a restore found in the file, and what it did. */
export interface RestoreReport extends RestoreCounts {
  readonly found: BackupCounts;
  /** Everything that it added, changed or set apart, by name. */
  readonly things: readonly RestoredThing[];
  /** Who signed the file; null where nobody did. */
  readonly seal?: FoundSeal | null;
}

const unfit = (came: string): BackupFault =>
  new BackupFault('backup-contents', { expected: 'contents as this app writes them', came });

function parsed(text: string, at: number): BackupLine {
  const line = parseBackupLine(text);
  if (!line.ok) throw unfit(`line ${at + 1} is not ${line.error}`);
  return line.value;
}

const CAPS = { caseEntriesMax: CASE_ENTRIES_MAX, itemFactsMax: ITEM_FACTS_MAX };

/** The item of a fact whose facts are told from each other in memory; empty for everything else. */
function itemOf({ kind, value }: StoredDocument): string {
  const of = factKindOf(kind);
  const { item } = fieldsOf(value);
  return of === null || of === 'lead-log' || typeof item !== 'string' ? '' : `${of} ${item}`;
}

/**
 * Goes through all lines without changing anything: shapes, chains, counts and the sum.
 * @throws BackupFault when anything does not fit.
 */
export async function checkLines(
  lines: AsyncIterable<string>,
  o: Partial<typeof CAPS> = {},
): Promise<CheckedLines> {
  const { caseEntriesMax, itemFactsMax } = { ...CAPS, ...o };
  let counts = NO_COUNTS;
  let point: ChainPoint = CHAIN_START;
  const seen = new Set<string>();
  const sum = new LineSum();
  let at = 0;
  let end: CheckedLines['end'] | null = null;
  let tablet = '';
  const items = new Map<string, number>();
  const marks = { cameIn: new Set<string>(), takenOver: new Set<string>() };
  for await (const text of lines) {
    const line = parsed(text, at);
    if ((line.record === 'begin') !== (at === 0) || end !== null) throw unfit(`line ${at + 1}`);
    at += 1;
    if (line.record === 'end') {
      const { sha256, signed } = line;
      end = { counts: line.counts, sha256, signed };
      const isWhole = canonicalText(line.counts) === canonicalText(counts);
      if (!isWhole || sha256 !== sum.hex()) throw unfit('another sum');
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
      if (body.seq >= caseEntriesMax) {
        throw unfit(`case ${body.caseId}, more than ${caseEntriesMax} entries`);
      }
      point = pointAfter(body);
      seen.add(body.caseId);
      counts = addCounts(counts, { cases: isNew ? 1 : 0, entries: 1 });
    } else if (line.record === 'document') {
      counts = addCounts(counts, { documents: 1 });
      const item = itemOf(line.body);
      const known = (items.get(item) ?? 0) + 1;
      if (item !== '' && known > itemFactsMax) {
        throw unfit(`${item}, more than ${itemFactsMax} facts`);
      }
      items.set(item, known);
      if (line.body.kind === CAME_IN) marks.cameIn.add(line.body.id);
      // After a loss every desk goes on here that counted there: its own, and those of its clinic.
      if (line.body.kind === LOG_TAKEN_OVER) marks.takenOver.add(line.body.id);
      if (line.body.kind === CLINIC_DESK) marks.takenOver.add(line.body.id);
      const named = line.body.kind === SETTINGS ? fieldsOf(line.body.value)['tablet'] : null;
      if (typeof named === 'string') tablet = named;
    } else if (line.record === 'tombstone') counts = addCounts(counts, { tombstones: 1 });
  }
  if (end === null) throw unfit('no end');
  return { counts, tablet, marks, end };
}

const documentKey = (d: { readonly kind: string; readonly id: string }): string =>
  canonicalText([d.kind, d.id]);

/** Who may open the desk here is not decided by a file that somebody brings along. */
const KEPT_KINDS: ReadonlySet<string> = new Set([PASSPHRASE, ATTEMPTS]);

type Mutable<T> = { -readonly [K in keyof T]: T[K] };
type Done = Promise<Result<null, JournalProblem>>;

/** Told the entries of a case that was not here before, once they are stored. */
export type OnAdded = (entries: readonly JournalEntry[]) => Promise<void>;

/** Merges checked lines, case by case. */
export class Merger {
  readonly #journal: Journal;
  readonly #epoch: number;
  readonly #report: Mutable<Omit<RestoreReport, 'things'>>;
  readonly #things = new RestoredThings();
  readonly #documents = new Map<string, StoredDocument>();
  readonly #facts: FactMerger;
  readonly #seen = new Set<string>();
  readonly #deleted = new Set<string>();
  readonly #onAdded: OnAdded;
  #waiting: JournalEntry[] = [];
  readonly #heldBack: Fact[] = [];

  constructor(o: {
    readonly journal: Journal;
    readonly epoch: number;
    readonly found: CheckedLines;
    readonly onAdded?: OnAdded;
  }) {
    const { journal, epoch, found, onAdded = async () => undefined } = o;
    this.#journal = journal;
    this.#onAdded = onAdded;
    this.#epoch = epoch;
    this.#facts = new FactMerger({ journal, epoch, tablet: found.tablet, marks: found.marks });
    this.#report = {
      found: found.counts,
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
    // Last: killed on the way, nothing may count that the rest of the file takes back.
    for (const fact of this.#heldBack) {
      const done = await this.#takeFact(fact);
      if (!done.ok) return done;
    }
    return ok({ ...this.#report, things: this.#things.list() });
  }

  async #readHere(): Done {
    const documents = await this.#journal.documents.listAll();
    if (!documents.ok) return documents;
    for (const document of documents.value) {
      this.#documents.set(documentKey(document), document);
    }
    const facts = await this.#facts.begin(documents.value);
    if (!facts.ok) return facts;
    for (const fact of this.#facts.known) this.#things.meet(fact);
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
        if (!taken.value.taken) return ok(null);
        this.#report.tombstonesTaken += 1;
        this.#deleted.add(line.body.caseId);
        return forgetFollowUp(this.#journal, { ...line.body, epoch: this.#epoch });
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
      if (!isHere) await this.#onAdded(entries);
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
    if (found.kind === LAYOUT || MARK_KINDS.has(found.kind)) return ok(null);
    const fact = this.#facts.factIn(found);
    if (fact !== null && isHeldBack(fact)) {
      this.#heldBack.push(fact);
      return ok(null);
    }
    // What is followed of a case went with it.
    if (fact?.kind === FOLLOW_UP && this.#deleted.has(fact.item)) return ok(null);
    if (fact !== null) return this.#takeFact(fact);
    // A fact whose content is not what its name stands for, or a counted document that says nothing.
    if (factKindOf(found.kind) !== null) return this.#setApart(found.value);
    if (isCounted(found)) return ok(null);
    const here = this.#documents.get(documentKey(found));
    if (here !== undefined && KEPT_KINDS.has(found.kind)) return ok(null);
    const document = this.#asItHolds(found, here);
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
    }
    return this.#adopt(document);
  }

  /** What is here word for word is this tablet's own, whoever brings it along. */
  #asItHolds(found: StoredDocument, here: StoredDocument | undefined): StoredDocument {
    const isKnown = here !== undefined && canonicalText(here.value) === canonicalText(found.value);
    if (isKnown || !this.#facts.hasLead) return ofThisTablet(found, here);
    return asFromElsewhere(ofThisTablet(found, here));
  }

  async #takeFact(fact: Fact): Done {
    const taking = await this.#facts.take(fact);
    if (!taking.ok) return taking;
    this.#things.meet(fact);
    if (taking.value.did === 'was-here') return ok(null);
    this.#report.documentsTaken += 1;
    this.#things.taken(taking.value);
    return ok(null);
  }

  async #adopt(document: StoredDocument): Done {
    const taken = await this.#journal.documents.adopt({ ...document, epoch: this.#epoch });
    if (!taken.ok) return taken;
    if (!taken.value.taken) return ok(null);
    this.#report.documentsTaken += 1;
    if (document.kind === SET_APART) this.#things.apart(document.value);
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
