/**
 * The smallest ratio of failure rates that a comparison would be likely to show: the formula of
 * events turned round, exp((za + zb) / sqrt(d s (1 - s))) (Biometrika 1981;68:316; from memory).
 */
import { normalQuantile } from '../../plan/random.ts';

/** za + zb: two-sided `alpha`, 5 % unless told, and `power`, 80 % unless told. */
export const powerSum = (o: { readonly power?: number; readonly alpha?: number }): number =>
  normalQuantile(1 - (o.alpha ?? 0.05) / 2) + normalQuantile(o.power ?? 0.8);

/** `share` of the lives in one group; `designEffect` 1 as if units were independent. */
export function smallestRatio(o: {
  readonly failures: number;
  readonly share: number;
  readonly power?: number;
  readonly designEffect?: number;
}): number {
  const information = (o.failures / (o.designEffect ?? 1)) * o.share * (1 - o.share);
  return Math.exp(powerSum(o) / Math.sqrt(information));
}
