/**
 * Limits of light that a protocol is checked against as well as a plan. Derived; see
 * `calc/light-ceilings.ts` for what they follow from.
 */

/** The longest that one place of the tip is lit, in ms. */
export const PLACE_MAX_MS = 40_000;

/** More than this at a light-cured film is not credited, in J/cm2. */
export const DOSE_CREDIT_MAX_J_PER_CM2 = 16;
