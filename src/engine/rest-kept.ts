/**
 * Whether a tooth rested between two exposures as its step states. Only what a step states is a limit:
 * a longer rest, which the plan works out so that a tooth does not warm too much, is waited for
 * (`rest-left.ts`) and judged by nobody. Judged by what may have passed since light last left the tooth,
 * over all exposing steps. Times in ms.
 */
import { elapsed } from './axis.ts';
import { shortOf } from './breaches.ts';
import { type Instance, type Layout, shareTooth } from './layout.ts';
import type { Breach, CaseInstant, CaseState, InstanceKey } from './types.ts';

/** When light left something, by what it was shone on. */
export type LightEnd = readonly [key: InstanceKey, at: CaseInstant];

/** The rest that the step itself asks for; 0 where it says nothing. */
export function statedRestMs({ step }: Instance): number {
  return step.action.kind === 'expose' ? (step.action.restMs?.value ?? 0) : 0;
}

/** The breach of a rest, as light begins at `at`; `ends` may hold later ones, which do not count. */
export function restBreaches(o: {
  readonly state: CaseState;
  readonly layout: Layout;
  readonly instance: Instance;
  readonly at: CaseInstant;
  readonly press: number;
  readonly ends: readonly LightEnd[];
}): Breach[] {
  const { state, layout, instance, at, press } = o;
  const wantedMs = statedRestMs(instance);
  if (wantedMs === 0) return [];
  const rests = o.ends
    .filter(([, end]) => end.loMs <= at.loMs)
    .filter(([key]) => shareTooth(layout, layout.byKey.get(key)?.subject ?? '', instance.subject))
    .map(([, end]) => elapsed(end, at));
  if (rests.length === 0) return [];
  const took = {
    loMs: Math.min(...rests.map(({ loMs }) => loMs)),
    hiMs: Math.min(...rests.map(({ hiMs }) => hiMs)),
  };
  return shortOf(state, { kind: 'rest-short', instance, at, press, minMs: wantedMs, took });
}
