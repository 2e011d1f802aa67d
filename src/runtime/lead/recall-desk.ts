/**
 * Recall marks at the open desk: made and unmade with a reason, both in the desk's log. A mark that was
 * made at the shelf, where nobody opens a desk in an emergency, is put into the log as such.
 */
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { LeadDeed, LeadValues } from '../../words/codes.ts';
import type { Stock } from '../stock/stock.ts';

/** What a part of the desk does in the name of whoever opened it. */
export interface DeskHand {
  /** The writer's epoch while the desk is open. Errors: `desk-closed`, `not-writer`. */
  readonly atDesk: () => Result<number, Problem>;
  readonly by: () => string;
  readonly log: (deed: LeadDeed, values: LeadValues) => Promise<Result<null, Problem>>;
}

interface RecallParts extends DeskHand {
  readonly onLogged: () => Promise<void>;
}

type Marks = Pick<Stock, 'recallLot' | 'liftRecall'>;
type Done = Promise<Result<null, Problem>>;

interface OfLot {
  readonly lot: string;
  readonly reason: string;
}

export class RecallDesk {
  readonly #parts: RecallParts;

  constructor(parts: RecallParts) {
    this.#parts = parts;
  }

  /** Marks every box of a lot. Errors: `desk-closed`, `empty`, and those of the stock. */
  async mark(stock: Marks, { lot, reason }: OfLot): Done {
    const may = this.#may(reason);
    if (!may.ok) return may;
    // The mark first: it warns at the chair, the log tells of it.
    const marked = await stock.recallLot({ lot, reason, by: this.#parts.by() });
    return marked.ok ? this.#log('lot-recalled', { lot, reason }) : marked;
  }

  /** Takes the marks of a lot away. Errors: as above. */
  async lift(stock: Marks, { lot, reason }: OfLot): Done {
    const may = this.#may(reason);
    if (!may.ok) return may;
    // The log first: no mark goes of which the log does not tell.
    const logged = await this.#log('recall-lifted', { lot, reason });
    return logged.ok ? stock.liftRecall(lot, { reason, by: this.#parts.by() }) : logged;
  }

  /** Tells the log of a mark that was made away from the desk. */
  noteFromShelf(o: OfLot & { readonly person: string }): Done {
    return this.#log('lot-recalled-at-shelf', { ...o });
  }

  #may(reason: string): Result<null, Problem> {
    const desk = this.#parts.atDesk();
    if (!desk.ok) return desk;
    return reason.trim() === '' ? err(problem('reason', 'why', '', 'empty')) : ok(null);
  }

  async #log(deed: LeadDeed, values: LeadValues): Done {
    const logged = await this.#parts.log(deed, values);
    await this.#parts.onLogged();
    return logged;
  }
}
