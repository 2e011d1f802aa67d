/**
 * What a backup may say of the clinic on this tablet. Facts are taken as they are: bringing two tablets
 * together is the union of what both say. Where this tablet has a lead, what comes in from another desk
 * vouches for nothing until the lead has confirmed it here; a tablet without one goes on with the desk
 * of the backup, as after a loss.
 */
import { fieldsOf } from '../../base/json.ts';
import { ok, type Result } from '../../base/result.ts';
import type { Journal, JournalProblem, StoredDocument } from '../../storage/journal-types.ts';
import { isOfADesk, saidType } from '../facts/desk-facts.ts';
import {
  FACT_KINDS,
  type Fact,
  factDocument,
  keepFact,
  listFacts,
  readFact,
} from '../facts/fact.ts';
import { factOfDocument } from '../facts/legacy-facts.ts';
import { CAME_IN, CLINIC_DESK, LOG_TAKEN_OVER } from '../facts/this-tablet.ts';
import { PASSPHRASE } from '../lead/lead-documents.ts';
import { readLeadLogs, vouchedHashes } from '../lead/lead-log.ts';

/** What the tablet that made a backup had marked of what came to it from elsewhere. */
export interface FileMarks {
  readonly cameIn: ReadonlySet<string>;
  readonly takenOver: ReadonlySet<string>;
}

/** What only a tablet has that has a lead, or belongs to a clinic that has one. */
const HAS_LEAD: ReadonlySet<string> = new Set([PASSPHRASE, CLINIC_DESK, factDocument('tablet')]);

type Done = Promise<Result<null, JournalProblem>>;

/** What became of a fact of the file. */
export type FactTaking =
  | { readonly did: 'was-here' }
  | {
      readonly did: 'taken';
      readonly fact: Fact;
      /** Whether this tablet knew the item before. */
      readonly isItemHere: boolean;
      /** A confirmation of another desk, which the lead of this one has not given yet. */
      readonly waits: boolean;
    };

export class FactMerger {
  readonly #journal: Journal;
  readonly #epoch: number;
  readonly #tablet: string;
  readonly #here = new Map<string, Fact>();
  readonly #items = new Set<string>();
  readonly #marks: FileMarks;
  #hasLead = false;
  #vouched: ReadonlyMap<string, number> = new Map();

  /** @param o.tablet the tablet that made the backup; empty where the file does not name it. */
  constructor(o: {
    readonly journal: Journal;
    readonly epoch: number;
    readonly tablet: string;
    readonly marks: FileMarks;
  }) {
    this.#marks = o.marks;
    this.#journal = o.journal;
    this.#epoch = o.epoch;
    this.#tablet = o.tablet;
  }

  /** Reads what this tablet knows. Errors: the journal's. */
  async begin(documents: readonly StoredDocument[]): Done {
    // A tablet of a clinic has the clinic's lead, wherever that desk stands.
    this.#hasLead = documents.some(({ kind, value }) => HAS_LEAD.has(kind) && value !== null);
    for (const kind of FACT_KINDS) {
      const listed = await listFacts(this.#journal, kind);
      if (!listed.ok) return listed;
      for (const fact of listed.value.facts) this.#meet(fact);
    }
    const logs = await readLeadLogs(this.#journal);
    if (!logs.ok) return logs;
    this.#vouched = vouchedHashes(logs.value.log.entries);
    return ok(null);
  }

  /** Whether this tablet had a lead before: then nothing of another desk vouches for anything here. */
  get hasLead(): boolean {
    return this.#hasLead;
  }

  /** Every fact that was here before, and those that were taken. */
  get known(): readonly Fact[] {
    return [...this.#here.values()];
  }

  /** The fact in a document of the file, or the one that a document of before stands for; null when it is none. */
  factIn(document: StoredDocument): Fact | null {
    return readFact(document) ?? factOfDocument(document, { tablet: this.#tablet });
  }

  /** Takes one fact. Errors: the journal's. */
  async take(fact: Fact): Promise<Result<FactTaking, JournalProblem>> {
    if (this.#here.has(fact.id)) return ok({ did: 'was-here' });
    const isItemHere = this.#items.has(`${fact.kind} ${fact.item}`);
    const isOfDesk = isOfADesk(fact);
    const hash = fieldsOf(fact.said)['hash'];
    const isKnown = isConfirmation(fact) && this.#vouched.has(String(hash));
    const waits = this.#hasLead && fact.kind === 'protocol' && isOfDesk && !isKnown;
    // The mark first: killed between the two, nothing must count that nobody here confirmed.
    if (isOfDesk && (this.#hasLead || this.#marks.cameIn.has(fact.id))) {
      const marked = await this.#note(CAME_IN, fact.id);
      if (!marked.ok) return marked;
    } else if (fact.kind === 'lead-log' && this.#goesOnHere(fact.item)) {
      const marked = await this.#note(LOG_TAKEN_OVER, fact.item);
      if (!marked.ok) return marked;
    }
    const kept = await keepFact(this.#journal, fact, this.#epoch);
    if (!kept.ok) return kept;
    this.#meet(fact);
    return ok({ did: 'taken', fact, isItemHere, waits });
  }

  /** After a loss the desk of the tablet that made the backup goes on here, with those that went on there. */
  #goesOnHere(tablet: string): boolean {
    return tablet === this.#tablet || this.#marks.takenOver.has(tablet);
  }

  #meet(fact: Fact): void {
    this.#here.set(fact.id, fact);
    this.#items.add(`${fact.kind} ${fact.item}`);
  }

  async #note(kind: string, id: string): Done {
    const put = await this.#journal.documents.put({ kind, id, value: true, epoch: this.#epoch });
    return put.ok ? ok(null) : put;
  }
}

const isConfirmation = (fact: Fact): boolean =>
  fact.kind === 'protocol' && saidType(fact) === 'confirmed';

const GIVES = new Set<unknown>(['received', 'was', 'recall-lifted', 'back-on-shelf']);

/** What puts something in force or on the shelf waits until everything that takes it back has been taken. */
export const isHeldBack = (fact: Fact): boolean => isOfADesk(fact) || GIVES.has(saidType(fact));
