/**
 * What this tablet has and the clinic's store has not: new things are told as they are stored, everything is
 * compared at a start and after the store went back. Cases of patients are shared, rehearsals are not; of
 * what only a desk may say, what counts at this one.
 */
import type { Result } from '../../base/result.ts';
import type { Journal, JournalEntry, JournalNews } from '../../storage/journal-types.ts';
import { type CaseKeyRing, keyMark } from '../../sync/case-key-ring.ts';
import { caseKeyMessage } from '../../sync/case-keys.ts';
import type { NewMessage, Outbox } from '../../sync/outbox.ts';
import { sealEntries, sealFact, sealTombstone } from '../../sync/seal.ts';
import type { Sealer } from '../../sync/sealed-types.ts';
import type { CaseMark, Change, SharingDatabase } from '../../sync/sharing-database.ts';
import { isOfADesk } from '../facts/desk-facts.ts';
import {
  documentOf,
  FACT_KINDS,
  type Fact,
  factKindOf,
  listFacts,
  readFact,
} from '../facts/fact.ts';
import { isOfThisDesk, readThisTablet, type ThisTablet } from '../facts/this-tablet.ts';
import type { Brought } from './brought.ts';
import { factMark, goneMark, isDemonstration, offered, tombstoneMark } from './marks.ts';
import { isOfOtherClinic } from './of-clinic.ts';
import { readSecretMessages, secretMark } from './secret-messages.ts';

/** Entries in one message, where they are not those of one press. A design choice of this project. */
const ENTRIES_AT_ONCE = 40;
/** Messages that wait while more is compared; behind them the rest waits unsealed. */
const WAITING_MAX = 1000;
/** Things that are sealed before they are kept together. */
const KEPT_AT_ONCE = 64;

export interface OwnThingsParts {
  readonly journal: Journal;
  readonly database: SharingDatabase;
  readonly outbox: Outbox;
  readonly keys: () => CaseKeyRing;
  /** What seals in the name of this tablet now. */
  readonly sealer: () => Sealer;
  readonly brought: Brought;
  /** Something cannot be shared, because it is larger than any message. */
  readonly onTooLarge: (what: string) => void;
}

/** What waits to be kept together. */
interface Sealed {
  readonly messages: NewMessage[];
  readonly along: Change[];
}

const nothing = (): Sealed => ({ messages: [], along: [] });

/** @throws Error what stands against reading the journal; the same is tried at the next turn. */
function read<T>(result: Result<T, { readonly code: string }>): T {
  if (!result.ok) throw new Error(result.error.code);
  return result.value;
}

export class OwnThings {
  readonly #parts: OwnThingsParts;
  readonly #news: JournalNews[] = [];
  /** Whether cases are those of patients. */
  readonly #isShared = new Map<string, boolean>();
  readonly #tooLarge = new Set<string>();
  #isCompareDue = false;
  #goes = false;

  constructor(parts: OwnThingsParts) {
    this.#parts = parts;
  }

  /** Something was stored in this window. It is looked at in the next turn. */
  hear(news: JournalNews): void {
    if (news.type !== 'asked-document') this.#news.push(news);
  }

  /** Everything is to be compared in the next turn. */
  compareAll(): void {
    this.#isCompareDue = true;
  }

  /** Something is left that a turn would look at, as far as the outbox has room. */
  get isDue(): boolean {
    const hasRoom = this.#parts.outbox.waiting < WAITING_MAX / 2;
    return this.#news.length > 0 || (this.#isCompareDue && hasRoom);
  }

  /** Everything that is known of was looked at, and is in the outbox at least. */
  get isDone(): boolean {
    return !this.#goes && this.#news.length === 0 && !this.#isCompareDue;
  }

  /** One turn: what was told, then what a comparison finds. Rejects where the journal cannot be read. */
  async turn(): Promise<void> {
    this.#goes = true;
    try {
      await this.#turn();
    } finally {
      this.#goes = false;
    }
  }

  async #turn(): Promise<void> {
    while (this.#news.length > 0) {
      const some = this.#news.splice(0, KEPT_AT_ONCE);
      try {
        await this.#takeNews(some);
      } catch (cause) {
        // It is found by comparing, whatever it was.
        this.#isCompareDue = true;
        throw cause;
      }
    }
    if (!this.#isCompareDue) return;
    const isWhole = await this.#compare();
    if (isWhole) this.#isCompareDue = false;
  }

