/** The one line that says whether this tablet and the clinic’s store agree. */
export const sharingLine = {
  shared: (ago: string): string => `Shared ${ago} ago`,
  notYet: 'Not shared yet: keeps on its own',
  notSince: (at: string): string => `Not shared since ${at}: keeps on its own`,
  reading: (o: { readonly done: number; readonly of: number }): string =>
    `Reading ${o.done} of ${o.of}`,
  putOut: 'Put out of the clinic’s store: keeps on its own',
  notLetIn: 'Not let in by the clinic’s store: keeps on its own',
  otherWindow: 'Another window shares',
  demo: 'DEMO store: for trying, not for patients',
};
