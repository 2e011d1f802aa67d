/**
 * Whether the patient may rest now: no light is on, nothing acts on a tooth or a unit, and no limit that
 * is open would be broken by a pause. Pure; times in ms.
 */
import { layoutOf } from './layout.ts';
import type { CaseState } from './types.ts';
import type { Clock, View } from './view-types.ts';

/** Room left until the limit of one clock, by the longest that may have passed. */
const roomMs = ({ maxMs, elapsed }: Clock): number =>
  maxMs === null ? Number.POSITIVE_INFINITY : maxMs - elapsed.hiMs;

export function mayRestNow({ clocks }: Pick<View, 'clocks'>, restMs: number): boolean {
  const acts: readonly Clock['kind'][] = ['dwell', 'exposure'];
  return clocks.every((clock) => !acts.includes(clock.kind) && roomMs(clock) >= restMs);
}

/** Whether the field is isolated: the last thing done to it closed it. */
export function isFieldClosed(state: CaseState): boolean {
  const told = layoutOf(state).instances.flatMap(({ key, step }) => {
    const at = state.runs[key]?.endedAt;
    return step.field !== undefined && at ? [{ field: step.field, loMs: at.loMs }] : [];
  });
  return told.toSorted((a, b) => a.loMs - b.loMs).at(-1)?.field === 'closes';
}
