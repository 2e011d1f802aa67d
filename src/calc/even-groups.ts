/**
 * Splits a count into as few groups as possible, none larger than `largest`, sizes as even as
 * possible and larger groups first.
 * @param items whole numbers of 1 or more.
 */
export function evenGroups(items: {
  readonly count: number;
  readonly largest: number;
}): readonly number[] {
  const groups = Math.ceil(items.count / items.largest);
  const base = Math.floor(items.count / groups);
  const larger = items.count % groups;
  return Array.from({ length: groups }, (_, at) => (at < larger ? base + 1 : base));
}

/** Sums of decimal seconds carry rounding errors of about this share; comparisons allow for it. */
const ROUNDING = 1e-9;

/** Whether a is at most b, apart from rounding in the last digits. */
export function atMost({ a, b }: { readonly a: number; readonly b: number }): boolean {
  return a <= b + ROUNDING * Math.max(1, Math.abs(a), Math.abs(b));
}
