/**
 * What the desk has to do with drills: it keeps what people noted after one, and the lead signs there that results are
 * no grounds for action against anybody. The signature stands in the log of the desk alone, with the sentence as it read on that day.
 */
import { type Problem, problem } from '../../base/problem.ts';
import { err, type Result } from '../../base/result.ts';
import type { LeadLog } from './lead-log.ts';
import type { DeskHand } from './recall-desk.ts';

type Done = Promise<Result<null, Problem>>;

interface DrillDeskParts extends DeskHand {
  readonly onLogged: () => Promise<void>;
}

export class DrillDesk {
  readonly #parts: DrillDeskParts;

  constructor(parts: DrillDeskParts) {
    this.#parts = parts;
  }

  /** Keeps in the log what somebody noted of a drill; the desk may be closed. Errors: `not-writer`, the journal's. */
  async note(o: {
    readonly protocol: string;
    readonly seed: number;
    readonly words: string;
  }): Done {
    const logged = await this.#parts.log('drill-note', { ...o });
    await this.#parts.onLogged();
    return logged;
  }

  /** Signs the sentence. Errors: `desk-closed`, `empty`, `not-writer`, the journal's. */
  async sign(words: string): Done {
    const desk = this.#parts.atDesk();
    if (!desk.ok) return desk;
    if (words.trim() === '') return err(problem('words', 'the sentence', words, 'empty'));
    const logged = await this.#parts.log('drills-signed', { words });
    await this.#parts.onLogged();
    return logged;
  }
}

export interface DrillsSigned {
  readonly by: string;
  readonly onWallMs: number;
  /** The sentence as it read then. */
  readonly words: string;
}

/** The last signature that the log vouches for; null before there is one. */
export function drillsSigned({ entries }: Pick<LeadLog, 'entries'>): DrillsSigned | null {
  const last = entries.findLast(({ deed, vouches }) => deed === 'drills-signed' && vouches);
  if (last === undefined) return null;
  return { by: last.by, onWallMs: last.atWallMs, words: String(last.values['words'] ?? '') };
}
