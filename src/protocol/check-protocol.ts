/**
 * Whether a protocol that parses also means something: ids and references, links, order, figures.
 * Whether its windows can be kept is a question of time and is answered in `plan`.
 */
import { checkFigures } from './check-figures.ts';
import { checkLinks } from './check-links.ts';
import { checkMaterials } from './check-materials.ts';
import { checkOrder } from './check-order.ts';
import { checkReferences } from './check-references.ts';
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
    ...checkMaterials(protocol),
  ];
  return found.toSorted((a, b) => Number(a.level === 'caution') - Number(b.level === 'caution'));
}
