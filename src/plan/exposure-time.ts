/**
 * How long one place of the tip is lit: the longer of the product's own time and the one that brings
 * the dose, rounded up to what the lamp can be set to, within the ceilings of light. Where the dose
 * does not fit under them the time is held there, and the answer says why and what helps: never more
 * minutes. Irradiance in mW/cm2, dose in J/cm2, times in s.
 */
import { manyPresses, mostWithin, pressesFor } from '../calc/lamp-programmes.ts';
import {
  DOSE_MIN_J_PER_CM2,
  exposureMaxSeconds,
  POSITION_MAX_SECONDS,
  SURFACE_MAX_SECONDS,
} from '../calc/light-ceilings.ts';
import { exposureSeconds, radiantExposureJPerCm2 } from '../calc/light-dose.ts';
import type { Light } from '../protocol/case-types.ts';
import type { LightLimit } from './explanation.ts';

/** A lamp of usual output: polywave lights measured at 1337 to 1479 (Mouhat 2017), taken lower. */
const USUAL_MW_PER_CM2 = 1200;
/** A product's time up to this gels excess; a longer programme would set it. */
const TACK_MAX_SECONDS = 5;
const ROUNDING = 1e-9;

interface PlaceNeed {
  readonly light: Light;
  /** The product's own time; 0 where it gives none. */
  readonly productSeconds: number;
  /** What is wanted at the cement and the share that reaches it; null where no dose is asked. */
  readonly dose: { readonly doseJPerCm2: number; readonly share: number } | null;
  /** Places of the tip on this surface. */
  readonly positions: number;
}

export interface PlaceTime {
  /** One press after the other, longest first; at least one. */
  readonly presses: readonly number[];
  readonly decidedBy: 'product' | 'dose';
  /** What the dose takes, exactly; null where none is asked. */
  readonly doseSeconds: number | null;
  readonly limit: LightLimit | null;
}

const sumOf = (presses: readonly number[]): number => presses.reduce((sum, s) => sum + s, 0);

const lampOf = ({ irradianceMwPerCm2, programmesS }: Light) => ({
  programmesSeconds: programmesS,
  pressMaxSeconds: exposureMaxSeconds(irradianceMwPerCm2),
});

/** The longest that one place may be lit, with as many of them on the surface. */
const placeMaxSeconds = (positions: number): number =>
  Math.min(POSITION_MAX_SECONDS, SURFACE_MAX_SECONDS / positions);

function isWithin(seconds: number, positions: number): boolean {
  return seconds <= placeMaxSeconds(positions) + ROUNDING;
}

/** Equal parts, each as short as one exposure may be. */
function inParts(seconds: number, pressMaxSeconds: number): readonly number[] {
  const count = Math.max(1, Math.ceil(seconds / pressMaxSeconds - ROUNDING));
  return Array.from({ length: count }, () => seconds / count);
}

/**
 * The product's own time on this lamp; null where it has no programme within one exposure. Without a
 * list the time is taken as it stands.
 */
function productPresses(seconds: number, light: Light): readonly number[] | null {
  const lamp = lampOf(light);
  if (light.programmesS === undefined) return inParts(seconds, lamp.pressMaxSeconds);
  const presses = pressesFor(seconds, lamp);
  // What gels the excess is stopped by hand where the lamp has no programme as short.
  if (seconds <= TACK_MAX_SECONDS && sumOf(presses ?? []) > TACK_MAX_SECONDS) return [seconds];
  return presses ?? manyPresses(seconds, lamp);
}

function dosePresses(seconds: number, light: Light, positions: number): readonly number[] | null {
  const presses = pressesFor(seconds, lampOf(light));
  return presses !== null && isWithin(sumOf(presses), positions) ? presses : null;
}

/** What the lamp can give under the ceilings; by hand where it has no programme as short. */
function heldPresses(light: Light, positions: number): readonly number[] {
  const maxSeconds = placeMaxSeconds(positions);
  const lamp = lampOf(light);
  const most = mostWithin(maxSeconds, lamp);
  return most.length > 0 ? most : [Math.min(maxSeconds, lamp.pressMaxSeconds)];
}

/** What keeps the dose from being reached: the tip, the lamp, or what it has to pass. */
function causeOf(need: PlaceNeed, doseJPerCm2: number, share: number): 'tip' | 'lamp' | 'ceramic' {
  const { light, positions } = need;
  const fits = (o: { light: Light; positions: number; share: number }): boolean => {
    const { irradianceMwPerCm2 } = o.light;
    const input = { irradianceMwPerCm2, doseJPerCm2, transmittance: o.share };
    return dosePresses(exposureSeconds(input), o.light, o.positions) !== null;
  };
  if (positions > 1 && fits({ light, positions: 1, share })) return 'tip';
  const { programmesS: _, ...anyTime } = light;
  const irradianceMwPerCm2 = Math.max(USUAL_MW_PER_CM2, light.irradianceMwPerCm2);
  const usual = { ...anyTime, irradianceMwPerCm2 };
  if (fits({ light: usual, positions, share })) return 'lamp';
  return fits({ light: usual, positions, share: 1 }) ? 'ceramic' : 'lamp';
}

const WAY_OUT = {
  tip: 'wider-tip',
  lamp: 'another-lamp',
  ceramic: 'dual-cured-cement',
} as const;

function heldLimit(need: PlaceNeed, presses: readonly number[]): LightLimit | null {
  if (need.dose === null) return null;
  const { doseJPerCm2, share } = need.dose;
  const { irradianceMwPerCm2 } = need.light;
  const seconds = sumOf(presses);
  const reachedJPerCm2 = radiantExposureJPerCm2({ irradianceMwPerCm2, seconds }) * share;
  const enough = Math.min(DOSE_MIN_J_PER_CM2, doseJPerCm2);
  const cause = causeOf(need, doseJPerCm2, share);
  return {
    code: reachedJPerCm2 + ROUNDING < enough ? 'dose-not-reached' : 'target-not-reached',
    cause,
    wayOut: WAY_OUT[cause],
    reachedJPerCm2,
  };
}

const OWN_OVER: LightLimit = {
  code: 'product-time-over',
  cause: 'product',
  wayOut: 'ask-the-lead',
};
const NO_PROGRAMME: LightLimit = {
  code: 'no-programme',
  cause: 'lamp',
  wayOut: 'another-lamp',
};

/** The time of one place. See the head of this file. */
export function placeTime(need: PlaceNeed): PlaceTime {
  const { light, productSeconds, dose, positions } = need;
  const { irradianceMwPerCm2 } = light;
  const doseSeconds =
    dose === null
      ? null
      : exposureSeconds({
          irradianceMwPerCm2,
          doseJPerCm2: dose.doseJPerCm2,
          transmittance: dose.share,
        });
  const set = productPresses(productSeconds, light);
  const own = set ?? inParts(productSeconds, lampOf(light).pressMaxSeconds);
  if (doseSeconds === null || doseSeconds <= productSeconds) {
    const limit = set === null ? NO_PROGRAMME : isWithin(sumOf(own), positions) ? null : OWN_OVER;
    return { presses: own, decidedBy: 'product', doseSeconds, limit };
  }
  const presses = dosePresses(doseSeconds, light, positions);
  if (presses !== null) return { presses, decidedBy: 'dose', doseSeconds, limit: null };
  const held = heldPresses(light, positions);
  // The product's own time stands, whatever the dose would take.
  const isOwn = sumOf(held) < sumOf(own);
  const given = isOwn ? own : held;
  return {
    presses: given,
    decidedBy: isOwn ? 'product' : 'dose',
    doseSeconds,
    limit: heldLimit(need, given),
  };
}
