/** Words of the card of a protocol for the wall. */
export const card = {
  print: 'Print, or save as PDF',
  back: 'Protocol',
  unconfirmed: 'UNCONFIRMED TEMPLATE. Not for use on a patient.',
  confirmed: (o: { readonly by: string; readonly on: string }): string =>
    `Confirmed by ${o.by}, ${o.on}`,
  revision: (o: { readonly revision: number; readonly hash: string }): string =>
    `Revision ${o.revision}, hash ${o.hash}`,
  limits: {
    min: (min: string): string => `Min ${min}`,
    max: (max: string): string => `Limit ${max}`,
    both: (o: { readonly min: string; readonly max: string }): string =>
      `Min ${o.min}, limit ${o.max}`,
  },
  windows: 'Windows',
  cautions: 'Cautions',
  foot: 'A timer’s numbers on paper. Instructions for use of the products in hand and licensed judgement govern. Replace this card when the revision changes.',
  gone: 'This protocol is not on this tablet',
};
