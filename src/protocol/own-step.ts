/**
 * A step as it is done to one subject: with the times of its class of material or of what its tooth
 * shows, and without what belongs to other subjects. The step is otherwise the same, so a case of
 * mixed ceramics and mixed teeth keeps one sequence.
 */

import type { CaseFile } from './case-types.ts';
import { allHold, type Facts, type Standing } from './conditions.ts';
import { bareId, type SubjectId, type Subjects } from './subjects.ts';
import type { DwellTimes, Step } from './types.ts';

const known = new WeakMap<Step, Map<string, Step>>();

/** The same object for the same step and times, so that equal subjects can be told by identity. */
function remembered(step: Step, key: string, make: () => Step): Step {
  const cache = known.get(step) ?? new Map<string, Step>();
  known.set(step, cache);
  const hit = cache.get(key);
  if (hit) return hit;
  const made = make();
  cache.set(key, made);
  return made;
}

function withTimes(step: Step, own: DwellTimes): Step {
  const { rangeClass = step.rangeClass, minMs, targetMs, maxMs } = own;
  return {
    ...step,
    action: {
      kind: 'dwell',
      ...(minMs && { minMs }),
      targetMs,
      ...(maxMs && { maxMs }),
    },
    ...(rangeClass === undefined ? {} : { rangeClass }),
  };
}

/** The one class of these units; null when they differ or there are none. */
export function commonMaterial(units: readonly { readonly material: string }[]): string | null {
  const [first, ...others] = units.map((unit) => unit.material);
  if (first === undefined) return null;
  return others.every((material) => material === first) ? first : null;
}

/**
 * The step as it is done to this subject: the same object where nothing differs, and the same object
 * for the same times every time. The first variant that holds wins, then the class of material.
 */
export function ownStep(step: Step, facts: Facts, standing: Standing): Step {
  const { action } = step;
  if (action.kind !== 'dwell') return step;
  const { variants = [], byMaterial = {} } = action;
  const at = variants.findIndex(({ where }) => allHold(where, facts, standing));
  const variant = variants[at];
  if (variant !== undefined)
    return remembered(step, `variant ${at}`, () => withTimes(step, variant));
  const material = commonMaterial(standing.units);
  const own =
    material !== null && Object.hasOwn(byMaterial, material) ? byMaterial[material] : undefined;
  if (own === undefined) return step;
  return remembered(step, `material ${material}`, () => withTimes(step, own));
}

/** The step with the step that its clock begins with on this subject; without, it begins by itself. */
export function beginningWith(step: Step, beginsWith: string | undefined): Step {
  if (step.beginsWith === beginsWith) return step;
  return remembered(step, `begins ${beginsWith ?? ''}`, () => {
    const { beginsWith: _, ...rest } = step;
    return beginsWith === undefined ? rest : { ...rest, beginsWith };
  });
}

/** The units and teeth that a subject stands for. */
export function standingOf(
  spec: Pick<CaseFile, 'units'>,
  ids: { readonly units: readonly string[]; readonly teeth: readonly string[] },
): Standing {
  return { units: spec.units.filter((unit) => ids.units.includes(unit.id)), teeth: ids.teeth };
}

/** What the case file says of a subject by what belongs to it. */
export function standingIn(
  spec: Pick<CaseFile, 'units'>,
  subjects: Pick<Subjects, 'linked'>,
  subject: SubjectId,
): Standing {
  const ids = (scope: 'unit' | 'tooth') => subjects.linked(subject, scope).map(bareId);
  return standingOf(spec, { units: ids('unit'), teeth: ids('tooth') });
}
