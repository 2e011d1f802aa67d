/** Writes the log of this tablet's desk, one entry after the other: two at once would take the same number. */
import type { Problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import type { Journal } from '../../storage/journal-types.ts';
import { appendLeadLog } from './lead-log.ts';

interface LogWriterParts {
  readonly journal: Journal;
  /** The writer's epoch; an error while another window writes. */
  readonly writing: () => Result<number, Problem>;
}

export class LogWriter {
  readonly #parts: LogWriterParts;
  #last: Promise<unknown> = Promise.resolve();

  constructor(parts: LogWriterParts) {
    this.#parts = parts;
  }

  /** Errors: `not-writer`, and the journal's. */
  add(entry: Omit<Parameters<typeof appendLeadLog>[1], 'epoch'>): Promise<Result<null, Problem>> {
    const { journal, writing } = this.#parts;
    const added = this.#last.then(async () => {
      const epoch = writing();
      if (!epoch.ok) return epoch;
      const kept = await appendLeadLog(journal, { ...entry, epoch: epoch.value });
      return kept.ok ? ok(null) : kept;
    });
    this.#last = added;
    return added;
  }
}
