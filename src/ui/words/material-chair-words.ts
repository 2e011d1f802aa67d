/** Words for naming lots at the chair. */
export const chairMaterialWords = {
  open: 'Materials',
  title: 'Materials of this case',
  lede: 'One touch names the lot for its place in the protocol. It counts for every step from now on.',
  none: 'not named yet',
  named: (o: { readonly label: string; readonly lot: string }): string =>
    `${o.label}, lot ${o.lot}`,
  change: 'Another lot',
  nothing: 'Nothing of this class is on the shelf. Add it under Materials.',
  otherClass: 'Of another class',
  choose: (o: { readonly label: string; readonly lot: string; readonly slot: string }): string =>
    `${o.label}, lot ${o.lot}, for ${o.slot}`,
  now: 'asked for now',
  optional: 'optional',
} as const;
