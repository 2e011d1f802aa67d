/**
 * Whether a number that was confirmed is the one that its quotation gives. A range between two numbers
 * covers what lies in it. The way to answer it is to quote the words that hold the number, or none.
 */
import { caution, type Finding } from './finding.ts';
import { type Quoted, type QuotedUnit, quotedNumbers } from './quoted-numbers.ts';
import type { Protocol } from './types.ts';
import { basesOf } from './walk-figures.ts';

function unitOf(key: string): QuotedUnit | null {
  if (key.endsWith('Ms') || key.endsWith('MsMin')) return 'ms';
  if (key === 'doseJPerCm2') return 'J/cm2';
  return key === 'count' || key === 'passesMax' ? 'count' : null;
}

const covers = ({ low, high }: Quoted, value: number): boolean =>
  value >= Math.min(low, high) - 1e-9 && value <= Math.max(low, high) + 1e-9;

/** The numbers that a sentence gives in the unit of a value, where none of them is that value. */
export function otherNumbers(
  sentence: string,
  { value, unit }: { readonly value: number; readonly unit: QuotedUnit },
): readonly string[] {
  const quoted = quotedNumbers(sentence, unit);
  if (quoted.some((each) => covers(each, value))) return [];
  return [...new Set(quoted.map(({ text }) => text))];
}

/** A caution for every number that its quotation does not give, though it gives others in that unit. */
export function checkQuotes(protocol: Protocol): readonly Finding[] {
  return basesOf(protocol).flatMap(({ place, basis, figure }): readonly Finding[] => {
    if (figure === null || basis.kind !== 'instructions' || basis.asWritten === undefined)
      return [];
    const key = place.slice(place.lastIndexOf('.') + 1);
    const unit = unitOf(key);
    if (unit === null) return [];
    const said = otherNumbers(basis.asWritten, { value: figure.value, unit });
    if (said.length === 0) return [];
    return [caution('quote-differs', place, { value: figure.value, unit, said })];
  });
}
