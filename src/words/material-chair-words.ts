/** Words for naming lots at the chair. */
export const chairMaterialWords = {
  open: 'Materials',
  title: 'Materials of this case',
  lede: 'One touch names the lot for its place in the protocol. It counts for every step from now on.',
  named: (o: { readonly label: string; readonly lot: string }): string =>
    `${o.label}, lot ${o.lot}`,
  change: 'Another lot',
  nothing: 'Nothing of this class is on the shelf. Add it under Materials.',
  choose: (o: { readonly label: string; readonly lot: string; readonly slot: string }): string =>
    `${o.label}, lot ${o.lot}, for ${o.slot}`,
  now: 'asked for now',
  optional: 'optional',
  which: (slot: string): string => `${slot}: which lot?`,
  nameIt: (o: { readonly label: string; readonly lot: string }): string =>
    `${o.label}, lot ${o.lot}`,
  chooseLot: 'Choose the lot',
  against: (o: { readonly slot: string; readonly lot: string; readonly words: string }): string =>
    `${o.slot}, lot ${o.lot}: ${o.words}`,
  shelf: 'Materials on the shelf',
  shelfLede: 'What this protocol asks for, and the lot that would be used up first.',
  shelfNone: 'none on the shelf list',
  shelfTo: 'All materials',
} as const;
