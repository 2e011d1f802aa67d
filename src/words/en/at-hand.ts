/** What is one tap away while cement is out. */
export const atHand = {
  title: 'At hand',
  probeNow: (portion: string): string =>
    `Probe the bead of ${portion} now. The mouth is warmer: cement there is ahead of it.`,
  probed: (o: { readonly mix: string; readonly since: string }): string =>
    `Bead of ${o.mix}, probed ${o.since} ago`,
  laid: (o: { readonly mix: string; readonly since: string }): string =>
    `Bead of ${o.mix}, laid ${o.since} ago`,
  found: (o: { readonly mix: string; readonly found: string }): string =>
    `Bead of ${o.mix}: ${o.found}`,
  mishap: {
    'unit-will-not-seat': (unit: string): string => `${unit} will not seat`,
    'unit-dropped': (unit: string): string => `${unit} dropped`,
  },
  swap: (o: { readonly first: string; readonly second: string }): string =>
    `${o.second} before ${o.first}`,
  swapReason: 'Swapped while seating',
};

/** What has happened and must be answered at once. */
export const atOnce = {
  title: 'Answer now',
  because: {
    'bead-firm': (portion: string): string => `The bead of ${portion} is firm.`,
    'cement-over': (portion: string): string => `The working time of ${portion} is over.`,
    'light-failed': (): string => 'The light failed.',
  } satisfies Record<string, (subject: string) => string>,
  /** The way back of a portion as an answer. */
  again: (portion: string): string => `Start ${portion} again`,
};
