/** Generic classes of restorations and materials by their code in a file. */
import { material } from './en/material.ts';
import { spoken } from './language.ts';

const words = spoken('material', material);

interface Option {
  readonly value: string;
  readonly label: string;
}

type Forms<Kind extends keyof typeof material> =
  (typeof material)[Kind][keyof (typeof material)[Kind]];

function formsOf<Form>(known: Readonly<Record<string, Form>>, value: string): Form | undefined {
  return Object.hasOwn(known, value) ? known[value] : undefined;
}

function optionsWith(
  known: Readonly<Record<string, { readonly alone: string }>>,
  present: string,
): Option[] {
  const options = Object.entries(known).map(([value, { alone }]) => ({ value, label: alone }));
  // What a file brought along stays on the list, even where this one does not know it.
  const isKnown = present === '' || Object.hasOwn(known, present);
  return isKnown ? options : [...options, { value: present, label: present }];
}

export const restorationOptions = (present: string): Option[] =>
  optionsWith(words.restorations, present);
export const materialOptions = (present: string): Option[] => optionsWith(words.materials, present);

/** The forms of a kind of restoration; what a file calls it where it is not known here. */
export const restorationForms = (value: string): Forms<'restorations'> =>
  formsOf(words.restorations, value) ?? { alone: value, one: value, all: value };

export const materialForms = (value: string): Forms<'materials'> =>
  formsOf(words.materials, value) ?? { alone: value, inLine: value };

export const restorationWord = (value: string): string => restorationForms(value).alone;
export const materialWord = (value: string): string => materialForms(value).alone;
