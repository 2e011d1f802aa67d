/**
 * How plain numbers are written on the screen. A space stands between a number and its unit or the
 * percent sign, and a decimal figure keeps the digits it was given (SI Brochure, 9th edition 2019,
 * sections 5.4.3 and 5.4.7).
 */
import { assert } from '../base/assert.ts';

const NO_BREAK = '\u00a0';
const MINUS = '\u2212';

/**
 * A share from 0 to 1 as percent: `58 %`. A share that is neither none nor all never reads as
 * such: it is written `<1 %` or `>99 %`.
 */
export function formatPercent(share: number): string {
  assert(Number.isFinite(share), `share: expected a finite number, got ${share}`);
  const rounded = Math.round(share * 100);
  if (share > 0 && rounded === 0) return `<1${NO_BREAK}%`;
  if (share < 1 && rounded === 100) return `>99${NO_BREAK}%`;
  return `${rounded < 0 ? MINUS : ''}${Math.abs(rounded)}${NO_BREAK}%`;
}

/** A quantity with its unit: `1200 mW/cm²`, `0.5 mm`. `digits` is the number of decimals. */
export function formatQuantity(quantity: {
  readonly value: number;
  readonly unit: string;
  readonly digits: number;
}): string {
  assert(Number.isFinite(quantity.value), `value: expected a finite number`);
  const text = Math.abs(quantity.value).toFixed(quantity.digits);
  const sign = quantity.value < 0 && Number(text) !== 0 ? MINUS : '';
  return `${sign}${text}${NO_BREAK}${quantity.unit}`;
}

/** A place in a row: `3 of 5`. */
export function formatCount(count: { readonly done: number; readonly total: number }): string {
  return `${count.done} of ${count.total}`;
}
