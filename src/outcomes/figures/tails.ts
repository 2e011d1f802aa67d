/**
 * Distributions, with the upper tails worked out directly: 1 - cdf loses every digit where p is small.
 * Beta and gamma functions of jstat (about 1e-9); the tail of gamma by the continued fraction 26.4.10
 * of Abramowitz & Stegun, "Handbook of Mathematical Functions" (1964; from memory), summed by
 * Lentz's method (Appl Opt 1976;15:668; from memory).
 */
import jStat from 'jstat';
import { assert } from '../../base/assert.ts';
import { normalQuantile } from '../../plan/random.ts';

const TINY = 1e-300;
const ENOUGH = 1e-15;

/** Share of a gamma distribution with this shape and scale 1 that lies above x. */
function gammaAbove(shape: number, x: number): number {
  assert(shape > 0 && x >= 0, 'a gamma tail has a positive shape and starts at 0 or later');
  if (x === 0) return 1;
  if (x < shape + 1) return 1 - jStat.lowRegGamma(shape, x);
  let b = x + 1 - shape;
  let c = 1 / TINY;
  let d = 1 / b;
  let h = d;
  for (let n = 1; n < 1000; n += 1) {
    const a = -n * (n - shape);
    b += 2;
    d = 1 / nonZero(a * d + b);
    c = nonZero(b + a / c);
    h *= d * c;
    if (Math.abs(d * c - 1) < ENOUGH) break;
  }
  return Math.exp(shape * Math.log(x) - x - jStat.gammaln(shape)) * h;
}

const nonZero = (x: number): number => (Math.abs(x) < TINY ? TINY : x);

/** P(chi-square with these degrees of freedom > x). */
export const chiSquareAbove = (x: number, degrees: number): number =>
  gammaAbove(degrees / 2, x / 2);

/** P(|t| > |x|) with these degrees of freedom, a positive number. */
export function tBeyond(x: number, degrees: number): number {
  assert(degrees > 0, 'a t distribution has a positive number of degrees of freedom');
  return betaBelow(degrees / (degrees + x * x), degrees / 2, 0.5);
}

/** P(Poisson with this mean >= count). */
export const poissonAtLeast = (count: number, mean: number): number =>
  count <= 0 ? 1 : jStat.lowRegGamma(count, mean);

/** P(Beta(a, b) <= x). */
export function betaBelow(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  return jStat.ibeta(x, a, b);
}

/** P(Beta(a, b) > x). */
export const betaAbove = (x: number, a: number, b: number): number => betaBelow(1 - x, b, a);

/** Quantile of Beta(a, b). */
export const betaQuantile = (p: number, a: number, b: number): number => jStat.beta.inv(p, a, b);

/** Quantile of the gamma distribution with this shape and scale 1. */
export const gammaQuantile = (p: number, shape: number): number => jStat.gamma.inv(p, shape, 1);

/** Natural logarithm of n over k. */
export const logChoose = (n: number, k: number): number =>
  jStat.gammaln(n + 1) - jStat.gammaln(k + 1) - jStat.gammaln(n - k + 1);

/** Half of a two-sided 95 % interval, in standard errors. */
export const Z95 = normalQuantile(0.975);

/** Limits of an interval, both in the unit of the figure. */
export interface Limits {
  readonly low: number;
  readonly high: number;
}
