/**
 * How much blue light a screen sends out, weighted for the eye, from the mean colour of its picture.
 * Input: linear sRGB means of all pixels (0 to 1), the primaries of a display, the luminance of its
 * white in cd/m2. Output: blue-light weighted radiance in W/m2/sr.
 *
 * The primaries are typical shapes from memory, not a measurement of any device, so the figure tells
 * one picture from another on the same screen; it is no measurement of a screen.
 */
import type { Problem } from '../base/problem.ts';
import { ok, type Result } from '../base/result.ts';
import { weightedRadiance } from './blue-light.ts';
import { readAt, readChoice, readList, readNumber, readObject, readText } from './reading.ts';
import type { BlueLightRow } from './tables.ts';

export interface Primary {
  readonly primary: 'red' | 'green' | 'blue';
  readonly peakNm: number;
  /** Full width at half maximum. */
  readonly halfWidthNm: number;
  /** Part of the luminance of white. */
  readonly luminanceShare: number;
}

/** Means over all pixels of the linear channels, each from 0 to 1. */
export interface LinearMeans {
  readonly red: number;
  readonly green: number;
  readonly blue: number;
}

const readPrimaries = readObject({
  title: readText(200),
  rows: readList(
    readObject({
      primary: readChoice(['red', 'green', 'blue']),
      peakNm: readNumber({ min: 380, max: 700 }),
      halfWidthNm: readNumber({ above: 0, sane: 200 }),
      luminanceShare: readNumber({ min: 0, max: 1 }),
      source: readText(400),
      standing: readChoice(['found', 'from memory', 'derived']),
    }),
    { min: 3, max: 3 },
  ),
});

/** Reads `shared/tables/display-primaries.json`. */
export function parsePrimaries(json: unknown): Result<readonly Primary[], Problem> {
  const read = readAt(readPrimaries, 'tables.displayPrimaries', json);
  return read.ok ? ok(read.value.rows) : read;
}

const FROM_NM = 380;
const TO_NM = 780;
const STEP_NM = 5;
/** Luminous efficacy of radiation at 555 nm, lm/W (SI Brochure, 9th edition, 2019). */
const LM_PER_W = 683;

/** Daylight vision V(lambda) as a Gaussian, a usual approximation; from memory. */
function photopic(nm: number): number {
  const um = nm / 1000;
  return 1.019 * Math.exp(-285.4 * (um - 0.559) ** 2);
}

function gaussian(nm: number, { peakNm, halfWidthNm }: Primary): number {
  return Math.exp(-4 * Math.LN2 * ((nm - peakNm) / halfWidthNm) ** 2);
}

function wavelengths(): number[] {
  return Array.from({ length: (TO_NM - FROM_NM) / STEP_NM + 1 }, (_, at) => FROM_NM + at * STEP_NM);
}

/** Spectral radiance of one primary at full drive, W per m2, sr and nm, for a white of so many cd/m2. */
function spectrumOf(primary: Primary, whiteCdPerM2: number) {
  const lumens = wavelengths().reduce(
    (sum, nm) => sum + LM_PER_W * photopic(nm) * gaussian(nm, primary) * STEP_NM,
    0,
  );
  const scale = (primary.luminanceShare * whiteCdPerM2) / lumens;
  return wavelengths().map((nm) => ({ nm, wattPerM2SrNm: scale * gaussian(nm, primary) }));
}

/** Blue-light weighted radiance of a picture in W/m2/sr (weighting: IEC 62471, B of wavelength). */
export function screenBlue(o: {
  readonly means: LinearMeans;
  readonly primaries: readonly Primary[];
  readonly rows: readonly BlueLightRow[];
  readonly whiteCdPerM2: number;
}): number {
  return o.primaries.reduce((sum, primary) => {
    const full = weightedRadiance(spectrumOf(primary, o.whiteCdPerM2), o.rows);
    return sum + o.means[primary.primary] * full;
  }, 0);
}
