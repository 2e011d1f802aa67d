/** Generic classes of restorations and materials, as people say them. */
const RESTORATIONS: readonly (readonly [string, string])[] = [
  ['veneer', 'Veneer'],
  ['inlay', 'Inlay'],
  ['onlay', 'Onlay'],
  ['crown', 'Crown'],
  ['bridge', 'Bridge'],
];

const MATERIALS: readonly (readonly [string, string])[] = [
  ['lithium-disilicate', 'Lithium disilicate'],
  ['leucite', 'Leucite glass-ceramic'],
  ['feldspathic', 'Feldspathic ceramic'],
  ['zirconia', 'Zirconia'],
  ['resin-composite', 'Resin composite'],
];

interface Option {
  readonly value: string;
  readonly label: string;
}

function optionsWith(known: readonly (readonly [string, string])[], present: string): Option[] {
  const options = known.map(([value, label]) => ({ value, label }));
  // What a file brought along stays on the list, even where this one does not know it.
  const isKnown = present === '' || options.some((o) => o.value === present);
  return isKnown ? options : [...options, { value: present, label: present }];
}

export const restorationOptions = (present: string): Option[] => optionsWith(RESTORATIONS, present);
export const materialOptions = (present: string): Option[] => optionsWith(MATERIALS, present);

const wordOf = (known: readonly (readonly [string, string])[], value: string): string =>
  known.find(([id]) => id === value)?.[1] ?? value;

export const restorationWord = (value: string): string => wordOf(RESTORATIONS, value);
export const materialWord = (value: string): string => wordOf(MATERIALS, value);
