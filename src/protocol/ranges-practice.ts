/**
 * What a protocol of this kind usually must not lack, and what must not meet: cautions for the
 * clinic lead to judge. Rules of the trade (common practice, no source), except that hydrofluoric
 * acid does not etch zirconia (review in Dentistry Journal 2019, PMC6784479).
 */

import type { CaseFile } from './case-types.ts';
import type { Finding } from './finding.ts';
import type { Protocol, Step, Surface } from './types.ts';

export interface PracticeFinding extends Omit<Finding, 'code'> {
  readonly code:
    | 'outside-range'
    | 'acid-on-zirconia'
    | 'primed-unshielded'
    | 'working-without-bead'
    | 'surface-missing'
    | 'nobody-does-it';
}

const caution = (
  code: PracticeFinding['code'],
  place: string,
  values: PracticeFinding['values'],
): PracticeFinding => ({ code, level: 'caution', place, values });

const isZirconia = (words: string): boolean => /zirconia/i.test(words);
// Zirconia-reinforced silicates are glass ceramics: acid does etch them.
const isEtchable = (words: string): boolean => /silicate|reinforced/i.test(words);

/** Steps that put hydrofluoric acid on a unit. */
function acidSteps(protocol: Protocol): readonly number[] {
  const acids = new Set(
    protocol.slots
      .filter((slot) => /hydrofluoric/i.test(slot.materialClass))
      .map((slot) => slot.id),
  );
  return protocol.steps.flatMap((step, i) => {
    const isAcid =
      step.rangeClass?.startsWith('acid-') === true ||
      (step.uses ?? []).some((slot) => acids.has(slot));
    return isAcid && step.per === 'unit' ? [i] : [];
  });
}

function acidOnZirconia(protocol: Protocol, cases: readonly CaseFile[]) {
  const named = [protocol.title, ...protocol.restorations].find(
    (words) => isZirconia(words) && !isEtchable(words),
  );
  const primed = protocol.steps.find((step) => step.rangeClass === 'primer-zirconia')?.title;
  const units = cases.flatMap((spec) =>
    spec.units
      .filter((unit) => isZirconia(unit.material) && !isEtchable(unit.material))
      .map((unit) => `${spec.title}: ${unit.id}`),
  );
  const on = named ?? primed ?? units[0];
  if (on === undefined) return [];
  return acidSteps(protocol).map((i) =>
    caution('acid-on-zirconia', `protocol.steps[${i}].action`, {
      title: protocol.steps[i]?.title ?? '',
      on,
    }),
  );
}

const isPrimer = (step: Step): boolean =>
  step.per === 'unit' && step.rangeClass?.startsWith('primer-') === true;

/** A primed unit stays primed through the steps that follow its primer, such as the air. */
function unshielded(protocol: Protocol): readonly PracticeFinding[] {
  const isShielded = protocol.windows.some((w) => w.protects === 'shield' && w.maxMs !== undefined);
  if (isShielded) return [];
  return protocol.steps.flatMap((step, i) =>
    isPrimer(step)
      ? [caution('primed-unshielded', `protocol.steps[${i}]`, { title: step.title })]
      : [],
  );
}

function withoutBead(protocol: Protocol): readonly PracticeFinding[] {
  const isBead = (step: Step) => step.rangeClass === 'sample-bead' || /\bbead\b/i.test(step.title);
  if (protocol.steps.some(isBead)) return [];
  const mixed = new Set(protocol.steps.flatMap((step) => (step.per === 'mix' ? [step.id] : [])));
  return protocol.windows.flatMap((window, i) =>
    window.protects === 'working' && mixed.has(window.from.step)
      ? [caution('working-without-bead', `protocol.windows[${i}]`, { title: window.title })]
      : [],
  );
}

const WANTED: readonly (readonly Surface[])[] = [
  ['facial'],
  ['mesial'],
  ['distal'],
  ['lingual'],
  ['incisal', 'occlusal'],
];

/** Every side that light can reach, over all full exposures together; a tack does not count. */
function missingSurfaces(protocol: Protocol): readonly PracticeFinding[] {
  const full = protocol.steps.flatMap((step, i) =>
    step.action.kind === 'expose' && step.rangeClass !== 'tack'
      ? [{ i, title: step.title, surfaces: step.action.surfaces }]
      : [],
  );
  const last = full.at(-1);
  if (last === undefined) return [];
  const lit = new Set(full.flatMap((step) => step.surfaces));
  const missing = WANTED.filter((any) => !any.some((surface) => lit.has(surface)));
  if (missing.length === 0) return [];
  const surfaces = missing.map((any) => any.join(' or '));
  const values = { title: last.title, surfaces };
  return [caution('surface-missing', `protocol.steps[${last.i}].action.surfaces`, values)];
}

/** A step of a role that a prepared case has nobody for. */
function withoutPerson(protocol: Protocol, cases: readonly CaseFile[]) {
  return protocol.steps.flatMap((step, i) => {
    if (step.by === 'either' || step.optional === true) return [];
    const spec = cases.find((file) => !file.people.some((person) => person.role === step.by));
    if (spec === undefined) return [];
    const values = { title: step.title, role: step.by, on: spec.title };
    return [caution('nobody-does-it', `protocol.steps[${i}].by`, values)];
  });
}

/** A step that only opens with a choice nobody can make, or a way back that is not there. */
function neverOpened(protocol: Protocol): readonly PracticeFinding[] {
  const options = new Set(
    protocol.steps.flatMap(({ id, action }) =>
      action.kind === 'choose' ? action.options.map((option) => `${id}/${option.id}`) : [],
    ),
  );
  const ways = new Set(protocol.waysBack.map((way) => way.id));
  return protocol.steps.flatMap((step, i) => {
    const conditions = step.onlyIf ?? [];
    const canOpen = conditions.some((c) =>
      'wayBack' in c ? ways.has(c.wayBack) : options.has(`${c.step}/${c.option}`),
    );
    if (conditions.length === 0 || canOpen) return [];
    const values = { title: step.title, role: '', on: '' };
    return [caution('nobody-does-it', `protocol.steps[${i}].onlyIf`, values)];
  });
}

/** Cautions of the trade. `cases` are the prepared cases that use this protocol. */
export function checkPractice(
  protocol: Protocol,
  cases: readonly CaseFile[],
): readonly PracticeFinding[] {
  return [
    ...acidOnZirconia(protocol, cases),
    ...unshielded(protocol),
    ...withoutBead(protocol),
    ...missingSurfaces(protocol),
    ...withoutPerson(protocol, cases),
    ...neverOpened(protocol),
  ];
}
