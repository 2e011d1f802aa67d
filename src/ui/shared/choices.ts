import type { Notation } from '../../protocol/case-types.ts';

/** Entries of a protocol as choices, by their titles. */
export function titledChoices(
  entries: readonly { readonly id: string; readonly title: string }[],
): readonly { readonly value: string; readonly label: string }[] {
  return entries.map(({ id, title }) => ({ value: id, label: title }));
}

/** Choices for a control, from a list of values and their words. */
export function choicesOf<Value extends string>(
  values: readonly Value[],
  words: Readonly<Record<Value, string>>,
): readonly { readonly value: Value; readonly label: string }[] {
  return values.map((value) => ({ value, label: words[value] }));
}

/** The ways to name a tooth, in the order in which they are offered. */
export const NOTATIONS: readonly Notation[] = ['fdi', 'universal', 'palmer'];
