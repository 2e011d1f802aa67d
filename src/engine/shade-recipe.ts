/**
 * The shade a unit was accepted in, carried forward from the try-in to the loading. A trial for the
 * whole set counts for each unit; the latest acceptance counts, and what was tried after it without
 * being accepted is named with it.
 */

import type { SubjectId } from '../protocol/subjects.ts';
import { CASE_SUBJECT } from '../protocol/subjects.ts';
import { layoutOf } from './layout.ts';
import type { ShadeTrial } from './material-types.ts';
import type { CaseState } from './types.ts';

export interface Recipe {
  readonly unit: SubjectId;
  /** Null while nothing was accepted for it. */
  readonly accepted: ShadeTrial | null;
  /** Trials after the acceptance, or all of them while nothing was accepted. */
  readonly triedSince: readonly ShadeTrial[];
}

export function recipeOf(state: Pick<CaseState, 'shades'>, unit: SubjectId): Recipe {
  const own = state.shades
    .map(({ trial }) => trial)
    .filter((trial) => trial.subject === unit || trial.subject === CASE_SUBJECT);
  const last = own.findLastIndex((trial) => trial.result === 'accepted');
  return { unit, accepted: own[last] ?? null, triedSince: own.slice(last + 1) };
}

/** Whether nobody noted any trial for it. */
export const isUntold = ({ accepted, triedSince }: Recipe): boolean =>
  accepted === null && triedSince.length === 0;

/**
 * The choice that ended the try-in, as its press is called, e.g. "Shade accepted": of the step whose
 * other options send back to the paste. Null while none was made.
 */
export function shadeChoice(state: CaseState): string | null {
  const { protocol, byStep } = layoutOf(state);
  const pastes = new Set(
    protocol.slots.filter((slot) => /try-in/i.test(slot.materialClass)).map(({ id }) => id),
  );
  const tryIns = new Set(
    protocol.steps.filter(({ uses = [] }) => uses.some((id) => pastes.has(id))).map(({ id }) => id),
  );
  for (const { id, action } of protocol.steps) {
    if (action.kind !== 'choose') continue;
    if (!action.options.some(({ redo = [] }) => redo.some((step) => tryIns.has(step)))) continue;
    const chosen = (byStep.get(id) ?? []).map(({ key }) => state.runs[key]?.option);
    const ends = action.options.find(({ id: option, redo }) => !redo && chosen.includes(option));
    if (ends !== undefined) return ends.label;
  }
  return null;
}

/** Whether two units are to be loaded from the same paste. */
export function isSameRecipe(a: Recipe, b: Recipe): boolean {
  const key = ({ accepted }: Recipe) =>
    accepted && [accepted.paste, accepted.modifier ?? '', accepted.sharePercent ?? ''].join('\n');
  return key(a) === key(b);
}
