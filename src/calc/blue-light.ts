/**
 * Blue-light hazard to the eyes of the people in the room, after IEC 62471 and ICNIRP.
 * Radiance in W/m2/sr weighted with B(lambda) from 300 to 700 nm; limits per person and day.
 * Figures to compare with, never a statement that an exposure does no harm.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { readList, readNumber, readObject } from './reading.ts';
import type { BlueLightRow } from './tables.ts';

interface SpectrumPoint {
  readonly nm: number;
  /** Spectral radiance, W per m2, sr and nm. */
  readonly wattPerM2SrNm: number;
}

const BAND_FROM_NM = 300;
const BAND_TO_NM = 700;
/** Up to 10^4 s the product of weighted radiance and time is limited, J/m2/sr. */
const RADIANCE_DOSE_LIMIT = 1e6;
/** Beyond 10^4 s only the weighted radiance itself is limited, W/m2/sr. */
const RADIANCE_LIMIT = 100;
const ROUNDING = 1e-9;
/** Wider steps than the table's are too coarse for a weighting that changes within 10 nm. */
const STEP_MAX_NM = 5;

/** B at any wavelength, between rows by straight line; 0 outside 300 to 700 nm. */
export function blueLightWeight(nm: number, rows: readonly BlueLightRow[]): number {
  if (nm < BAND_FROM_NM || nm > BAND_TO_NM) return 0;
  const above = rows.findIndex((row) => row.wavelengthNm >= nm);
  const high = rows[above];
  const low = rows[above - 1];
  if (high === undefined) return 0;
  if (low === undefined || high.wavelengthNm === nm)
    return high.wavelengthNm === nm ? high.weight : 0;
  const share = (nm - low.wavelengthNm) / (high.wavelengthNm - low.wavelengthNm);
  return low.weight + share * (high.weight - low.weight);
}

/** The part of a segment inside the band; radiance at a cut by straight line. Null when outside. */
function clipped(from: SpectrumPoint, to: SpectrumPoint) {
  const start = Math.max(from.nm, BAND_FROM_NM);
  const end = Math.min(to.nm, BAND_TO_NM);
  if (start >= end) return null;
  const at = (nm: number): SpectrumPoint => {
    const share = (nm - from.nm) / (to.nm - from.nm);
    const rise = to.wattPerM2SrNm - from.wattPerM2SrNm;
    return { nm, wattPerM2SrNm: from.wattPerM2SrNm + share * rise };
  };
  return { start: at(start), end: at(end) };
}

/**
 * Weighted radiance L_B in W/m2/sr by the trapezoid rule on the spectrum's own points.
 * @param spectrum points in rising order of wavelength.
 */
export function weightedRadiance(
  spectrum: readonly SpectrumPoint[],
  rows: readonly BlueLightRow[],
): number {
  let sum = 0;
  for (const [at, to] of spectrum.entries()) {
    const from = spectrum[at - 1];
    const part = from === undefined ? null : clipped(from, to);
    if (part === null) continue;
    const startValue = part.start.wattPerM2SrNm * blueLightWeight(part.start.nm, rows);
    const endValue = part.end.wattPerM2SrNm * blueLightWeight(part.end.nm, rows);
    sum += ((startValue + endValue) / 2) * (part.end.nm - part.start.nm);
  }
  return sum;
}

/**
 * Seconds per day for which a weighted radiance (W/m2/sr) stays within the limit; null when it
 * stays within it all day. Below 100 W/m2/sr the limit for more than 10^4 s holds, and there is
 * no time limit; at 100 both limits meet at 10^4 s.
 */
export function radianceLimitSeconds(weighted: number): number | null {
  return weighted < RADIANCE_LIMIT * (1 - ROUNDING) ? null : RADIANCE_DOSE_LIMIT / weighted;
}

/** Angle in radians that a source of some diameter subtends at a distance, small angles. */
function sourceAngleRad(source: {
  readonly diameterMm: number;
  readonly distanceMm: number;
}): number {
  return source.diameterMm / source.distanceMm;
}

/** Below 11 mrad the irradiance limits of a small source may be used. */
const SMALL_SOURCE_RAD = 0.011;

export function isSmallSource(source: {
  readonly diameterMm: number;
  readonly distanceMm: number;
}): boolean {
  return sourceAngleRad(source) < SMALL_SOURCE_RAD;
}

/** The stricter rule is the default wherever a caller has no reason to choose. */
type SmallSourceRule = 'strict' | 'iec';

/**
 * Seconds per day for a weighted irradiance (W/m2) from a small source; null when unlimited.
 * `strict`: 100 J/m2 up to 10^4 s, then 0.01 W/m2 (Directive 2006/25/EC, ICNIRP 1997).
 * `iec`: 100 J/m2 up to 100 s, then 1 W/m2 (IEC 62471, ICNIRP 2013). They differ up to 100-fold.
 */
export function smallSourceLimitSeconds(
  weightedWPerM2: number,
  rule: SmallSourceRule = 'strict',
): number | null {
  const unlimitedBelow = rule === 'strict' ? 0.01 : 1;
  return weightedWPerM2 < unlimitedBelow * (1 - ROUNDING) ? null : 100 / weightedWPerM2;
}

function checkOrder(spectrum: readonly SpectrumPoint[]): Problem | null {
  const at = spectrum.findIndex((point, i) => point.nm <= (spectrum[i - 1]?.nm ?? 0));
  return at === -1
    ? null
    : problem(
        `calc.blue-light.spectrum[${at}].nm`,
        'a wavelength above the one before',
        spectrum[at]?.nm,
      );
}

/** Widest step within the band, nm. */
function widestStepNm(spectrum: readonly SpectrumPoint[]): number {
  return spectrum.reduce((widest, to, at) => {
    const from = spectrum[at - 1];
    const inside = from !== undefined && to.nm > BAND_FROM_NM && from.nm < BAND_TO_NM;
    return inside ? Math.max(widest, to.nm - from.nm) : widest;
  }, 0);
}

/** `blue-light`: weighted radiance and the time limit of a spectrum. */
export const blueLightCalc: Calc = defineCalc(
  {
    name: 'blue-light',
    about: 'blue-light weighted radiance and its time limit (null: no limit)',
    source:
      'IEC 62471:2006 / ICNIRP, Health Phys 2013;105:74: B(lambda) from 300 to 700 nm; 10^6 J/m2/sr up to 10^4 s, then 100 W/m2/sr',
  },
  readObject({
    spectrum: readList(
      readObject({
        nm: readNumber({ min: 100, max: 3000 }),
        wattPerM2SrNm: readNumber({ min: 0, sane: 1e9 }),
      }),
      { min: 2, max: 10_000 },
    ),
  }),
  ({ spectrum }, tables): Result<object, Problem> => {
    const disorder = checkOrder(spectrum);
    if (disorder !== null) return err(disorder);
    const weighted = weightedRadiance(spectrum, tables.blueLight);
    const coarse = widestStepNm(spectrum) > STEP_MAX_NM;
    return ok({
      weightedRadiance: weighted,
      limitSeconds: radianceLimitSeconds(weighted),
      cautions: coarse ? ['steps-wider-than-5-nm'] : [],
    });
  },
);