  async #takeNews(some: readonly JournalNews[]): Promise<void> {
    const sealed = nothing();
    const { journal } = this.#parts;
    // A press asks for nothing of it.
    const isOfFacts = some.some(({ type }) => type === 'document');
    const here = isOfFacts ? read(await readThisTablet(journal)) : null;
    const cases = new Map<string, JournalEntry[]>();
    for (const news of some) {
      if (news.type === 'entries') {
        const fresh = news.entries.filter(({ hash }) => !this.#parts.brought.took(hash));
        if (fresh.length > 0) {
          cases.set(news.caseId, [...(cases.get(news.caseId) ?? []), ...fresh]);
        }
      } else if (news.type === 'document') {
        if (here !== null) await this.#addDocument(sealed, news, here);
      } else if (news.type === 'case-deleted') {
        const isOwn = !this.#parts.brought.took(tombstoneMark(news.caseId));
        if (isOwn) await this.#addTombstones(sealed, news.caseId);
      }
    }
    await this.#keep(sealed);
    for (const [caseId, entries] of cases) await this.#addCase(caseId, entries);
  }

  async #keep(sealed: Sealed): Promise<void> {
    const { messages, along } = sealed;
    if (messages.length > 0 || along.length > 0) await this.#parts.outbox.add(messages, along);
  }

  // Facts

  async #addDocument(
    sealed: Sealed,
    { kind, id }: { readonly kind: string; readonly id: string },
    here: ThisTablet,
  ): Promise<void> {
    if (factKindOf(kind) === null || this.#parts.brought.took(id)) return;
    const value = read(await this.#parts.journal.documents.get(kind, { id }));
    const fact = readFact({ kind, id, value });
    if (fact !== null) await this.#addFact(sealed, fact, here);
  }

  async #addFact(sealed: Sealed, fact: Fact, here: ThisTablet): Promise<void> {
    const { database, sealer } = this.#parts;
    if (isDemonstration(fact) || (isOfADesk(fact) && !isOfThisDesk(fact, here))) return;
    if ((await database.get('offered', factMark(fact.id))) !== undefined) return;
    const { crypto, membership } = sealer();
    if (await isOfOtherClinic(crypto, membership, fact)) return;
    const message = await sealFact(sealer(), documentOf(fact));
    if (!message.ok) return this.#leave(factMark(fact.id));
    sealed.messages.push({ stream: 'F', ...message.value });
    sealed.along.push(offered(factMark(fact.id)));
  }

  #leave(what: string): void {
    this.#tooLarge.add(what);
    this.#parts.onTooLarge(what);
  }

  // Cases

  /** Seals entries of a case from `at` on, in as many messages as they need; null where one alone is too large. */
  async #sealed(
    caseId: string,
    entries: readonly JournalEntry[],
  ): Promise<{ readonly sealed: Sealed } | null> {
    const { keys, sealer } = this.#parts;
    const { caseKey, made } = await keys().forWriting(sealer(), caseId);
    const sealed = nothing();
    if (made !== null) {
      sealed.messages.push(made.message);
      sealed.along.push(keys().keep(made.wrapped), offered(keyMark(made.wrapped)));
    }
    const left = [entries];
    for (let part = left.pop(); part !== undefined; part = left.pop()) {
      const message = await sealEntries(sealer(), { caseKey, entries: part });
      if (message.ok) {
        sealed.messages.push({ stream: 'J', ...message.value });
        continue;
      }
      if (part.length === 1) return null;
      const half = Math.ceil(part.length / 2);
      left.push(part.slice(half), part.slice(0, half));
    }
    return { sealed };
  }

  async #isOfPatient(caseId: string, first: JournalEntry | undefined): Promise<boolean> {
    const known = this.#isShared.get(caseId);
    if (known !== undefined) return known;
    const opening =
      first?.seq === 0 ? first : read(await this.#parts.journal.read(caseId)).entries[0];
    const { event } = opening ?? {};
    const isPatient = event?.type === 'case-opened' && event.mode === 'patient';
    this.#isShared.set(caseId, isPatient);
    return isPatient;
  }

  /** Offers what the store lacks of a case; `told` are entries that were stored just now. */
  async #addCase(caseId: string, told: readonly JournalEntry[]): Promise<void> {
    const { database, journal } = this.#parts;
    if (this.#tooLarge.has(caseId) || !(await this.#isOfPatient(caseId, told[0]))) return;
    const mark = await database.get('cases', caseId);
    const known = mark?.known ?? 0;
    const fresh = told.filter(({ seq }) => seq >= known);
    const follows = fresh.length > 0 && fresh.every(({ seq }, i) => seq === known + i);
    const entries = follows ? fresh : read(await journal.read(caseId)).entries.slice(known);
    let at: CaseMark = mark ?? { caseId, known: 0, from: [] };
    for (let i = 0; i < entries.length; i += ENTRIES_AT_ONCE) {
      const part = entries.slice(i, i + ENTRIES_AT_ONCE);
      const done = await this.#sealed(caseId, part);
      if (done === null) return this.#leave(caseId);
      at = grown(at, { upTo: at.known + part.length, device: this.#device });
      const { messages, along } = done.sealed;
      await this.#keep({ messages, along: [...along, { room: 'cases', put: at }] });
    }
  }

  get #device(): string {
    return this.#parts.sealer().membership.device;
  }

  async #addTombstones(sealed: Sealed, only?: string): Promise<void> {
    const { database, journal, keys, sealer } = this.#parts;
    for (const tombstone of read(await journal.listTombstones())) {
      const { caseId } = tombstone;
      if (only !== undefined && caseId !== only) continue;
      const mark = tombstoneMark(caseId);
      if ((await database.get('offered', mark)) !== undefined) continue;
      // A case that no other tablet ever saw need not be taken from any.
      if (!(await this.#wasShared(caseId))) continue;
      const message = await sealTombstone(sealer(), { caseId, value: tombstone });
      if (!message.ok) continue;
      sealed.messages.push({ stream: 'F', ...message.value });
      sealed.along.push(offered(mark), offered(goneMark(caseId)), ...forgetCase(keys(), caseId));
    }
  }

  async #wasShared(caseId: string): Promise<boolean> {
    const { database } = this.#parts;
    const [mark, gone] = await Promise.all([
      database.get('cases', caseId),
      database.get('offered', goneMark(caseId)),
    ]);
    return mark !== undefined || gone !== undefined;
  }

  // Everything

  /** Whether everything was looked at; false where the outbox is full for now. */
  async #compare(): Promise<boolean> {
    return (
      (await this.#compareKeys()) && (await this.#compareFacts()) && (await this.#compareCases())
    );
  }

  get #isFull(): boolean {
    return this.#parts.outbox.waiting >= WAITING_MAX;
  }

  /** Keys that the store lacks, as after it went back. */
  async #compareKeys(): Promise<boolean> {
    const { database, keys, sealer } = this.#parts;
    const known = new Set(await database.keys('offered'));
    for (const wrapped of await keys().kept()) {
      if (this.#isFull) return false;
      if (known.has(keyMark(wrapped))) continue;
      const message = await caseKeyMessage(sealer(), wrapped);
      await this.#parts.outbox.add([{ stream: 'K', ...message }], [offered(keyMark(wrapped))]);
    }
    for (const message of await readSecretMessages(database)) {
      const mark = secretMark(message);
      if (!known.has(mark)) await this.#parts.outbox.add([message], [offered(mark)]);
    }
    return true;
  }

  async #compareFacts(): Promise<boolean> {
    const { journal, database } = this.#parts;
    const here = read(await readThisTablet(journal));
    const known = new Set(await database.keys('offered'));
    for (const kind of FACT_KINDS) {
      const { facts } = read(await listFacts(journal, kind));
      const left = inOrder(facts.filter(({ id }) => !known.has(factMark(id))));
      for (let i = 0; i < left.length; i += KEPT_AT_ONCE) {
        if (this.#isFull) return false;
        const sealed = nothing();
        for (const fact of left.slice(i, i + KEPT_AT_ONCE)) {
          if (!this.#tooLarge.has(factMark(fact.id))) await this.#addFact(sealed, fact, here);
        }
        await this.#keep(sealed);
      }
    }
    const sealed = nothing();
    await this.#addTombstones(sealed);
    await this.#keep(sealed);
    return true;
  }

  async #compareCases(): Promise<boolean> {
    const { journal, database } = this.#parts;
    const marks = new Map((await database.all('cases')).map((each) => [each.caseId, each.known]));
    for (const summary of read(await journal.listCases())) {
      const { caseId, mode, entries } = summary;
      if (mode !== 'patient' || entries <= (marks.get(caseId) ?? 0)) continue;
      if (this.#isFull) return false;
      await this.#addCase(caseId, []);
    }
    return true;
  }
}

/** Those that others name come before them: what is told in this order is understood at once. */
const inOrder = (facts: readonly Fact[]): readonly Fact[] =>
  facts.toSorted((a, b) => a.atWallMs - b.atWallMs || (a.id < b.id ? -1 : 1));

/** A mark that reaches further, by entries of one tablet. */
export function grown(
  mark: CaseMark,
  { upTo, device }: { readonly upTo: number; readonly device: string },
): CaseMark {
  if (upTo <= mark.known) return mark;
  const isSame = mark.from.at(-1)?.device === device;
  const from = isSame ? mark.from : [...mark.from, { at: mark.known, device }];
  return { ...mark, known: upTo, from };
}

/** Nothing is left of a case that was deleted, beside the mark of it. */
export const forgetCase = (keys: CaseKeyRing, caseId: string): readonly Change[] => [
  { room: 'cases', drop: caseId },
  { room: 'held', drop: IDBKeyRange.bound([caseId], [caseId, []]) },
  { room: 'storeOnly', drop: caseId },
  keys.forget(caseId),
];
