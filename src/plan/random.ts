/**
 * Reproducible random numbers: xoshiro128** 1.1 (Blackman & Vigna, "Scrambled linear pseudorandom
 * number generators", ACM Transactions on Mathematical Software 47(4), 2021), seeded through the
 * 32-bit finalizer of MurmurHash3 (Appleby, public domain), and the standard normal quantile
 * AS 241, PPND16 (Wichura, Applied Statistics 37:477-484, 1988). The same on every device.
 */
import { realAt } from '../temporal/typed-array.ts';
import { portableLog } from './portable-math.ts';

/** A source of whole numbers from 0 to 2^32 - 1. */
export type Dice = () => number;

/** xoshiro128** from its four words of state, not all 0. */
export function xoshiro128(state: readonly [number, number, number, number]): Dice {
  let [a, b, c, d] = state;
  return () => {
    const scaled = Math.imul(b, 5);
    const result = Math.imul((scaled << 7) | (scaled >>> 25), 9) >>> 0;
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = (d << 11) | (d >>> 21);
    return result;
  };
}

const GOLDEN = 0x9e3779b9;

/** Four words of state from one seed, a whole number. */
export function diceOf(seed: number): Dice {
  let word = seed | 0;
  const next = (): number => {
    word = (word + GOLDEN) | 0;
    let mixed = word;
    mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
    return (mixed ^ (mixed >>> 16)) >>> 0;
  };
  return xoshiro128([next(), next(), next(), next()]);
}

/** A number strictly between 0 and 1. */
export const uniform = (dice: Dice): number => (dice() + 0.5) / 2 ** 32;

/** Value of a polynomial with eight coefficients, highest power first (Horner). */
function polynomial(c: Float64Array, x: number): number {
  let sum = realAt(c, 0);
  sum = sum * x + realAt(c, 1);
  sum = sum * x + realAt(c, 2);
  sum = sum * x + realAt(c, 3);
  sum = sum * x + realAt(c, 4);
  sum = sum * x + realAt(c, 5);
  sum = sum * x + realAt(c, 6);
  return sum * x + realAt(c, 7);
}

const MIDDLE = {
  over: Float64Array.of(
    2509.0809287301227,
    33430.57558358813,
    67265.7709270087,
    45921.95393154987,
    13731.69376550946,
    1971.5909503065513,
    133.14166789178438,
    3.3871328727963665,
  ),
  under: Float64Array.of(
    5226.495278852854,
    28729.085735721943,
    39307.89580009271,
    21213.794301586597,
    5394.196021424751,
    687.1870074920579,
    42.31333070160091,
    1,
  ),
};
const TAIL = {
  over: Float64Array.of(
    0.0007745450142783414,
    0.022723844989269184,
    0.2417807251774506,
    1.2704582524523684,
    3.6478483247632045,
    5.769497221460691,
    4.630337846156546,
    1.4234371107496835,
  ),
  under: Float64Array.of(
    1.0507500716444169e-9,
    0.0005475938084995345,
    0.015198666563616457,
    0.14810397642748008,
    0.6897673349851,
    1.6763848301838038,
    2.053191626637759,
    1,
  ),
};
const FAR_TAIL = {
  over: Float64Array.of(
    2.0103343992922881e-7,
    0.000027115555687434876,
    0.0012426609473880784,
    0.026532189526576124,
    0.29656057182850487,
    1.7848265399172913,
    5.463784911164114,
    6.657904643501103,
  ),
  under: Float64Array.of(
    2.0442631033899397e-15,
    1.421511758316446e-7,
    0.000018463183175100548,
    0.0007868691311456133,
    0.014875361290850615,
    0.1369298809227358,
    0.599832206555888,
    1,
  ),
};

/** The standard normal quantile of p, strictly between 0 and 1; about 1e-16 relative. */
export function normalQuantile(p: number): number {
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * polynomial(MIDDLE.over, r)) / polynomial(MIDDLE.under, r);
  }
  const r = Math.sqrt(-portableLog(q < 0 ? p : 1 - p));
  const [at, part] = r <= 5 ? [r - 1.6, TAIL] : [r - 5, FAR_TAIL];
  const z = polynomial(part.over, at) / polynomial(part.under, at);
  return q < 0 ? -z : z;
}

/** A draw from the standard normal distribution. */
export const normal = (dice: Dice): number => normalQuantile(uniform(dice));
