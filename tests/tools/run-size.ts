/**
 * How much of a long run is done: all of it by `npm run test:long`, a part with a fixed seed
 * otherwise, so that the everyday run stays short and tells the same every time. LUTEWATCH_SEED
 * draws others.
 */
export const isLong = process.env['LUTEWATCH_LONG'] === '1';

/** `long` in the long run, `part` in the everyday one. */
export const runSize = (o: { readonly long: number; readonly part: number }): number =>
  isLong ? o.long : o.part;

/** The seed of a run: given, or new each time in the long run, or else always the same. */
export function runSeed(): number {
  const given = process.env['LUTEWATCH_SEED'];
  if (given !== undefined) return Number(given);
  return isLong ? Date.now() % 1_000_000 : 1;
}
