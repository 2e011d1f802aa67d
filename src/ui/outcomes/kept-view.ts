/**
 * What was looked at on the page of outcomes, kept with its entry of the browser's history: who goes to a case and
 * comes back finds the same end point and the same step.
 */
import type { EndPoint } from '../../outcomes/life-types.ts';
import { END_POINTS } from '../../outcomes/vocabulary.ts';

interface KeptView {
  readonly endPoint: EndPoint | null;
  /** Day of the chosen step of the curve, since the bonding; null where none is chosen. */
  readonly day: number | null;
}

function fields(): ReadonlyMap<string, unknown> {
  const state: unknown = window.history.state;
  return new Map(typeof state === 'object' && state !== null ? Object.entries(state) : []);
}

export function keptView(): KeptView {
  const kept = fields();
  const day = kept.get('outcomesDay');
  const endPoint = kept.get('outcomesEndPoint');
  return {
    endPoint: END_POINTS.find((each) => each === endPoint) ?? null,
    day: typeof day === 'number' ? day : null,
  };
}

export function keepView(view: KeptView): void {
  const now = Object.fromEntries(fields());
  const kept = { ...now, outcomesEndPoint: view.endPoint, outcomesDay: view.day };
  window.history.replaceState(kept, '');
}
