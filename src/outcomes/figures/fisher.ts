/**
 * Fisher's exact test of a two by two table (from memory; fisher.test of R 4.2.2 agrees). Two-sided: all
 * tables that are as probable as the one seen, or less.
 */
import { logChoose } from './tails.ts';

/** Tables this close in probability count as equal, as R does. */
const CLOSE = 1 + 1e-7;

/** `table`: failed and not failed in the first group, then in the second. */
export function fisher(table: readonly [number, number, number, number]): number {
  const [a, b, c, d] = table;
  const [first, second, failed] = [a + b, c + d, a + c];
  const all = logChoose(first + second, failed);
  const probability = (count: number): number =>
    Math.exp(logChoose(first, count) + logChoose(second, failed - count) - all);
  const seen = probability(a) * CLOSE;
  let sum = 0;
  for (let count = Math.max(0, failed - second); count <= Math.min(first, failed); count += 1) {
    const of = probability(count);
    if (of <= seen) sum += of;
  }
  return Math.min(1, sum);
}
