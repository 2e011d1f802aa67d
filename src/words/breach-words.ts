/** A bound that was not kept, in words: what, on which tooth, by how much. Never whose fault. */
import { unreachable } from '../base/assert.ts';
import type { Breach } from '../engine/types.ts';
import { formatWords } from './duration.ts';
import { type CaseNaming, stepOf } from './offer-words.ts';
import { subjectLabel } from './subject-words.ts';

/** The title of the step or window that a breach is about. */
export function breachTitle(breach: Pick<Breach, 'of' | 'what'>, { protocol }: CaseNaming): string {
  if (breach.what === 'step') return stepOf(protocol, breach.of)?.title ?? breach.of;
  return protocol.windows.find((w) => w.id === breach.of)?.title ?? breach.of;
}

/** "over by 6 s", "short by 3 s", "outside the window by 12 s". */
export function breachAmount(breach: Pick<Breach, 'kind' | 'by'>): string {
  const by = formatWords(breach.by, 'up');
  switch (breach.kind) {
    case 'short':
      return `short of the minimum by ${by}`;
    case 'over':
      return `over the limit by ${by}`;
    case 'early':
      return `ended ${by} too early`;
    case 'late':
      return `outside the window by ${by}`;
    case 'exposure-short':
      return `exposure short by ${by}`;
    case 'passes-over':
      return breach.by === 1 ? '1 pass over the limit' : `${breach.by} passes over the limit`;
    default:
      return unreachable(breach.kind);
  }
}

/** The same for a narrow cell: "6 s over". */
export function breachShort(breach: Pick<Breach, 'kind' | 'by'>): string {
  if (breach.kind === 'passes-over') return breachAmount(breach);
  const by = formatWords(breach.by, 'up');
  return breach.kind === 'over' || breach.kind === 'late' ? `${by} over` : `${by} short`;
}

/** "21: Etching gel on enamel, over the limit by 6 s". */
export function breachWords(
  breach: Pick<Breach, 'kind' | 'of' | 'what' | 'subject' | 'by'>,
  naming: CaseNaming,
): string {
  const subject = subjectLabel(breach.subject, naming.spec);
  const told = `${breachTitle(breach, naming)}, ${breachAmount(breach)}`;
  return subject === '' ? told : `${subject}: ${told}`;
}
