/**
 * How long a tooth rests between two exposures: 20 s at least, and longer until what all the light of
 * the plan warms it by, one exposure after the other, stays under the marker. Times in ms.
 */
import { MS_PER_SECOND } from '../base/units.ts';
import { heatCaution, type ToothExposure } from '../calc/heat.ts';
import { exposureMaxSeconds, REST_MIN_SECONDS } from '../calc/light-ceilings.ts';
import type { RunPlan, SurfacePlan } from '../engine/run-plan-types.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { Protocol, Step } from '../protocol/types.ts';

/** Presses as short as this only gel the excess; together within one exposure they need no rest. */
const TACK_MAX_MS = 5000;
const STEP_SECONDS = 5;
/** After a rest as long as in the clinical studies (7 min) nothing is left to cool. */
const REST_MAX_SECONDS = 420;

const pressesOf = (plans: readonly SurfacePlan[]): readonly number[] =>
  plans.flatMap(({ presses, setMs, positions }) =>
    Array.from({ length: positions }, () => presses ?? [setMs]).flat(),
  );

/** What one step gives one tooth, and how long it asks to rest in between. */
interface Lit {
  readonly presses: readonly number[];
  readonly ownRestSeconds: number;
  readonly isRested: boolean;
}

function litBy(step: Step, plans: readonly SurfacePlan[], irradianceMwPerCm2: number): Lit | null {
  if (step.action.kind !== 'expose') return null;
  const presses = pressesOf(plans);
  const ownRestSeconds = (step.action.restMs?.value ?? 0) / MS_PER_SECOND;
  const seconds = presses.reduce((sum, ms) => sum + ms, 0) / MS_PER_SECOND;
  const isTack =
    presses.every((ms) => ms <= TACK_MAX_MS) && seconds <= exposureMaxSeconds(irradianceMwPerCm2);
  const isRested = ownRestSeconds > 0 || !isTack;
  return { presses, ownRestSeconds, isRested };
}

/** Every exposure of one tooth, each as soon as its rest allows. */
function exposuresOf(lit: readonly Lit[], restSeconds: number, irradianceMwPerCm2: number) {
  const exposures: ToothExposure[] = [];
  let startSeconds = 0;
  for (const { presses, isRested, ownRestSeconds } of lit) {
    for (const ms of presses.filter((each) => each > 0)) {
      const seconds = ms / MS_PER_SECOND;
      exposures.push({ startSeconds, seconds, irradianceMwPerCm2 });
      startSeconds += seconds + (isRested ? Math.max(restSeconds, ownRestSeconds) : 0);
    }
  }
  return exposures;
}

function isUnderMarker(exposures: readonly ToothExposure[]): boolean {
  const caution = heatCaution({ exposures, restSeconds: 0 });
  return caution.ok && caution.value.level !== 'above-marker';
}

/** The shortest rest, in steps of 5 s, with which this tooth stays under the marker. */
function restSecondsOf(lit: readonly Lit[], irradianceMwPerCm2: number): number {
  let seconds = REST_MIN_SECONDS;
  while (
    seconds < REST_MAX_SECONDS &&
    !isUnderMarker(exposuresOf(lit, seconds, irradianceMwPerCm2))
  ) {
    seconds += STEP_SECONDS;
  }
  return seconds;
}

/** Rests by step and by the unit or tooth it is done to; only of steps that ask for one. */
export function restsOf(o: {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly exposures: RunPlan['exposures'];
}): NonNullable<RunPlan['restMs']> {
  const { spec, protocol, exposures } = o;
  const { irradianceMwPerCm2 } = spec.light;
  const found: Record<string, Record<string, number>> = {};
  for (const unit of spec.units) {
    for (const tooth of unit.teeth) {
      const lit = protocol.steps.flatMap((step) => {
        const subject = step.per === 'tooth' ? tooth : unit.id;
        const own = litBy(step, exposures[step.id]?.[subject] ?? [], irradianceMwPerCm2);
        return own === null ? [] : [{ step, subject, own }];
      });
      const all = lit.map(({ own }) => own);
      const seconds = restSecondsOf(all, irradianceMwPerCm2);
      for (const { step, subject, own } of lit) {
        if (!own.isRested) continue;
        const ofStep = found[step.id] ?? {};
        found[step.id] = ofStep;
        const ms = Math.max(seconds, own.ownRestSeconds) * MS_PER_SECOND;
        ofStep[subject] = Math.max(ofStep[subject] ?? 0, ms);
      }
    }
  }
  return found;
}
