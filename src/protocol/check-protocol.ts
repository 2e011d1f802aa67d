/**
 * Whether a protocol that parses also means something: ids and references, links, order, figures, ways of
 * pressing.
 * Whether its windows can be kept is a question of time and is answered in `plan`.
 */
import { checkFigures } from './check-figures.ts';
import { checkHazards } from './check-hazards.ts';
import { checkLinks } from './check-links.ts';
import { checkMaterials } from './check-materials.ts';
import { checkOrder } from './check-order.ts';
import { checkPlausible } from './check-plausible.ts';
import { checkPressing } from './check-pressing.ts';
import { checkQuotes } from './check-quotes.ts';
import { checkReferences } from './check-references.ts';
import { checkTitles } from './check-titles.ts';
import { type Finding, fault, namesOf } from './finding.ts';
import type { Protocol } from './types.ts';

/** All findings, errors before cautions, each in document order. Empty when all is well. */
export function checkProtocol(protocol: Protocol): readonly Finding[] {
  const found = [
    ...(protocol.steps.length === 0 ? [fault('no-steps', 'protocol.steps')] : []),
    ...checkReferences(protocol, namesOf(protocol)),
    ...checkLinks(protocol),
    ...checkOrder(protocol),
    ...checkFigures(protocol),
    ...checkPressing(protocol),
    ...checkMaterials(protocol),
    ...checkQuotes(protocol),
    ...checkPlausible(protocol),
    ...checkHazards(protocol),
    ...checkTitles(protocol),
  ];
  return found.toSorted((a, b) => Number(a.level === 'caution') - Number(b.level === 'caution'));
}
