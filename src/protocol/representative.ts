/**
 * A small case that stands for all cases when a protocol is checked without one: units on
 * neighbouring teeth, two portions of cement when there are enough units. Only who belongs to whom
 * matters here; the engine reads real cases.
 */
import { unreachable } from '../base/assert.ts';
import type { Link, Protocol, Scope, Step } from './types.ts';

interface Subject {
  readonly scope: Scope;
  readonly index: number;
  readonly units: readonly number[];
}

/** One step on one subject of the representative case. */
export interface Instance {
  readonly step: Step;
  readonly stepIndex: number;
  readonly subject: Subject;
  /** Place in {@link Expanded.instances}. */
  readonly index: number;
}

export interface Expanded {
  readonly instances: readonly Instance[];
  readonly of: (step: string) => readonly Instance[];
  /** The instances of `step` that a link leads to from `instance`. */
  readonly follow: (
    instance: Instance,
    to: { readonly step: string; readonly link: Link },
  ) => readonly Instance[];
}

/** `teeth[u]` is how many teeth unit `u` has. */
export interface RepresentativeCase {
  readonly teeth: readonly number[];
  readonly mixes: readonly (readonly number[])[];
}

/**
 * Two single units, each from its own portion: enough for every bound between two moments, and no
 * portion is asked to serve more than the one unit that it must.
 */
export const TWO_UNITS: RepresentativeCase = { teeth: [1, 1], mixes: [[0], [1]] };

/** Four units, one of them on two teeth, from two portions: enough for every circle. */
export const FOUR_UNITS: RepresentativeCase = {
  teeth: [1, 1, 1, 2],
  mixes: [
    [0, 1],
    [2, 3],
  ],
};

function subjectsOf(shape: RepresentativeCase): Readonly<Record<Scope, readonly Subject[]>> {
  const all = shape.teeth.map((_, unit) => unit);
  const toothUnits = shape.teeth.flatMap((count, unit) => Array<number>(count).fill(unit));
  const make = (scope: Scope, groups: readonly (readonly number[])[]): readonly Subject[] =>
    groups.map((units, index) => ({ scope, index, units }));
  const contacts = toothUnits
    .slice(1)
    .map((unit, i) => [...new Set([toothUnits[i] ?? unit, unit])]);
  return {
    case: make('case', [all]),
    unit: make(
      'unit',
      all.map((unit) => [unit]),
    ),
    tooth: make(
      'tooth',
      toothUnits.map((unit) => [unit]),
    ),
    contact: make('contact', contacts),
    mix: make('mix', shape.mixes),
  };
}

/** Every step of `protocol` on every subject of the representative case. */
export function expand(protocol: Protocol, shape: RepresentativeCase): Expanded {
  const subjects = subjectsOf(shape);
  const byStep = new Map<string, Instance[]>();
  const instances: Instance[] = [];
  protocol.steps.forEach((step, stepIndex) => {
    const own = subjects[step.per].map((subject, i) => ({
      step,
      stepIndex,
      subject,
      index: instances.length + i,
    }));
    instances.push(...own);
    // With a doubled id the first step counts, as it does everywhere else.
    if (!byStep.has(step.id)) byStep.set(step.id, own);
  });
  const of = (step: string): readonly Instance[] => byStep.get(step) ?? [];
  const belonging = (to: Subject, step: string): readonly Instance[] =>
    of(step).filter(({ subject }) =>
      subject.scope === to.scope
        ? subject.index === to.index
        : subject.units.some((unit) => to.units.includes(unit)),
    );
  return {
    instances,
    of,
    follow: (instance, { step, link }) => {
      switch (link) {
        case 'same':
        case 'linked':
          return belonging(instance.subject, step);
        case 'all':
          return of(step);
        case 'previous': {
          const before = subjects[instance.subject.scope][instance.subject.index - 1];
          return before === undefined ? [] : belonging(before, step);
        }
        default:
          return unreachable(link);
      }
    },
  };
}
