/**
 * Whether a part of a protocol belongs to a subject, from what the case file says of it: what the
 * tooth shows, what was done to the unit, what was chosen at set-up. Nothing here depends on what
 * happens in the chair. What nobody has answered matches nothing.
 */
import { unreachable } from '../base/assert.ts';
import type { CaseFile, Unit } from './case-types.ts';
import type { Fact, ToothFacts, Where } from './facts.ts';
import type { Protocol } from './types.ts';

/** The parts of a case file that conditions read. */
export type Asked = Pick<CaseFile, 'units' | 'teeth' | 'choices'>;

/** What one subject stands for: its units, and the teeth that belong to it. */
export interface Standing {
  readonly units: readonly Unit[];
  readonly teeth: readonly string[];
}

/** Conditions of one case, over the choices of its protocol. */
export interface Facts {
  readonly spec: Asked;
  readonly protocol: Pick<Protocol, 'choices'>;
}

/** The option taken at set-up, or else the protocol's own; null for a choice that is not there. */
export function chosenOption({ spec, protocol }: Facts, id: string): string | null {
  const choice = protocol.choices?.find((each) => each.id === id);
  if (choice === undefined) return null;
  const taken = spec.choices?.[id];
  return choice.options.some((option) => option.id === taken) ? (taken ?? null) : choice.default;
}

export const factsOfTooth = (spec: Asked, tooth: string): ToothFacts | undefined =>
  spec.teeth?.find((each) => each.tooth === tooth);

function unitValues(units: readonly Unit[], read: (unit: Unit) => string | undefined): string[] {
  return units.flatMap((unit) => read(unit) ?? []);
}

/** Every value that is known of a subject; none while nobody has answered. */
export function valuesOf(fact: Fact, spec: Asked, { units, teeth }: Standing): readonly string[] {
  switch (fact) {
    case 'substrate':
      return teeth.flatMap((tooth) => factsOfTooth(spec, tooth)?.substrate ?? []);
    case 'provisional':
      return teeth.flatMap((tooth) => factsOfTooth(spec, tooth)?.provisional ?? []);
    case 'conditioned':
      return unitValues(units, (unit) => unit.conditioned);
    case 'opacity':
      return unitValues(units, (unit) => unit.opacity);
    case 'material':
      return unitValues(units, (unit) => unit.material);
    case 'restoration':
      return unitValues(units, (unit) => unit.restoration);
    case 'pontics':
      return unitValues(units, (unit) => ((unit.pontics?.length ?? 0) > 0 ? 'yes' : 'no'));
    default:
      return unreachable(fact);
  }
}

function holds(where: Where, facts: Facts, standing: Standing): boolean {
  if ('anyOf' in where) return where.anyOf.some((each) => holds(each, facts, standing));
  if ('overMm' in where)
    return standing.units.some(({ thicknessMm }) => (thicknessMm ?? 0) > where.overMm);
  if ('choice' in where) return where.is.includes(chosenOption(facts, where.choice) ?? '');
  const values = valuesOf(where.fact, facts.spec, standing);
  if ('isNot' in where)
    return values.length > 0 && !values.some((value) => where.isNot.includes(value));
  return values.some((value) => where.is.includes(value));
}

/** Whether every condition holds; a list that is missing asks for nothing. */
export function allHold(
  where: readonly Where[] | undefined,
  facts: Facts,
  standing: Standing,
): boolean {
  return where === undefined || where.every((each) => holds(each, facts, standing));
}

/** The single conditions of a list, those inside "any of" too. */
export function flatConditions(
  where: readonly Where[] = [],
): readonly Exclude<Where, { anyOf: readonly Where[] }>[] {
  return where.flatMap((each) => ('anyOf' in each ? flatConditions(each.anyOf) : [each]));
}

export interface PlacedConditions {
  readonly place: string;
  readonly where: readonly Where[];
}

/** Every list of conditions of a protocol, with where it stands. */
export function conditionsOf(protocol: Protocol): readonly PlacedConditions[] {
  const ofWays = protocol.waysBack.flatMap(({ where }, i) =>
    where === undefined ? [] : [{ place: `protocol.waysBack[${i}].where`, where }],
  );
  const ofSteps = protocol.steps.flatMap((step, i) => {
    const place = `protocol.steps[${i}]`;
    const { where, after, action } = step;
    const variants = action.kind === 'dwell' ? (action.variants ?? []) : [];
    return [
      ...(where === undefined ? [] : [{ place: `${place}.where`, where }]),
      ...after.flatMap((each, a) =>
        each.where === undefined
          ? []
          : [{ place: `${place}.after[${a}].where`, where: each.where }],
      ),
      ...variants.map((each, n) => ({
        place: `${place}.action.variants[${n}].where`,
        where: each.where,
      })),
    ];
  });
  return [...ofSteps, ...ofWays];
}

/** The facts that the steps of a protocol depend on: what set-up asks for, and nothing else. */
export function askedFacts(protocol: Protocol): ReadonlySet<Fact> {
  const single = conditionsOf(protocol).flatMap(({ where }) => flatConditions(where));
  return new Set(single.flatMap((each) => ('fact' in each ? [each.fact] : [])));
}
