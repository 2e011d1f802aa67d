/** Words of the product sheets. */
import type { DraftLine } from '../protocol/sheet-draft.ts';
import { understoodDuration } from '../protocol/sheet-entry.ts';
import type { SheetFault } from '../protocol/sheet-finish.ts';
import type { SheetLine, SheetUnit } from '../protocol/sheet-types.ts';
import { productSheet } from './en/product-sheet.ts';
import { spoken } from './language.ts';
import { formatQuantity } from './number.ts';

export const sheetWords = spoken('productSheet', productSheet);

const digitsOf = (value: number): number => String(value).split('.')[1]?.length ?? 0;

/** A number with the unit in which it is printed: "15 s", "8 °C". */
function sheetValueWords(value: number, unit: SheetUnit): string {
  const { counted } = sheetWords;
  const isCounted = unit === 'coats' || unit === 'days' || unit === 'months';
  const word = isCounted ? counted[unit](value) : sheetWords.unit[unit];
  return formatQuantity({ value, unit: word, digits: digitsOf(value) });
}

/** The same, read back so that a slip of the unit is seen: "1.5 min = 90 s". */
export function understoodWords(value: number, unit: SheetUnit): string {
  const shown = sheetValueWords(value, unit);
  const long = understoodDuration(value, unit)?.replaceAll(' ', '\u00a0') ?? shown;
  return sheetWords.understood(long === shown ? shown : `${shown} = ${long}`);
}

/** What a line is about: "Etching and abrading, on enamel, at most". */
export function sheetLineTitle(line: Pick<SheetLine | DraftLine, 'group' | 'bound' | 'title'>) {
  const { group, bound, title = '' } = line;
  return sheetWords.line({
    group: sheetWords.group[group],
    title,
    bound: sheetWords.bound[bound],
  });
}

/** The same without its group, to stand behind the number: "at most, on enamel". */
export function sheetLineSide({ bound, title = '' }: Pick<SheetLine, 'bound' | 'title'>): string {
  return sheetWords.side({ title, bound: sheetWords.bound[bound] });
}

/** The number of a line with its temperature: "2 min at 23 °C". */
export function sheetLineValue({ value, unit, temperatureC }: SheetLine): string {
  const shown = sheetValueWords(value, unit);
  if (temperatureC === undefined) return shown;
  return `${shown} ${sheetWords.at(sheetValueWords(temperatureC, 'C'))}`;
}

export const sheetFaultWords = (fault: SheetFault): string => sheetWords.faults[fault];
