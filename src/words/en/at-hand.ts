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
