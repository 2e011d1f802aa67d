/**
 * CUSUM over cases with a risk each: ln(R / (1 - p + R p)) for a failure, else -ln(1 - p + R p) (Biostatistics
 * 2000;1:441; formula from memory). Looks for odds that are `oddsRatio` times the usual ones.
 */

/** What a failure and a success add to the chart. */
export interface Weights {
  readonly failure: number;
  readonly success: number;
}

/** `risk` is the usual risk of the case, 0 to 1. */
export function bernoulliWeights(o: {
  readonly risk: number;
  readonly oddsRatio: number;
}): Weights {
  const scale = 1 - o.risk + o.oddsRatio * o.risk;
  return { failure: Math.log(o.oddsRatio / scale), success: -Math.log(scale) };
}

/** The chart after each case, in their order: max(0, chart + weight). */
export function bernoulliChart(
  cases: readonly { readonly risk: number; readonly isFailed: boolean }[],
  oddsRatio: number,
): readonly number[] {
  let chart = 0;
  return cases.map(({ risk, isFailed }) => {
    const weights = bernoulliWeights({ risk, oddsRatio });
    chart = Math.max(0, chart + (isFailed ? weights.failure : weights.success));
    return chart;
  });
}
