/**
 * What many looks do to 5 %: the chance that at least one of them is past 1.96 without any effect, when
 * each adds as much again (J R Stat Soc A 1969;132:235; from memory). Worked out here by the recursion
 * over the looks, on a grid.
 */
import { realAt } from '../../temporal/typed-array.ts';
import { Z95 } from './tails.ts';

const STEP = 0.05;

/** Chance of at least one p below 0.05 in `looks` looks at equal distances; to about 0.0005. */
export function chanceInLooks(looks: number): number {
  const reach = Math.ceil((Z95 * Math.sqrt(looks)) / STEP);
  const size = 2 * reach + 1;
  const kernel = new Float64Array(size);
  for (let at = 0; at < size; at += 1) {
    kernel[at] = (Math.exp(-((at * STEP) ** 2) / 2) / Math.sqrt(2 * Math.PI)) * STEP;
  }
  // Density of the sum so far over those who never were past the limit; the middle place is 0.
  let inside = new Float64Array(size);
  inside[reach] = 1;
  for (let look = 1; look <= looks; look += 1) {
    const limit = Z95 * Math.sqrt(look);
    const next = new Float64Array(size);
    for (let at = 0; at < size; at += 1) {
      const weight = shareWithin(Math.abs(at - reach), limit);
      if (weight === 0) continue;
      let sum = 0;
      for (let from = 0; from < size; from += 1) {
        sum += realAt(inside, from) * realAt(kernel, Math.abs(at - from));
      }
      next[at] = weight * sum;
    }
    inside = next;
  }
  return 1 - inside.reduce((sum, each) => sum + each, 0);
}

/** How much of the cell around a place of the grid lies within the limit. */
const shareWithin = (place: number, limit: number): number =>
  Math.min(1, Math.max(0, limit / STEP - place + 0.5));
