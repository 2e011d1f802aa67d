/**
 * How plain numbers are written on the screen. A space stands between a number and its unit or the
 * percent sign, and a decimal figure keeps the digits it was given, with the decimal sign of the language (SI Brochure, 9th edition 2019,
 * sections 5.4.3 and 5.4.7).
 */
import { assert } from '../base/assert.ts';
import type { LanguageTag } from './grammar.ts';
import { languageTag } from './language.ts';

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

const formats = new Map<string, Intl.NumberFormat>();

/** One for each language and number of decimals: making one takes longer than a hundred uses of it. */
function formatIn(language: LanguageTag, digits: number): Intl.NumberFormat {
  const key = `${language} ${digits}`;
  const known = formats.get(key);
  if (known) return known;
  const made = new Intl.NumberFormat(language, {
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
    useGrouping: false,
    numberingSystem: 'latn',
  });
  formats.set(key, made);
  return made;
}

/** A number with the decimal sign of the language, `0.5`; thousands are not parted. For people, not for files. */
export function formatDecimal(o: { readonly value: number; readonly digits: number }): string {
  assert(Number.isFinite(o.value), `value: expected a finite number`);
  // Rounded as `toFixed` does, by what the number is in binary, so that no figure moves.
  const rounded = Math.abs(Number(o.value.toFixed(o.digits)));
  const sign = o.value < 0 && rounded !== 0 ? MINUS : '';
  return `${sign}${formatIn(languageTag(), o.digits).format(rounded)}`;
}

/** A quantity with its unit: `1200 mW/cm²`, `0.5 mm`. `digits` is the number of decimals. */
export function formatQuantity(quantity: {
  readonly value: number;
  readonly unit: string;
  readonly digits: number;
}): string {
  return `${formatDecimal(quantity)}${NO_BREAK}${quantity.unit}`;
}
