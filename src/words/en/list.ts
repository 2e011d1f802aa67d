/** Words of a list at the chair: several things at one pause, taken with one press. */
interface Bounds {
  readonly place: string;
  readonly min: number;
  readonly max: number;
  readonly unit: string;
  readonly came: string;
}

export const list = {
  line: (o: { readonly title: string; readonly subject: string }): string =>
    o.subject === '' ? o.title : `${o.title} ${o.subject}`,
  held: 'Waits for a line above.',
  lot: 'Lot, as printed',
  noNumber: (o: Bounds): string =>
    `${o.place}: expected a number from ${o.min} to ${o.max} ${o.unit}, got "${o.came}".`,
  outside: (o: Bounds): string =>
    `${o.place}: expected ${o.min} to ${o.max} ${o.unit}, got ${o.came}. Correct it, or tick the line to record it so.`,
  wantsAnswer: (title: string): string =>
    `${title} needs an answer. Give it, or tick another line.`,
};
