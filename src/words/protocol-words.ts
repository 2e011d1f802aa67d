/** Words of the protocol pages, and of what stands in a protocol. */

import { unreachable } from '../base/assert.ts';
import type { Action, Protocol, Step, Window } from '../protocol/types.ts';
import { whereWords } from './condition-words.ts';
import { formatWords } from './duration.ts';
import { protocol } from './en/protocol.ts';
import { languageTag, spoken } from './language.ts';
import { materialForms } from './material-words.ts';
import { SURFACE_WORDS } from './subject-words.ts';
import { untranslated } from './told-protocol.ts';

export const protocolWords = spoken('protocol', protocol);

/** What a number is for, by its name in a table of numbers. */
export type FigureName = keyof typeof protocol.figures;

/** "dentist, each tooth" */
export function whoWords(step: Pick<Step, 'by' | 'per'>): string {
  return protocolWords.who({
    by: protocolWords.roles[step.by],
    per: protocolWords.scopes[step.per],
  });
}

/** "German": a language by its name in that of the app; the tag itself where it has none. */
function languageWords(tag: string): string {
  try {
    return new Intl.DisplayNames(languageTag(), { type: 'language' }).of(tag) ?? tag;
  } catch {
    return tag;
  }
}

/** What of a protocol, as it is stored, is shown in another language than the app's; null if nothing. */
export function untranslatedWords(protocol: Protocol): string | null {
  const found = untranslated(protocol);
  if (found === null) return null;
  const language = languageWords(found.language);
  return found.count === 'all'
    ? protocolWords.untranslated(language)
    : protocolWords.partlyTranslated({ count: found.count, language });
}

/** What a step asks for, in a few words: "target 20 s", "5 coats"; empty for a mere press. */
export function stepAsks(step: Step, protocol: Pick<Protocol, 'choices'> = {}): string {
  const { action } = step;
  const { asks } = protocolWords;
  switch (action.kind) {
    case 'confirm':
      return '';
    case 'dwell':
      return dwellAsks(action, protocol);
    case 'coats':
      return asks.coats(action.count.value);
    case 'expose':
      return exposeAsks(action);
    case 'tally':
      return asks.tally({ count: action.passesMax.value, label: action.label });
    case 'choose':
      return asks.options(action.options.map(({ label }) => label));
    default:
      return unreachable(action);
  }
}

function dwellAsks(
  action: Extract<Action, { readonly kind: 'dwell' }>,
  protocol: Pick<Protocol, 'choices'>,
): string {
  const time = formatWords(action.targetMs.value);
  const others = Object.entries(action.byMaterial ?? {}).map(([material, times]) => ({
    material: materialForms(material).inLine,
    time: formatWords(times.targetMs.value),
  }));
  const variants = (action.variants ?? []).map(({ where, targetMs }) => ({
    material: whereWords(where, protocol),
    time: formatWords(targetMs.value),
  }));
  others.push(...variants);
  return others.length === 0
    ? protocolWords.asks.target(time)
    : protocolWords.asks.targets({ time, others });
}

function exposeAsks(action: Extract<Action, { readonly kind: 'expose' }>): string {
  const surfaces = action.surfaces.map((surface) => SURFACE_WORDS[surface]);
  const { asks } = protocolWords;
  if (action.perSurfaceMs === undefined) return asks.surfaces(surfaces);
  return asks.light({ time: formatWords(action.perSurfaceMs.value), surfaces });
}

/** "at least 20 min", "at most 5 min", "2 min to 5 min"; empty without a limit. */
export function windowAsks({ minMs, maxMs }: Window): string {
  const { asks } = protocolWords;
  if (minMs && maxMs) {
    return asks.between({ min: formatWords(minMs.value), max: formatWords(maxMs.value) });
  }
  if (minMs) return asks.atLeast(formatWords(minMs.value));
  return maxMs ? asks.atMost(formatWords(maxMs.value)) : '';
}
