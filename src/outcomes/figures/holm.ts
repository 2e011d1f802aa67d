/** Several p together by Holm (Scand J Stat 1979;6:65). */
import { present } from '../../base/assert.ts';

/** Adjusted p, in the order given. */
export function holm(p: readonly number[]): readonly number[] {
  const order = p.map((_, at) => at).sort((a, b) => present(p[a], 'p') - present(p[b], 'p'));
  const adjusted = p.map(() => 1);
  let highest = 0;
  order.forEach((at, rank) => {
    highest = Math.max(highest, Math.min(1, (p.length - rank) * present(p[at], 'p')));
    adjusted[at] = highest;
  });
  return adjusted;
}
