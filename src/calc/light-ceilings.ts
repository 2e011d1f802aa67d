/**
 * How much light one exposure, one place of the tip and one surface may be given. The pulp is the
 * reason: in vitro the marker of 5.5 C is reached at 44 to 59 J/cm2 at the tip (Oper Dent
 * 2010;35:220, nominal output), in living teeth at about 78 (slope of Zarpellon et al.). Derived; a
 * longer time of a product is for the clinic's lead to judge.
 */
/** J/cm2 at the tip in one exposure; a rest of {@link REST_MIN_SECONDS} begins a new one. */
const EXPOSURE_MAX_J_PER_CM2 = 40;
/** Rest of one tooth between two exposures: five of 20 s at 1200 mW/cm2 then stay under the marker. */
export const REST_MIN_SECONDS = 20;
/** One place of the tip. */
export const POSITION_MAX_SECONDS = 40;
/** One surface, all its places together. */
export const SURFACE_MAX_SECONDS = 60;

/**
 * The least dose at a light-cured film, in J/cm2; 8 is aimed at, and more than 16 is not credited.
 * Light-cured cements under 0.5 and 1.0 mm of ceramic did not change with 24 J/cm2 at the tip, of
 * which 12 and 6 pass. No paper gives the dose-response of such a film.
 */
export const DOSE_MIN_J_PER_CM2 = 6;
export const DOSE_CREDIT_MAX_J_PER_CM2 = 16;

/** The longest single exposure of a lamp, in s. */
export function exposureMaxSeconds(irradianceMwPerCm2: number): number {
  return (EXPOSURE_MAX_J_PER_CM2 * 1000) / irradianceMwPerCm2;
}
