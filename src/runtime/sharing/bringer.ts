/**
 * Tells this window of what came from other tablets: at once of the case that it shows, of everything else at
 * most once a second for each kind, since every telling makes lists be read again.
 */
import type { JournalNews } from '../../storage/journal-types.ts';

/** Design choices of this project. */
const TOLD_EVERY_MS = 1000;
/** While much is read at once. */
const TOLD_SELDOM_MS = 5000;

const nameOf = (news: JournalNews): string =>
  news.type === 'document' ? `document ${news.kind}` : news.type;

interface BringerParts {
  readonly bring: (news: JournalNews) => void;
  /** The case that this window shows. */
  readonly shown: () => string | null;
  /** Much is being read at once. */
  readonly isCatchingUp: () => boolean;
  readonly timers: { after(delayMs: number, callback: () => void): () => void };
  /** Told the kinds of documents of each telling. */
  readonly onTold: (kinds: ReadonlySet<string>) => void;
}

export class Bringer {
  readonly #parts: BringerParts;
  readonly #waiting = new Map<string, JournalNews>();
  #isResting = false;

  constructor(parts: BringerParts) {
    this.#parts = parts;
  }

  hear(news: JournalNews): void {
    if (news.type === 'entries' && news.caseId === this.#parts.shown()) {
      this.#parts.bring(news);
      return;
    }
    this.#waiting.set(nameOf(news), news);
    if (!this.#isResting) this.#tell();
  }

  #tell(): void {
    const told = [...this.#waiting.values()];
    this.#waiting.clear();
    this.#isResting = told.length > 0;
    if (!this.#isResting) return;
    for (const news of told) this.#parts.bring(news);
    const kinds = told.flatMap((news) => (news.type === 'document' ? [news.kind] : []));
    this.#parts.onTold(new Set(kinds));
    const restMs = this.#parts.isCatchingUp() ? TOLD_SELDOM_MS : TOLD_EVERY_MS;
    this.#parts.timers.after(restMs, () => this.#tell());
  }
}
