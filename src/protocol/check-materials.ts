/**
 * Whether the chemistry fits the material of the units. Hydrofluoric acid does nothing for zirconia
 * (no glass phase; a review of zirconia bonding gives most evidence to air abrasion with a phosphate
 * primer, PMC6784479), and phosphoric acid leaves phosphate where that primer should bond
 * (taught generally, from memory).
 */

import type { CaseFile } from './case-types.ts';
import { askedFacts, factsOfTooth } from './conditions.ts';
import type { Fact } from './facts.ts';
import { caution, type Finding, fault } from './finding.ts';
import type { Protocol, Step } from './types.ts';

/** A silicate that zirconia reinforces is a glass ceramic. */
const isZirconia = (words: string): boolean =>
  words.includes('zirconia') && !words.includes('silicate');

/** Units of this protocol may be of zirconia. */
function takesZirconia(protocol: Protocol): boolean {
  return [...protocol.restorations, ...(protocol.materials ?? [])].some(isZirconia);
}

/** Classes of material that a step on the unit itself puts there. */
function chemistryOf(protocol: Protocol, step: Step): readonly string[] {
  const uses = new Set(step.uses ?? []);
  const classes = protocol.slots.filter((s) => uses.has(s.id)).map((s) => s.materialClass);
  return step.rangeClass === 'acid-glass-ceramic' ? [...classes, 'hydrofluoric acid'] : classes;
}

/** Acids that must not touch a unit of zirconia. */
export function checkMaterials(protocol: Protocol): readonly Finding[] {
  if (!takesZirconia(protocol)) return [];
  return protocol.steps.flatMap((step, i) => {
    if (step.per !== 'unit') return [];
    const place = `protocol.steps[${i}]`;
    const classes = chemistryOf(protocol, step);
    const has = (acid: string) => classes.some((c) => c.includes(acid));
    const values = { id: step.id, title: step.title };
    return [
      ...(has('hydrofluoric') ? [fault('acid-on-zirconia', place, values)] : []),
      ...(has('phosphoric') ? [fault('phosphate-on-zirconia', place, values)] : []),
    ];
  });
}

const ETCHED_BY_HYDROFLUORIC: readonly string[] = ['lithium-disilicate', 'leucite', 'feldspathic'];

/**
 * Why a material that the protocol does not name is more than a slip of the list: glass ceramics
 * hold by the relief that hydrofluoric acid makes in their glass (20 s at 5 % suffice for lithium
 * disilicate: Puppin-Rontani et al., Oper Dent 2017;42:606), and zirconia has no glass.
 */
function whyNot(material: string, protocol: Protocol): string {
  const chemistry = protocol.steps
    .filter((step) => step.per === 'unit')
    .flatMap((step) => chemistryOf(protocol, step));
  const hasAcid = chemistry.some((c) => c.includes('hydrofluoric'));
  if (isZirconia(material) && hasAcid) return 'acid-on-zirconia';
  if (ETCHED_BY_HYDROFLUORIC.includes(material) && !hasAcid) return 'no-acid-for-glass';
  return 'other-material';
}

/**
 * What the steps of the protocol depend on and nobody has answered for this case, tooth by tooth and
 * unit by unit. A case that was prepared before the question existed has it open, not answered.
 */
export function notAsked(spec: CaseFile, protocol: Protocol): readonly Finding[] {
  const asked = askedFacts(protocol);
  const open = (fact: Fact, id: string, place: string) =>
    asked.has(fact) ? [caution('not-asked', place, { id, fact })] : [];
  return spec.units.flatMap((unit, u) => {
    const place = `case.units[${u}]`;
    const ofTeeth = unit.teeth.flatMap((tooth) => {
      const known = factsOfTooth(spec, tooth);
      return [
        ...(known?.substrate === undefined ? open('substrate', tooth, 'case.teeth') : []),
        ...(known?.provisional === undefined ? open('provisional', tooth, 'case.teeth') : []),
      ];
    });
    return [
      ...ofTeeth,
      ...(unit.conditioned === undefined
        ? open('conditioned', unit.id, `${place}.conditioned`)
        : []),
      ...(unit.opacity === undefined ? open('opacity', unit.id, `${place}.opacity`) : []),
    ];
  });
}

/** Whether a case answers what its protocol asks, and its units are of the kinds it is written for. */
export function checkCaseFits(spec: CaseFile, protocol: Protocol): readonly Finding[] {
  return [...unitFindings(spec, protocol), ...notAsked(spec, protocol)];
}

function unitFindings(spec: CaseFile, protocol: Protocol): readonly Finding[] {
  const { materials, restorations } = protocol;
  return spec.units.flatMap((unit, i) => {
    const { id, material, restoration } = unit;
    const place = `case.units[${i}]`;
    const wrongMaterial = materials !== undefined && !materials.includes(material);
    const wrongKind = restorations.length > 0 && !restorations.includes(restoration);
    return [
      ...(wrongMaterial
        ? [
            fault('material-not-in-protocol', `${place}.material`, {
              id,
              material,
              materials,
              reason: whyNot(material, protocol),
            }),
          ]
        : []),
      ...(wrongKind
        ? [
            caution('restoration-not-in-protocol', `${place}.restoration`, {
              id,
              restoration,
              restorations,
            }),
          ]
        : []),
    ];
  });
}
