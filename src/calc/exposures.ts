/**
 * The exposures that one surface needs: as many positions as discs of the tip's diameter cover it,
 * each long enough for the stated dose through the stated ceramic, or the product's own time,
 * whichever is longer.
 */
import type { Problem } from '../base/problem.ts';
import { ok, type Result } from '../base/result.ts';
import { exposureSeconds } from './light-dose.ts';
import { coveringSpots } from './spots.ts';
import type { Spot } from './spots-cover.ts';

export interface SurfaceNeed {
  /** The rectangle around the surface, each side above 0 mm. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** Diameter of the part of the tip that shines, above 0 mm. */
  readonly tipDiameterMm: number;
  /** Above 0 mW/cm2. */
  readonly irradianceMwPerCm2: number;
  /** Dose wanted behind the ceramic, 0 or more J/cm2. */
  readonly doseJPerCm2: number;
  /** Share of the light that passes the ceramic, above 0 to 1. */
  readonly transmittance: number;
  /** The time that the product instructions state; 0 when they state none. */
  readonly productSeconds: number;
}

export interface SurfaceExposures {
  /** One exposure at each position. */
  readonly spots: readonly Spot[];
  /** Seconds of each exposure, not rounded. */
  readonly secondsEach: number;
  /** Which of the two times it was. */
  readonly governedBy: 'product' | 'dose';
  readonly doseSeconds: number;
}

/**
 * Positions and seconds for one surface.
 * @returns the exposures, or the problem of {@link coveringSpots}.
 */
export function surfaceExposures(need: SurfaceNeed): Result<SurfaceExposures, Problem> {
  const spots = coveringSpots(need);
  if (!spots.ok) return spots;
  const doseSeconds = exposureSeconds(need);
  const isProduct = need.productSeconds >= doseSeconds;
  return ok({
    spots: spots.value,
    secondsEach: isProduct ? need.productSeconds : doseSeconds,
    governedBy: isProduct ? 'product' : 'dose',
    doseSeconds,
  });
}
