/**
 * Light reaching a surface: radiant exposure, the time an exposure needs through ceramic, what a
 * ceramic of another thickness lets through, and what a tip of a given power gives out.
 *
 * H[J/cm2] = E[mW/cm2] * t[s] / 1000 (SI definition). Attenuation follows Beer and Lambert apart
 * from a fixed loss at the surfaces: T(d) = surfaceFactor * exp(-mu * d).
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { highOutputCautions } from './light-cautions.ts';
import { readNumber, readObject, readOr } from './reading.ts';

const MILLI = 1000;
const MM2_PER_CM2 = 100;

/** Highest irradiance in mW/cm2 that is taken for a dental light rather than a typing slip. */
export const IRRADIANCE_MAX = 20_000;
const SECONDS_MAX = 86_400;

/**
 * Radiant exposure in J/cm2.
 * @param light irradiance in mW/cm2 and seconds, each 0 or more.
 */
export function radiantExposureJPerCm2(light: {
  readonly irradianceMwPerCm2: number;
  readonly seconds: number;
}): number {
  return (light.irradianceMwPerCm2 * light.seconds) / MILLI;
}

/**
 * Seconds until `doseJPerCm2` has passed a ceramic of the given transmittance.
 * @param need irradiance above 0 mW/cm2, dose 0 or more J/cm2, transmittance above 0 to 1. A meter
 *   that reads 0 behind ceramic is at its floor, so 0 is no transmittance to divide by.
 */
export function exposureSeconds(need: {
  readonly irradianceMwPerCm2: number;
  readonly doseJPerCm2: number;
  readonly transmittance: number;
}): number {
  return (need.doseJPerCm2 * MILLI) / (need.irradianceMwPerCm2 * need.transmittance);
}

/**
 * Transmittance at another thickness of the same ceramic.
 * @param known measured transmittance (above 0, at most the surface factor) at a thickness above
 *   0 mm; the thickness asked for, 0 or more mm; the share that passes both surfaces, above 0 to 1.
 * @returns a share above 0 to 1, or a problem when the measured share exceeds the surface factor.
 */
export function scaledTransmittance(known: {
  readonly knownTransmittance: number;
  readonly knownThicknessMm: number;
  readonly thicknessMm: number;
  readonly surfaceFactor: number;
}): Result<number, Problem> {
  if (known.knownTransmittance > known.surfaceFactor) {
    const words = `at most the surface factor ${known.surfaceFactor}`;
    return err(problem('calc.transmittance.knownTransmittance', words, known.knownTransmittance));
  }
  const logOfBody = Math.log(known.knownTransmittance / known.surfaceFactor);
  const thicknessRatio = known.thicknessMm / known.knownThicknessMm;
  return ok(known.surfaceFactor * Math.exp(logOfBody * thicknessRatio));
}

/** Tip exitance in mW/cm2 from power in mW and the diameter in mm of the part that shines. */
function exitanceMwPerCm2(tip: {
  readonly powerMw: number;
  readonly activeDiameterMm: number;
}): number {
  const areaCm2 = (Math.PI * tip.activeDiameterMm ** 2) / 4 / MM2_PER_CM2;
  return tip.powerMw / areaCm2;
}

const readShare = readNumber({ above: 0, max: 1 });

/** `dose`: radiant exposure. */
export const doseCalc: Calc = defineCalc(
  {
    name: 'dose',
    about: 'radiant exposure from irradiance and time',
    source: 'SI definition of radiant exposure: H = E * t',
  },
  readObject({
    irradianceMwPerCm2: readNumber({ min: 0, sane: IRRADIANCE_MAX }),
    seconds: readNumber({ min: 0, sane: SECONDS_MAX }),
  }),
  (input) => ok({ radiantExposureJPerCm2: radiantExposureJPerCm2(input) }),
);

/** `exposure`: seconds for a dose through a ceramic, with a caution when the light is very strong. */
export const exposureCalc: Calc = defineCalc(
  {
    name: 'exposure',
    about: 'seconds until a dose has passed the ceramic',
    source:
      'H = E * T * t; the material instructions override it. Trading time for irradiance holds for highly filled composite above a minimum dose, not for lightly filled resin (Palagummi et al., NIST; Selig et al., Dent Mater 2015;31:583)',
  },
  readObject({
    irradianceMwPerCm2: readNumber({ above: 0, sane: IRRADIANCE_MAX }),
    doseJPerCm2: readNumber({ min: 0, sane: 1000 }),
    transmittance: readShare,
  }),
  (input) => {
    const seconds = exposureSeconds(input);
    const cautions = highOutputCautions({ irradianceMwPerCm2: input.irradianceMwPerCm2, seconds });
    return ok({ seconds, cautions });
  },
);

/** `transmittance`: a measured transmittance scaled to another thickness. */
export const transmittanceCalc: Calc = defineCalc(
  {
    name: 'transmittance',
    about: 'transmittance of the same ceramic at another thickness',
    source:
      'Beer-Lambert law with the surface loss apart; use blue-band measurements only, not the "T %" of colour papers. From the thinnest slice it errs towards longer exposure (IADR abstract 292, Sabrosa et al.)',
  },
  readObject({
    knownTransmittance: readShare,
    knownThicknessMm: readNumber({ above: 0, sane: 20 }),
    thicknessMm: readNumber({ min: 0, sane: 20 }),
    surfaceFactor: readOr(readShare, 1),
  }),
  (input) => {
    const transmittance = scaledTransmittance(input);
    return transmittance.ok ? ok({ transmittance: transmittance.value }) : transmittance;
  },
);

/** `exitance`: tip power spread over the part of the tip that shines. */
export const exitanceCalc: Calc = defineCalc(
  {
    name: 'exitance',
    about: 'tip exitance from power and active diameter',
    source: 'M = P / A with A = pi d^2 / 4 (definition of radiant exitance)',
  },
  readObject({
    powerMw: readNumber({ min: 0, sane: 100_000 }),
    activeDiameterMm: readNumber({ above: 0, sane: 50 }),
  }),
  (input) => ok({ exitanceMwPerCm2: exitanceMwPerCm2(input) }),
);
