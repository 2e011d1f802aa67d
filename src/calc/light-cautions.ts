/**
 * What to be careful about with a light: very high outputs, distance from the tip, and drift from
 * the light's own baseline. Cautions, not corrections: no universal figure exists for these.
 */
import { ok } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { readNumber, readObject } from './reading.ts';

type LightCaution = 'very-high-output-short-exposure' | 'reciprocity-not-granted';

/** Consensus of a 2014 symposium on light curing: be careful above 1500-2000 mW/cm2 for 1-5 s. */
const HIGH_OUTPUT_MW_PER_CM2 = 1500;
const SHORT_EXPOSURE_SECONDS = 5;

/**
 * Cautions that one exposure calls for: above 1500 mW/cm2 a dose in J/cm2 says less about the
 * result than the maker's time does, and at 5 s or less a small slip of the tip costs most of it.
 * @param light irradiance in mW/cm2 and seconds.
 */
export function highOutputCautions(light: {
  readonly irradianceMwPerCm2: number;
  readonly seconds: number;
}): readonly LightCaution[] {
  if (light.irradianceMwPerCm2 <= HIGH_OUTPUT_MW_PER_CM2) return [];
  return light.seconds <= SHORT_EXPOSURE_SECONDS
    ? ['very-high-output-short-exposure', 'reciprocity-not-granted']
    : ['reciprocity-not-granted'];
}

/**
 * Share of the irradiance at the tip that a perfectly diffuse disc leaves at a distance:
 * a^2 / (a^2 + z^2), a being the tip's radius. Measured lights lie on both sides of it.
 * @param tip distance 0 or more mm, diameter above 0 mm.
 */
function diffuseDiscFraction(tip: {
  readonly distanceMm: number;
  readonly tipDiameterMm: number;
}): number {
  const radiusSquared = (tip.tipDiameterMm / 2) ** 2;
  return radiusSquared / (radiusSquared + tip.distanceMm ** 2);
}

/** Change in percent of a reading against the light's own baseline; negative when it fell. */
export function baselineChangePercent(light: {
  readonly baselineMwPerCm2: number;
  readonly readingMwPerCm2: number;
}): number {
  return (light.readingMwPerCm2 / light.baselineMwPerCm2 - 1) * 100;
}

/** A fall of a fifth below the own baseline asks for service (common practice, no source). */
export const BASELINE_FALL_CAUTION_PERCENT = -20;

/** `output-caution`: cautions for one exposure with a strong light. */
export const outputCautionCalc: Calc = defineCalc(
  {
    name: 'output-caution',
    about: 'cautions above very high outputs',
    source:
      'Consensus statement of the 2014 symposium on light curing in dentistry, Dalhousie University: caution above 1500-2000 mW/cm2 with exposures of 1-5 s',
  },
  readObject({
    irradianceMwPerCm2: readNumber({ min: 0, sane: 20_000 }),
    seconds: readNumber({ min: 0, sane: 86_400 }),
  }),
  (input) => ok({ cautions: highOutputCautions(input) }),
);

/** `falloff`: diffuse-disc share at a distance, beside the spread that was measured. */
export const falloffCalc: Calc = defineCalc(
  {
    name: 'falloff',
    about: 'share of the tip irradiance left at a distance, as a caution',
    source:
      'Diffuse (Lambertian) disc, textbook radiometry, from memory; measured at 4 mm 0.292 to 0.854 (IADR abstract 684); at 10 mm 0.17 to 0.67 (Meyer et al., J Adhes Dent 2002;4:197). Measure the light at its distance of use',
  },
  readObject({
    distanceMm: readNumber({ min: 0, sane: 500 }),
    tipDiameterMm: readNumber({ above: 0, sane: 50 }),
  }),
  (input) => ok({ fraction: diffuseDiscFraction(input), caution: 'differs-by-light' }),
);

/** `baseline`: drift of a light against its own first reading. */
export const baselineCalc: Calc = defineCalc(
  {
    name: 'baseline',
    about: "change in percent of a reading against the light's own baseline",
    source:
      'Ratio of two readings of one meter: hand-held meters track change, not absolute output (Price; from memory). Limit of -20 %: common practice, no source',
  },
  readObject({
    baselineMwPerCm2: readNumber({ above: 0, sane: 20_000 }),
    readingMwPerCm2: readNumber({ min: 0, sane: 20_000 }),
  }),
  (input) => {
    const changePercent = baselineChangePercent(input);
    return ok({ changePercent, caution: changePercent <= BASELINE_FALL_CAUTION_PERCENT });
  },
);
