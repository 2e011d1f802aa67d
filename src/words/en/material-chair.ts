/** Naming lots at the chair, and the shelf while a case is prepared. */

interface NamedLot {
  readonly label: string;
  readonly lot: string;
}

export const materialChair = {
  open: 'Materials',
  title: 'Materials of this case',
  lede: 'Touch a lot to name it for its place in the protocol. It counts for every step from now on.',
  named: (o: NamedLot): string => `${o.label}, lot ${o.lot}`,
  change: 'Another lot',
  nothing: 'Nothing of this class is on the shelf list. Add it under Materials.',
  choose: (o: NamedLot & { readonly slot: string }): string =>
    `${o.label}, lot ${o.lot}, for ${o.slot}`,
  askedNow: (slot: string): string => `${slot}, asked for now`,
  /** Of a place or of a class that the protocol does not insist on. */
  optional: (what: string): string => `${what}, optional`,
  which: (slot: string): string => `Which lot for ${slot}?`,
  chooseLot: 'Choose the lot',
  against: (o: { readonly slot: string; readonly lot: string; readonly words: string }): string =>
    `${o.slot}, lot ${o.lot}: ${o.words}`,
  shelf: 'Materials on the shelf',
  shelfLede: 'What this protocol asks for, and the lot to use up first.',
  shelfNone: 'None on the shelf list',
  shelfTo: 'All materials',
  /** Of a lot that is of use today, and no longer on the day of the case. */
  lastDayBefore: (day: string): string => `Use by ${day}, before the day of the case`,
};
