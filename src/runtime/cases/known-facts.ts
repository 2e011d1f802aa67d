/**
 * What is known of the cases of this tablet: worked out once from the entries of each, kept between
 * starts, and read with the first list, which no first screen shows.
 */
import { type CaseLog, replay } from '../../engine/log.ts';
import { summarise } from '../../storage/case-summary.ts';
import type { FactsCache } from '../../storage/facts-cache.ts';
import type { CaseSummary, Journal, JournalEntry } from '../../storage/journal-types.ts';
import { othersTurn } from '../others-turn.ts';
import { type CaseFacts, caseFacts, SharedFacts, summaryFacts } from './cases-list-facts.ts';
import { FACTS_VERSION, type KeptFacts, parseCaseFacts } from './parse-case-facts.ts';

/** So many are kept in one go while a backup is brought in. */
const KEPT_AT_ONCE = 200;

/** So many are looked through before the page is let go. */
const RECALLED_AT_ONCE = 500;

export class KnownFacts {
  readonly #journal: Pick<Journal, 'read'>;
  readonly #openCache: () => Promise<FactsCache | null>;
  #recalled: Promise<void> | null = null;
  #opening: Promise<FactsCache | null> | null = null;
  readonly #known = new Map<string, CaseFacts>();
  readonly #shared = new SharedFacts();
  /** Worked out and not kept yet. */
  #fresh: KeptFacts[] = [];

  /** @param o.openCache null where nothing is kept between starts. */
  constructor(o: {
    readonly journal: Pick<Journal, 'read'>;
    readonly openCache: () => Promise<FactsCache | null>;
  }) {
    this.#journal = o.journal;
    this.#openCache = o.openCache;
  }

  get isRecalled(): boolean {
    return this.#recalled !== null;
  }

  /** What an earlier start worked out, once for this one. */
  recall(): Promise<void> {
    this.#recalled ??= this.#recall();
    return this.#recalled;
  }

  async #recall(): Promise<void> {
    const cache = await this.#opened();
    const kept = (await cache?.readAll()) ?? [];
    for (const [at, value] of kept.entries()) {
      const facts = parseCaseFacts(value);
      // What was worked out meanwhile is newer.
      if (facts !== null && !this.#known.has(facts.caseId)) {
        this.#known.set(facts.caseId, this.#shared.of(facts));
      }
      if (at % RECALLED_AT_ONCE === RECALLED_AT_ONCE - 1) await othersTurn();
    }
  }

  /** Forgets what was worked out from cases that are no longer here. */
  async prune(summaries: readonly CaseSummary[]): Promise<void> {
    if (this.#known.size <= summaries.length) return;
    const here = new Set(summaries.map((s) => s.caseId));
    const gone = [...this.#known.keys()].filter((id) => !here.has(id));
    for (const id of gone) this.#known.delete(id);
    await (await this.#opened())?.forget(gone);
  }

  /** The facts of a case as it stands now; null when it was not read yet, or has grown since. */
  of({ caseId, head }: CaseSummary): CaseFacts | null {
    const known = this.#known.get(caseId);
    return known?.head === head ? known : null;
  }

  /** What the summary of a case tells before it was read. */
  unread(summary: CaseSummary): CaseFacts {
    return summaryFacts(summary);
  }

  /** Reads a case and works out its facts; null when it cannot be read. */
  async read(summary: CaseSummary): Promise<CaseFacts | null> {
    const read = await this.#journal.read(summary.caseId);
    if (!read.ok || read.value.entries.length === 0) return null;
    const { entries, verdict } = read.value;
    return this.#workOut(summary, { entries, isWhole: verdict.firstBad === null });
  }

  /** Works out the facts of a case that was just taken in whole: it need not be read again. */
  async takenIn(entries: readonly JournalEntry[]): Promise<void> {
    this.#workOut(summarise(null, entries), { entries, isWhole: true });
    if (this.#fresh.length >= KEPT_AT_ONCE) await this.keep();
  }

  /** The facts of a case whose log is there already. */
  folded(summary: CaseSummary, log: CaseLog): void {
    this.#note(caseFacts(summary, log));
  }

  #note(found: CaseFacts): CaseFacts {
    const facts = this.#shared.of(found);
    this.#known.set(facts.caseId, facts);
    this.#fresh.push({ ...facts, factsVersion: FACTS_VERSION });
    return facts;
  }

  /** Keeps what was worked out since the last time. */
  async keep(): Promise<void> {
    const fresh = this.#fresh;
    this.#fresh = [];
    if (fresh.length > 0) await (await this.#opened())?.put(fresh);
  }

  #opened(): Promise<FactsCache | null> {
    this.#opening ??= this.#openCache();
    return this.#opening;
  }

  #workOut(
    summary: CaseSummary,
    { entries, isWhole }: { readonly entries: readonly JournalEntry[]; readonly isWhole: boolean },
  ): CaseFacts | null {
    try {
      return this.#note(caseFacts(summary, replay(entries), { isWhole }));
    } catch {
      // The chain holds but no version of this app wrote these events: it is shown, not searched.
      return null;
    }
  }
}
