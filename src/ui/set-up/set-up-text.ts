/** What people type in the set-up form, between text and the values of a file. Pure. */

export const text = (value: number | undefined): string =>
  value === undefined ? '' : String(value);

/** A number as typed, with a comma or a point; the text itself when it is none. */
export function numberOf(typed: string): number | string | undefined {
  const bare = typed.trim();
  if (bare === '') return undefined;
  const value = Number(bare.replace(',', '.'));
  return Number.isFinite(value) ? value : bare;
}

/** Text without spaces around it, undefined when there is none; untouched text stays as it was. */
export function trimmed(typed: string, was: string | undefined): string | undefined {
  if (typed === was) return was;
  const bare = typed.trim();
  return bare === '' ? undefined : bare;
}

/** Leaves out what is not there: the file format knows no empty fields. */
export function without(fields: Readonly<Record<string, unknown>>): Record<string, unknown> {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined));
}
