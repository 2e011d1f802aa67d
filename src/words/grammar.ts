/** What the grammar of a language asks of a text with a number or a list in it, by `Intl`. */

/** A BCP 47 tag, as `Intl` takes it. */
export type LanguageTag = string;

/** A text for each plural form that the language has; `other` serves the rest. */
type PluralForms = { readonly [Form in Intl.LDMLPluralRule]?: string } & {
  readonly other: string;
};

/** `plural(1, { one: '1 case', other: `${count} cases` })`, for one language. */
export function pluralIn(tag: LanguageTag): (count: number, forms: PluralForms) => string {
  const rules = new Intl.PluralRules(tag);
  return (count, forms) => forms[rules.select(count)] ?? forms.other;
}

/** "11, 12 and 21", for one language; plain `en` would write "11, 12, and 21". */
export function listIn(tag: LanguageTag): (parts: readonly string[]) => string {
  const format = new Intl.ListFormat(tag, { style: 'long', type: 'conjunction' });
  return (parts) => format.format(parts);
}
