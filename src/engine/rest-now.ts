/**
 * Whether the patient may rest now: no light is on, nothing acts on a tooth or a unit, no uncured resin lies
 * open, nothing is owed after a mishap, and no limit that is open would be broken by a pause. Pure; times in ms.
 */
import type { Protocol } from '../protocol/types.ts';
import { layoutOf } from './layout.ts';
import type { CaseState } from './types.ts';
import type { Clock, View } from './view-types.ts';

/** Room left until the limit of one clock, by the longest that may have passed. */
const roomMs = ({ maxMs, elapsed }: Clock): number =>
  maxMs === null ? Number.POSITIVE_INFINITY : maxMs - elapsed.hiMs;

/** Whether a step is offered that nothing but a mishap brought. */
function isOwedAfterMishap(offers: View['offers'], { steps }: Pick<Protocol, 'steps'>): boolean {
  const due = new Set(offers.map(({ step }) => step));
  return steps.some(({ id, onlyIf = [] }) => due.has(id) && onlyIf.some((one) => 'wayBack' in one));
}

export function mayRestNow(
  { clocks, offers }: Pick<View, 'clocks' | 'offers'>,
  o: { readonly protocol: Pick<Protocol, 'steps'>; readonly restMs: number },
): boolean {
  const acts: readonly Clock['kind'][] = ['dwell', 'exposure'];
  const isFree = clocks.every(
    // Between two places of a pass the light is about to go on again.
    (clock) =>
      !acts.includes(clock.kind) &&
      clock.paced !== true &&
      !clock.amber &&
      roomMs(clock) >= o.restMs,
  );
  return isFree && !isOwedAfterMishap(offers, o.protocol);
}

/** Whether the field is isolated: the last thing done to it closed it. */
export function isFieldClosed(state: CaseState): boolean {
  const told = layoutOf(state).instances.flatMap(({ key, step }) => {
    const at = state.runs[key]?.endedAt;
    return step.field !== undefined && at ? [{ field: step.field, loMs: at.loMs }] : [];
  });
  return told.toSorted((a, b) => a.loMs - b.loMs).at(-1)?.field === 'closes';
}
