/**
 * What this window knows of the follow-up: the entries of each case and of the outcomes as a whole, folded once,
 * and what screens are drawn from. Nothing is written here.
 */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import { foldFollowUp } from '../../outcomes/follow-up.ts';
import type { FollowUp } from '../../outcomes/follow-up-types.ts';
import { foldReviews } from '../../outcomes/reviews.ts';
import type { Journal } from '../../storage/journal-types.ts';
import { dayIn } from '../../words/zone.ts';
import { type Fact, type FactKind, factKindOf } from '../facts/fact.ts';
import { FactHistory } from '../facts/fact-history.ts';
import type { Readable } from '../readable.ts';
import type { AppStore } from '../store.ts';
import { KnownRows } from './follow-up-rows.ts';
import {
  FIRST_FOLLOW_UPS,
  FOLLOW_UP,
  type FollowUpsState,
  OUTCOME_REVIEW,
} from './follow-up-state.ts';
import { KnownEntries } from './known-entries.ts';

interface MemoryParts {
  readonly journal: Journal;
  readonly store: Pick<AppStore, 'getState'>;
  readonly nowWallMs: () => number;
}

export class FollowUpMemory {
  readonly #parts: MemoryParts;
  readonly #entries: KnownEntries;
  readonly #reviews: KnownEntries;
  readonly #folded = new Map<string, FollowUp>();
  readonly #rows = new KnownRows();
  readonly #state: StoreApi<FollowUpsState> = createStore<FollowUpsState>(() => FIRST_FOLLOW_UPS);
  readonly #unforgotten = new Set<string>();
  #reading: Promise<Result<null, Problem>> | null = null;

  constructor(parts: MemoryParts) {
    this.#parts = parts;
    this.#entries = new KnownEntries(parts.journal, FOLLOW_UP);
    this.#reviews = new KnownEntries(parts.journal, OUTCOME_REVIEW);
    parts.journal.subscribe((news) => {
      if (news.type === 'document') void this.#heard(factKindOf(news.kind), news.id);
      if (news.type === 'case-deleted' && this.isRead) this.forgotten(news.caseId);
    });
  }

  get state(): Readable<FollowUpsState> {
    return this.#state;
  }

  get isRead(): boolean {
    return this.#state.getState().isRead;
  }

  /** Reads what this tablet keeps, once; calls that come meanwhile wait for the same reading. Errors: the journal's. */
  ready(): Promise<Result<null, Problem>> {
    if (this.isRead) return Promise.resolve(ok(null));
    this.#reading ??= this.#read().finally(() => {
      this.#reading = null;
    });
    return this.#reading;
  }

  /** The items of the follow-up: cases, and what is followed without one. */
  get items(): readonly string[] {
    return this.#entries.items;
  }

  /** Cases that were deleted while their entries are still kept. */
  get unforgotten(): readonly string[] {
    return [...this.#unforgotten];
  }

  entriesOf(item: string): readonly Fact[] {
    return this.#entries.of(item);
  }

  reviewsOf(item: string): readonly Fact[] {
    return this.#reviews.of(item);
  }

  followUpOf(caseId: string): FollowUp | undefined {
    return this.#folded.get(caseId);
  }

  /** The calendar day in the clinic. */
  today(): string {
    return dayIn(this.#parts.nowWallMs(), this.#parts.store.getState().settings.zone);
  }

  /** Entries that were written here; screens are told with {@link tell}. */
  took(facts: readonly Fact[]): void {
    for (const fact of facts) this.#entries.add(fact);
    for (const item of new Set(facts.map((fact) => fact.item))) this.#fold(item);
  }

  /** Entries that were kept with a deletion; what is not there is not taken. */
  async lookFor(facts: readonly Fact[]): Promise<void> {
    for (const { kind, id } of facts) await this.#look(kind, id);
    this.tell();
  }

  tookReviews(facts: readonly Fact[]): void {
    for (const fact of facts) this.#reviews.add(fact);
  }

  /** The case was deleted: nothing of it is followed any more. */
  forgotten(caseId: string): void {
    this.#entries.drop(caseId);
    this.#unforgotten.delete(caseId);
    this.#fold(caseId);
    this.tell();
  }

  /** Works out what screens are drawn from. */
  tell(change: Partial<FollowUpsState> = {}): void {
    const today = this.today();
    const everyMonths = this.#parts.store.getState().settings.recallMonths;
    const rows = this.#rows.of([...this.#folded.values()], { today, everyMonths });
    const told = foldReviews(
      this.#reviews.items.map((item) => new FactHistory(this.#reviews.of(item))),
    );
    const unread = [...this.#folded.values()].reduce((sum, f) => sum + f.unread.length, 0);
    this.#state.setState({
      ...rows,
      reviews: told.reviews,
      leftTwice: this.#leftTwice(told.reviews.livesLeft),
      unread: unread + told.unread.length + this.#entries.damaged + this.#reviews.damaged,
      today,
      ...change,
    });
  }

  #leftTwice(cases: readonly string[]): number {
    const isHere = (caseId: string): boolean => (this.#folded.get(caseId)?.bonded ?? null) !== null;
    const isTwice = (caseId: string): boolean =>
      isHere(caseId) || cases.indexOf(caseId) !== cases.lastIndexOf(caseId);
    return [...new Set(cases)].filter(isTwice).length;
  }

  async #read(): Promise<Result<null, Problem>> {
    for (const known of [this.#entries, this.#reviews]) {
      const read = await known.read();
      if (!read.ok) return read;
    }
    // A tablet that died in a deletion still has entries of the case; its lives may stand elsewhere already.
    const gone = await this.#parts.journal.listTombstones();
    if (!gone.ok) return gone;
    for (const { caseId } of gone.value) {
      if (this.#entries.of(caseId).length > 0) this.#unforgotten.add(caseId);
      this.#entries.drop(caseId);
    }
    for (const item of this.#entries.items) this.#fold(item);
    this.tell({ isRead: true });
    return ok(null);
  }

  async #heard(kind: FactKind | null, id: string): Promise<void> {
    if (!this.isRead || (kind !== FOLLOW_UP && kind !== OUTCOME_REVIEW)) return;
    await this.#look(kind, id);
    this.tell();
  }

  async #look(kind: FactKind, id: string): Promise<void> {
    if (kind === OUTCOME_REVIEW) await this.#reviews.readOne(id);
    if (kind !== FOLLOW_UP) return;
    const item = await this.#entries.readOne(id);
    if (item !== null) this.#fold(item);
  }

  #fold(item: string): void {
    const facts = this.#entries.of(item);
    if (facts.length === 0) this.#folded.delete(item);
    else this.#folded.set(item, foldFollowUp(item, new FactHistory(facts)));
  }
}
