/**
 * The shade a unit was accepted in, carried forward from the try-in to the loading. A trial for the
 * whole set counts for each unit; the latest acceptance counts, and what was tried after it without
 * being accepted is named with it.
 */

import type { SubjectId } from '../protocol/subjects.ts';
import { CASE_SUBJECT } from '../protocol/subjects.ts';
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

/** Whether two units are to be loaded from the same paste. */
export function isSameRecipe(a: Recipe, b: Recipe): boolean {
  const key = ({ accepted }: Recipe) =>
    accepted && [accepted.paste, accepted.modifier ?? '', accepted.sharePercent ?? ''].join('\n');
  return key(a) === key(b);
}
