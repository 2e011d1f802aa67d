/**
 * Exponential and logarithm from the four basic operations only. These are exact to the last bit
 * everywhere, while the built-in functions may differ between browsers in the last digit; with them
 * a seed gives the same plan on every device. Accurate to about 1e-15 relative.
 */
import { assert } from '../base/assert.ts';

/** ln 2 in two parts: the first short enough that a whole multiple of it is exact. */
const LN2_HIGH = 0.6931471803691238;
const LN2_LOW = 1.9082149292705877e-10;
const LN2 = Math.LN2;
const SQRT_HALF = Math.SQRT1_2;

/** e to the power of x, for x from -700 to 700. */
export function portableExp(x: number): number {
  assert(x >= -700 && x <= 700, 'an exponent from -700 to 700');
  const halvings = Math.round(x / LN2);
  const rest = x - halvings * LN2_HIGH - halvings * LN2_LOW;
  // The series of e^x from 1/13! down to 1/0!, written out since the draws need it most of all.
  let sum = 1 / 6227020800;
  sum = sum * rest + 1 / 479001600;
  sum = sum * rest + 1 / 39916800;
  sum = sum * rest + 1 / 3628800;
  sum = sum * rest + 1 / 362880;
  sum = sum * rest + 1 / 40320;
  sum = sum * rest + 1 / 5040;
  sum = sum * rest + 1 / 720;
  sum = sum * rest + 1 / 120;
  sum = sum * rest + 1 / 24;
  sum = sum * rest + 1 / 6;
  sum = sum * rest + 1 / 2;
  sum = sum * rest + 1;
  sum = sum * rest + 1;
  const base = halvings < 0 ? 0.5 : 2;
  for (let left = Math.abs(halvings); left > 0; left -= 1) sum *= base;
  return sum;
}

/** Natural logarithm of x, for positive finite x. */
export function portableLog(x: number): number {
  assert(x > 0 && Number.isFinite(x), 'a positive number');
  let mantissa = x;
  let halvings = 0;
  for (; mantissa > 2 * SQRT_HALF; mantissa /= 2) halvings += 1;
  for (; mantissa < SQRT_HALF; mantissa *= 2) halvings -= 1;
  // ln m = 2 artanh((m - 1) / (m + 1)); the ratio is at most 0.172, so ten terms are plenty.
  const ratio = (mantissa - 1) / (mantissa + 1);
  const square = ratio * ratio;
  let sum = 0;
  for (let odd = 23; odd >= 1; odd -= 2) sum = sum * square + 1 / odd;
  return halvings * LN2_LOW + 2 * ratio * sum + halvings * LN2_HIGH;
}
