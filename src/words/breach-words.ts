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
type BreachBy = Pick<Breach, 'kind'> & {
  readonly by: number | null;
  readonly perhaps?: boolean;
};

const byWords = (by: number | null): string =>
  by === null || !Number.isFinite(by) ? words.unknown : formatWords(by, 'up');

/** "by up to 6 s" */
const byUpTo = (by: number | null): string =>
  by === null || !Number.isFinite(by) ? words.byUnknown : words.byUpTo(byWords(by));

/** "over the limit by 6 s", "may be over the limit, by up to 6 s", "exposure short by 3 s". */
function breachAmount({ kind, by, perhaps }: BreachBy): string {
  if (kind === 'passes-over') return words.passesOver(by ?? 0);
  if (perhaps && kind !== 'exposure-short') return words.perhaps[kind](byUpTo(by));
  return words.amount[kind](byWords(by));
}

/** The same for a narrow cell: "6 s over". */
export function breachShort({ kind, by, perhaps }: BreachBy): string {
  if (kind === 'passes-over') return words.passesOver(by ?? 0);
  const span = byWords(by);
  if (kind === 'over' || kind === 'late') {
    return perhaps ? words.perhapsOver(span) : words.over(span);
  }
  if (kind === 'gap-short') return perhaps ? words.perhapsGapShort(span) : words.gapShort(span);
  if (kind === 'rest-short') return perhaps ? words.perhapsRestShort(span) : words.restShort(span);
  return perhaps ? words.perhapsShort(span) : words.short(span);
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
