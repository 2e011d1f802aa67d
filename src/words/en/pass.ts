/** A pass of light, as it is heard and as its places are listed. */
interface Place {
  readonly subject: string;
  /** The surface in words. */
  readonly surface: string;
}

export const pass = {
  place: (o: Place): string => `${o.subject}, ${o.surface}`,
  placeSpot: (o: Place & { readonly at: number }): string =>
    `${o.subject}, ${o.surface}, spot ${o.at}`,
  /** Where one spot takes several presses in one pass. */
  again: (o: { readonly place: string; readonly nth: number }): string =>
    `${o.place}, press ${o.nth}`,
  change: (place: string): string => `Change over. ${place}`,
  over: 'Pass finished. Confirm what was lit.',
  title: 'Places of this pass',
  states: {
    led: 'paced, not confirmed',
    lit: 'now',
    cut: 'cut short',
    'to-come': 'to come',
  },
  ticked: 'was lit',
  unticked: 'not lit, stays due',
  todo: 'Untick what was not lit.',
  silent: 'One press for each place: the tones are not known to be heard here.',
};
