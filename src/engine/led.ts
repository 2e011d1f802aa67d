/**
 * What a pass of light has led through and nobody has confirmed yet: no surface counts as exposed, but a
 * limit that ends with that light is not called passed while people are asked. Where they say that
 * nothing was lit, or say nothing for too long, the limit goes on from where it began.
 */
import { shift } from './axis.ts';
import { isCovered } from './exposures.ts';
import { instanceKey, type Layout } from './layout.ts';
import { allLed, isPassOver, overSinceMs } from './light-pass.ts';
import type { CaseInstant, CaseState, InstanceKey } from './types.ts';

interface LedMoments {
  readonly start: CaseInstant;
  /** Null where the pass leaves it something to be given. */
  readonly end: CaseInstant | null;
}

/**
 * For so long a pass that is over stands for its light while people are busy with what follows it; then its
 * limits are watched again until somebody confirms it. A design choice of this project.
 */
export const UNCONFIRMED_MS = 90_000;

const NOTHING: ReadonlyMap<InstanceKey, LedMoments> = new Map();

/** By instance: when its light was led. Empty while no pass is over. */
export function ledMoments(
  { lightPass, runs }: CaseState,
  layout: Layout,
  now: CaseInstant,
): ReadonlyMap<InstanceKey, LedMoments> {
  if (lightPass === null || !isPassOver(lightPass, now)) return NOTHING;
  if (overSinceMs(lightPass, now) > UNCONFIRMED_MS) return NOTHING;
  const found = new Map<InstanceKey, LedMoments>();
  const places = allLed(lightPass);
  for (const subject of new Set(places.map((place) => place.subject))) {
    const key = instanceKey(lightPass.step, subject);
    const instance = layout.byKey.get(key);
    const own = places.filter((place) => place.subject === subject);
    const [first] = own;
    const last = own.at(-1);
    if (instance === undefined || first === undefined || last === undefined) continue;
    const isWhole = isCovered(layout, { instance, run: runs[key] }, own);
    found.set(key, { start: first.at, end: isWhole ? shift(last.at, last.setMs) : null });
  }
  return found;
}

/** When this edge was led through, where it waits to be confirmed. */
export function ledAt(
  led: ReadonlyMap<InstanceKey, LedMoments>,
  key: InstanceKey,
  edge: 'start' | 'end',
): CaseInstant | null {
  const moments = led.get(key);
  return moments === undefined ? null : moments[edge];
}

/** Whether this edge of an instance was led through and waits to be confirmed. */
export const isLedEdge = (
  led: ReadonlyMap<InstanceKey, LedMoments>,
  key: InstanceKey,
  edge: 'start' | 'end',
): boolean => ledAt(led, key, edge) !== null;
