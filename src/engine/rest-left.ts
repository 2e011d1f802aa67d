/** How long a tooth rests from light before the next exposure. Times in ms. */
import { untilMs } from './axis.ts';
import { type Instance, type Layout, restMs, shareTooth } from './layout.ts';
import { allLed, isPassOver } from './light-pass.ts';
import type { CaseNow } from './offer-draft.ts';
import { statedRestMs } from './rest-kept.ts';
import type { CaseInstant } from './types.ts';

/**
 * What is left of the rest of a tooth since light last left it, judged by the shortest time that may have
 * passed, over all exposing steps. Places that tones have led to count, whether or not somebody has
 * confirmed them: the tooth may have been lit.
 */
export function restLeftMs(scene: CaseNow, instance: Instance): number {
  return leftMs(scene, instance, restMs(scene.layout, instance));
}

/** The same where the light may come so much earlier than it is asked for: the rest that the step states, too. */
export function sureRestLeftMs(scene: CaseNow, instance: Instance, earlyMs: number): number {
  const sureMs = surelyRestedMs(scene.layout, instance, earlyMs);
  return leftMs(scene, instance, sureMs);
}

/** As long as the plan asks for, and so long that the rest which the step states has passed for certain. */
export function surelyRestedMs(layout: Layout, instance: Instance, unsureMs: number): number {
  const statedMs = statedRestMs(instance);
  return Math.max(restMs(layout, instance), statedMs === 0 ? 0 : statedMs + unsureMs);
}

function leftMs({ state, layout, now }: CaseNow, instance: Instance, wantedMs: number): number {
  if (wantedMs === 0) return 0;
  const { lightEnds, lightPass } = state;
  const leftMs: number[] = [0];
  const ended = (subject: string, at: CaseInstant, setMs: number): void => {
    if (!shareTooth(layout, subject, instance.subject)) return;
    leftMs.push(untilMs(at, now, setMs + wantedMs).byShortest);
  };
  for (const [key, at] of Object.entries(lightEnds)) {
    ended(layout.byKey.get(key)?.subject ?? '', at, 0);
  }
  const { led = [], cut = null } = lightPass ?? {};
  for (const place of lightPass && isPassOver(lightPass, now) ? allLed(lightPass) : led) {
    ended(place.subject, place.at, place.setMs);
  }
  if (cut !== null) ended(cut.place.subject, cut.at, 0);
  return Math.max(...leftMs);
}
