/**
 * Puts the presses of one case into the journal, and remembers what the journal has taken. When it
 * refuses one, because somebody cleared the browser's data under the running app, everything that
 * this page holds is written again: first the entries that were stored, as they were, then the rest.
 */
import type { Recorded } from '../../engine/types.ts';
import { chainEntries, NO_ENTRY_HASH } from '../../storage/hash-chain.ts';
import type { Journal, JournalEntry, JournalResult } from '../../storage/journal-types.ts';

interface CaseKeeperParts {
  readonly journal: Pick<Journal, 'append' | 'adopt'>;
  readonly caseId: string;
  readonly epoch: number;
  /** What the journal has of this case, its first entry first. */
  readonly stored: readonly JournalEntry[];
}

export class CaseKeeper {
  readonly #parts: CaseKeeperParts;
  #stored: readonly JournalEntry[];
  /** Everything pressed, stored or not. */
  #records: readonly Recorded[];
  #mending: JournalResult<null> | null = null;

  constructor(parts: CaseKeeperParts) {
    this.#parts = parts;
    this.#stored = parts.stored;
    this.#records = parts.stored;
  }

  /** Entries that the journal does not have, though they were pressed. */
  get unsaved(): number {
    return this.#records.length - this.#stored.length;
  }

  /** Everything pressed, chained as the journal would chain it: for a file while it takes none. */
  get entries(): readonly JournalEntry[] {
    const { caseId, epoch } = this.#parts;
    const prev = this.#stored.at(-1)?.hash ?? NO_ENTRY_HASH;
    const rest = this.#records.slice(this.#stored.length);
    return [...this.#stored, ...chainEntries(rest, { caseId, epoch, prev })];
  }

  /**
   * Stores one press after the others. A journal that has lost what came before is filled again.
   * Errors: the journal's, when it takes neither.
   */
  async store(batch: readonly Recorded[]): JournalResult<null> {
    const { journal, caseId, epoch } = this.#parts;
    this.#records = [...this.#records, ...batch];
    const appended = await journal.append({ caseId, epoch, recorded: batch });
    if (appended.ok) {
      this.#take(appended.value.entries);
      return { ok: true, value: null };
    }
    this.#mending ??= this.#writeAgain().finally(() => {
      this.#mending = null;
    });
    return this.#mending;
  }

  async #writeAgain(): JournalResult<null> {
    const { journal, caseId, epoch } = this.#parts;
    if (this.#stored.length > 0) {
      const adopted = await journal.adopt({ caseId, epoch, entries: this.#stored });
      if (!adopted.ok) return adopted;
    }
    while (this.unsaved > 0) {
      const recorded = this.#records.slice(this.#stored.length);
      const appended = await journal.append({ caseId, epoch, recorded });
      if (!appended.ok) return appended;
      this.#take(appended.value.entries);
    }
    return { ok: true, value: null };
  }

  /** Takes over what the journal answers; an answer that comes twice changes nothing. */
  #take(entries: readonly JournalEntry[]): void {
    const fresh = entries.filter(({ seq }) => seq >= this.#stored.length);
    this.#stored = [...this.#stored, ...fresh];
  }
}
