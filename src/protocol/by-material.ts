/**
 * The times of a dwell for units of one generic class, where a protocol gives that class times of
 * its own. The step is otherwise the same, so a case of mixed ceramics keeps one sequence.
 */
import type { CaseFile, Step } from './types.ts';

const known = new WeakMap<Step, Map<string, Step>>();

/**
 * The step as it is done to this class of material: the same object where nothing differs, and the
 * same object for the same class every time.
 */
export function stepForMaterial(step: Step, material: string | null): Step {
  const { action } = step;
  if (material === null || action.kind !== 'dwell') return step;
  const { byMaterial = {} } = action;
  const own = Object.hasOwn(byMaterial, material) ? byMaterial[material] : undefined;
  if (own === undefined) return step;
  const cache = known.get(step) ?? new Map<string, Step>();
  known.set(step, cache);
  const hit = cache.get(material);
  if (hit) return hit;
  const { rangeClass = step.rangeClass, ...times } = own;
  const made: Step = {
    ...step,
    action: { kind: 'dwell', ...times },
    ...(rangeClass === undefined ? {} : { rangeClass }),
  };
  cache.set(material, made);
  return made;
}

/** The one class of these units; null when they differ or there are none. */
export function commonMaterial(
  spec: Pick<CaseFile, 'units'>,
  unitIds: readonly string[],
): string | null {
  const own = spec.units.filter((u) => unitIds.includes(u.id)).map((u) => u.material);
  const [first = null, ...others] = own;
  return others.every((m) => m === first) ? first : null;
}
