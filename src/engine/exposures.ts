/**
 * What light each surface has been given and what it is still owed. A light that is set to
 * `setMs` switches itself off, so no exposure is credited beyond that. Times in milliseconds.
 */
import { durationMs } from '../base/units.ts';
import type { Surface } from '../protocol/types.ts';
import { elapsed } from './axis.ts';
import { type Instance, type Layout, surfacePlans } from './layout.ts';
import type { SurfacePlan } from './run-plan-types.ts';
import type { CaseInstant, Elapsed, StepRun } from './types.ts';

/** One position of the tip on one surface. */
interface ExposureNeed {
  readonly surface: Surface;
  readonly position: number;
  readonly positions: number;
  readonly setMs: number;
  readonly givenLoMs: number;
  readonly owedMs: number;
  readonly plan: SurfacePlan;
}

/** A press of less than this is added to the one after it: it could not be aimed. */
const PRESS_MIN_MS = 3000;

/** What the lamp is set to next: what a press still lacks, or all that is owed. */
export function nextPressMs(plan: SurfacePlan, givenMs: number): number {
  let endMs = 0;
  for (const press of plan.presses ?? []) {
    endMs += press;
    if (endMs - givenMs >= PRESS_MIN_MS) return Math.min(endMs, plan.setMs) - givenMs;
  }
  return Math.max(0, plan.setMs - givenMs);
}

/** Credited time of an exposure that has been on since `since`. */
export function credited(since: CaseInstant, until: CaseInstant, setMs: number): Elapsed {
  const took = elapsed(since, until);
  return {
    loMs: durationMs(Math.min(took.loMs, setMs)),
    hiMs: durationMs(Math.min(took.hiMs, setMs)),
  };
}

/** Every position of every surface of one instance, with what it was given so far. */
export function exposureNeeds(
  layout: Layout,
  instance: Instance,
  run: StepRun | undefined,
): ExposureNeed[] {
  return surfacePlans(layout, instance).flatMap((plan) =>
    Array.from({ length: plan.positions }, (_, i) => {
      const position = i + 1;
      const givenLoMs = (run?.exposures ?? [])
        .filter((e) => e.surface === plan.surface && e.position === position)
        .reduce((sum, e) => sum + e.given.loMs, 0);
      return {
        surface: plan.surface,
        position,
        positions: plan.positions,
        setMs: plan.setMs,
        givenLoMs,
        owedMs: Math.max(0, plan.setMs - givenLoMs),
        plan,
      };
    }),
  );
}

/** Whether these places, lit for their time, would give an instance all that it is still owed. */
export function isCovered(
  layout: Layout,
  o: { readonly instance: Instance; readonly run: StepRun | undefined },
  places: readonly Pick<ExposureNeed, 'surface' | 'position' | 'setMs'>[],
): boolean {
  return exposureNeeds(layout, o.instance, o.run).every(({ surface, position, owedMs }) => {
    const own = places.filter((p) => p.surface === surface && p.position === position);
    return owedMs <= own.reduce((ms, { setMs }) => ms + setMs, 0);
  });
}
