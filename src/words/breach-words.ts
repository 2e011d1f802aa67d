/** A limit that was not kept, in words: what, on which tooth, by how much. Never whose fault. */
import type { Breach } from '../engine/types.ts';
import { formatWords } from './duration.ts';
import { breach as english } from './en/breach.ts';
import { spoken } from './language.ts';
import { stepOf } from './offer-words.ts';
import type { CaseNaming } from './step-texts.ts';
import { subjectLabel } from './subject-words.ts';

const words = spoken('breach', english);

/** The title of the step or window that a breach is about. */
function breachTitle(breach: Pick<Breach, 'of' | 'what'>, { protocol }: CaseNaming): string {
  if (breach.what === 'step') return stepOf(protocol, breach.of)?.title ?? breach.of;
  return protocol.windows.find((w) => w.id === breach.of)?.title ?? breach.of;
}

/** In a record `by` is null where the engine has infinity: nobody knows how much it was. */
type BreachBy = Pick<Breach, 'kind'> & { readonly by: number | null };

const byWords = (by: number | null): string =>
  by === null || !Number.isFinite(by) ? words.unknown : formatWords(by, 'up');

/** "over the limit by 6 s", "exposure short by 3 s", "outside the window by 12 s". */
function breachAmount({ kind, by }: BreachBy): string {
  if (kind === 'passes-over') return words.passesOver(by ?? 0);
  return words.amount[kind](byWords(by));
}

/** The same for a narrow cell: "6 s over". */
export function breachShort({ kind, by }: BreachBy): string {
  if (kind === 'passes-over') return words.passesOver(by ?? 0);
  const span = byWords(by);
  return kind === 'over' || kind === 'late' ? words.over(span) : words.short(span);
}

/** "21: Etching gel on enamel, over the limit by 6 s". */
export function breachWords(
  breach: BreachBy & Pick<Breach, 'of' | 'what' | 'subject'>,
  naming: CaseNaming,
): string {
  const subject = subjectLabel(breach.subject, naming.spec);
  const told = { title: breachTitle(breach, naming), amount: breachAmount(breach) };
  return subject === '' ? words.told(told) : words.toldOf({ subject, ...told });
}
