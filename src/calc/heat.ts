/**
 * Heat near the pulp: rest between exposures of one tooth, and the light a tooth has received lately
 * against published temperature rises. A caution with its uncertainty, never a statement about the
 * pulp: one exposure raises the temperature by k * H, k differing by light, tooth and blood flow, and
 * what it raised falls again exponentially, so that exposures with a rest between them do not add up
 * as one long exposure would. The slopes were measured with the tip on the tooth or restoration, so
 * light is counted as it leaves the tip.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { IRRADIANCE_MAX, radiantExposureJPerCm2 } from './light-dose.ts';
import { readList, readNumber, readObject, readOr } from './reading.ts';

/**
 * C per J/cm2. In vitro through 2 mm of dentine 5.98 C at 64 and 3.98 C at 32 J/cm2 (Oper Dent
 * 2010;35:220, nominal output); in vivo 3.4 C at 48 J/cm2 (Zarpellon et al., nominal output, weak).
 */
export const RISE_PER_J_IN_VIVO = 3.4 / 48;
export const RISE_PER_J_IN_VITRO_LOW = 5.98 / 64;
export const RISE_PER_J_IN_VITRO_HIGH = 3.98 / 32;

/**
 * Seconds in which a rise falls to 37 %. The shorter one follows from one light on one tooth: 3.98 C
 * after 20 s and 5.98 C after 40 s (Oper Dent 2010;35:220) are one first-order curve of 20 / ln 1.99 s.
 * The longer one takes the 7 min between the exposures of the clinical studies for three such times,
 * so that 5 % were left: an assumption, on the careful side.
 */
export const COOLING_FAST_SECONDS = 20 / Math.log(3.98 / (5.98 - 3.98));
export const COOLING_SLOW_SECONDS = 140;

/** A conservative marker (Zach & Cohen 1965, from memory), disputed by Baldissara et al. 1997. */
export const RISE_MARKER_C = 5.5;

/** A rest as long as in the clinical studies (7 min) starts the sum again. */
const REST_RESETS_SECONDS = 420;
/** Rest between exposures of one tooth or surface (common practice, no source). */
const REST_DEFAULT_SECONDS = 10;

export interface ToothExposure {
  /** Seconds from any common start; exposures in order, not overlapping. */
  readonly startSeconds: number;
  readonly seconds: number;
  readonly irradianceMwPerCm2: number;
}

export type HeatLevel = 'below-marker' | 'within-uncertainty' | 'above-marker';

export interface HeatCaution {
  /** Sum since the last rest of seven minutes. */
  readonly radiantExposureJPerCm2: number;
  /** Highest rise at the end of any exposure: with fast cooling, and with slow. */
  readonly riseC: {
    readonly inVivo: readonly [number, number];
    readonly inVitro: readonly [number, number];
  };
  readonly markerC: number;
  readonly level: HeatLevel;
  /** Indexes of exposures that began before the rest was over. */
  readonly restTooShort: readonly number[];
}

/**
 * Above where what was measured in living teeth reaches the marker with slow cooling (in vivo the
 * rise stayed linear for a minute, so fast cooling is no comfort there); within the uncertainty where
 * only the higher rises of the laboratory do.
 */
function levelOf(riseC: HeatCaution['riseC']): HeatLevel {
  if (riseC.inVivo[1] >= RISE_MARKER_C) return 'above-marker';
  return riseC.inVitro[1] >= RISE_MARKER_C ? 'within-uncertainty' : 'below-marker';
}

/**
 * The most that is left of all exposures at the end of one, in J/cm2: what k turns into a rise.
 * Light is taken to arrive at the end of its exposure, as k was read there.
 */
function peakJPerCm2(exposures: readonly ToothExposure[], coolingSeconds: number): number {
  let left = 0;
  let peak = 0;
  let lastEndSeconds = 0;
  for (const exposure of exposures) {
    const endSeconds = exposure.startSeconds + exposure.seconds;
    left *= Math.exp(-(endSeconds - lastEndSeconds) / coolingSeconds);
    left += radiantExposureJPerCm2(exposure);
    peak = Math.max(peak, left);
    lastEndSeconds = endSeconds;
  }
  return peak;
}

/** Seconds without light before exposure `at`; null before the first. */
function restBefore(exposures: readonly ToothExposure[], at: number): number | null {
  const previous = exposures[at - 1];
  const current = exposures[at];
  if (previous === undefined || current === undefined) return null;
  return current.startSeconds - (previous.startSeconds + previous.seconds);
}

/**
 * Heat caution for one tooth.
 * @param tooth exposures in order (s, mW/cm2) and the rest wanted between them in s.
 * @returns the caution, or a problem when exposures overlap or are out of order.
 */
export function heatCaution(tooth: {
  readonly exposures: readonly ToothExposure[];
  readonly restSeconds: number;
}): Result<HeatCaution, Problem> {
  const restTooShort: number[] = [];
  let total = 0;
  for (const [at, exposure] of tooth.exposures.entries()) {
    const rest = restBefore(tooth.exposures, at);
    if (rest !== null && rest < 0) {
      const place = `calc.heat.exposures[${at}].startSeconds`;
      return err(problem(place, 'a start after the end before it', exposure.startSeconds));
    }
    if (rest !== null && rest < tooth.restSeconds) restTooShort.push(at);
    if (rest !== null && rest >= REST_RESETS_SECONDS) total = 0;
    total += radiantExposureJPerCm2(exposure);
  }
  const fast = peakJPerCm2(tooth.exposures, COOLING_FAST_SECONDS);
  const slow = peakJPerCm2(tooth.exposures, COOLING_SLOW_SECONDS);
  const inVivo = [fast * RISE_PER_J_IN_VIVO, slow * RISE_PER_J_IN_VIVO] as const;
  const inVitro = [fast * RISE_PER_J_IN_VITRO_LOW, slow * RISE_PER_J_IN_VITRO_HIGH] as const;
  const riseC = { inVivo, inVitro };
  return ok({
    radiantExposureJPerCm2: total,
    riseC,
    markerC: RISE_MARKER_C,
    level: levelOf(riseC),
    restTooShort,
  });
}

/** `heat`: rest and temperature-rise caution for one tooth. */
export const heatCalc: Calc = defineCalc(
  {
    name: 'heat',
    about:
      'light on one tooth, cooling in between, against published temperature rises, as a caution',
    source:
      'Rise linear in radiant exposure (J Appl Oral Sci 2019;27; Runnacles et al., Dent Mater 2015;31:505); slopes derived from Oper Dent 2010;35:220 and Zarpellon et al. with nominal outputs (weak); cooling in 29 s derived from the same two rises of Oper Dent 2010, and in 140 s assumed from the 7 min between exposures of Runnacles et al.; marker 5.5 C from Zach & Cohen 1965 (from memory), disputed by Baldissara et al., J Oral Rehabil 1997;24:791; rest: common practice, no source',
  },
  readObject({
    exposures: readList(
      readObject({
        startSeconds: readNumber({ min: 0, sane: 86_400 }),
        seconds: readNumber({ min: 0, sane: 3600 }),
        irradianceMwPerCm2: readNumber({ min: 0, sane: IRRADIANCE_MAX }),
      }),
      { min: 1, max: 1000 },
    ),
    restSeconds: readOr(readNumber({ min: 0, sane: 3600 }), REST_DEFAULT_SECONDS),
  }),
  heatCaution,
);
