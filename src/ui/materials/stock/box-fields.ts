/**
 * What a new box of a known device identifier can be filled in with: what its sheet says first, then
 * what was entered for the last box. Never the lot, the expiry date, the serial number or the day it was
 * opened: those are of one box. Pure.
 */
import type { StockDefaults } from '../../../runtime/lead/sheets.ts';
import type { Material } from '../../../runtime/stock/stock-types.ts';
import { EMPTY_DRAFT, type MaterialFields } from './material-draft.ts';

type BoxField =
  | 'materialClass'
  | 'label'
  | 'refrigerated'
  | 'warmUpMinutes'
  | 'useWithinDays'
  | 'note';

const BOX_FIELDS = [
  'materialClass',
  'label',
  'refrigerated',
  'warmUpMinutes',
  'useWithinDays',
  'note',
] as const satisfies readonly BoxField[];

/** Where the value of a field comes from, until somebody changes it. */
export type Filled = Partial<Record<keyof MaterialFields, 'sheet' | 'box'>>;

interface BoxFields {
  readonly fields: Partial<MaterialFields>;
  readonly filled: Filled;
}

type Known = Partial<Pick<Material, BoxField>>;

const textOf = <T>(value: T | undefined): T | string | undefined =>
  typeof value === 'number' ? String(value) : value;

/** What is known of a box; what neither says stays as it is in an empty form. */
export function boxFields(last: Material | null, sheet: StockDefaults | null): BoxFields {
  const said: Known = sheet ?? {};
  const entered: Known = last ?? {};
  const known = BOX_FIELDS.flatMap((field) => {
    const from = said[field] !== undefined ? 'sheet' : 'box';
    const value = textOf(said[field] ?? entered[field]);
    return value === undefined || value === '' ? [] : [{ field, from, value } as const];
  });
  return {
    fields: Object.fromEntries(known.map(({ field, value }) => [field, value])),
    filled: Object.fromEntries(known.map(({ field, from }) => [field, from])),
  };
}

export interface Filling {
  readonly draft: MaterialFields;
  readonly filled: Filled;
}

/** Fills in what nobody has typed; what an identifier before it had filled in is taken out again. */
export function fillIn({ draft, filled }: Filling, box: BoxFields): Filling {
  const isFree = (field: BoxField): boolean =>
    filled[field] !== undefined || draft[field] === EMPTY_DRAFT[field];
  const free = new Set<string>(BOX_FIELDS.filter(isFree));
  const only = <T extends object>(all: T): Partial<T> =>
    Object.fromEntries(Object.entries(all).filter(([field]) => free.has(field))) as Partial<T>;
  return {
    draft: { ...draft, ...only(EMPTY_DRAFT), ...only(box.fields) },
    filled: only(box.filled),
  };
}

/** What somebody changes is no longer as with the last box. */
export function changed({ draft, filled }: Filling, part: Partial<MaterialFields>): Filling {
  const left = Object.entries(filled).filter(([field]) => !Object.hasOwn(part, field));
  return { draft: { ...draft, ...part }, filled: Object.fromEntries(left) };
}
