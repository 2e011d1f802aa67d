/** Choices for a control, from a list of values and their words. */
export function choicesOf<Value extends string>(
  values: readonly Value[],
  words: Readonly<Record<Value, string>>,
): readonly { readonly value: Value; readonly label: string }[] {
  return values.map((value) => ({ value, label: words[value] }));
}
