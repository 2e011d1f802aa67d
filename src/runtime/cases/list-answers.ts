/**
 * What was ticked and answered on a list and is not pressed yet. It lives with the running case, so that
 * every door presses the same lines, whatever stood on the screen meanwhile.
 */
import type { Command } from '../../engine/commands.ts';
import { type LineDraft, type ListDraft, lineKey, takenLines } from '../../engine/list-draft.ts';
import type { ListLine } from '../../engine/pressing-types.ts';
import type { CaseEvent } from '../../engine/types.ts';

type LineName = Pick<ListLine, 'step' | 'subjects'>;

export class ListAnswers {
  #drafts: ListDraft = {};
  /** What the last press took: it stands there again when that press is taken back. */
  #pressed: { readonly press: number; readonly drafts: ListDraft } | null = null;

  get drafts(): ListDraft {
    return this.#drafts;
  }

  keep(line: LineName, draft: LineDraft): void {
    this.#drafts = { ...this.#drafts, [lineKey(line)]: draft };
  }

  /** The command with the lines that are ticked or answered, where it presses a list. */
  filled(command: Command): Command {
    if (command.do !== 'press' || command.offer.kind !== 'list') return command;
    const { offer } = command;
    if (offer.taken !== undefined || offer.lines === undefined) return command;
    return { ...command, offer: { ...offer, taken: takenLines(offer.lines, this.#drafts) } };
  }

  /** An answer serves one press: a line that comes again is asked again, unless the press is taken back. */
  note(press: number, events: readonly CaseEvent[]): void {
    const taken = new Set<string>();
    for (const event of events) {
      // What was said before something went wrong is no answer to what is asked after it.
      if (event.type === 'way-back-taken') this.#drafts = {};
      if ((event.type === 'step-confirmed' || event.type === 'option-chosen') && event.list) {
        taken.add(lineKey(event));
      }
      if (event.type === 'press-retracted' && event.press === this.#pressed?.press) {
        this.#drafts = { ...this.#pressed.drafts, ...this.#drafts };
        this.#pressed = null;
      }
    }
    if (taken.size === 0) return;
    const of = (isTaken: boolean): ListDraft =>
      Object.fromEntries(
        Object.entries(this.#drafts).filter(([key]) => taken.has(key) === isTaken),
      );
    this.#pressed = { press, drafts: of(true) };
    this.#drafts = of(false);
  }
}
