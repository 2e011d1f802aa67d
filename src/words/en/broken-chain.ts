/** What heads of other tablets show of a case that is not as it was. */
interface Said {
  /** Name of the tablet that signed the head. */
  readonly tablet: string;
  /** Entries that the head names, and those that are here. */
  readonly named: number;
  readonly here: number;
}

export const brokenChain = {
  title: (o: { readonly title: string }): string => `${o.title}: not as it was signed`,
  kinds: {
    differs: (o: Said): string =>
      `${o.tablet} signed another entry ${o.named} than the one that is here. The case was changed on one of the tablets.`,
    cut: (o: Said): string =>
      `${o.tablet} signed ${o.named} entries, ${o.here} are here. The rest is neither here nor in the store.`,
    'stepped-back': (o: Said): string =>
      `${o.tablet} signed ${o.named} entries after it had signed more. Its end was cut off there.`,
    'forged-head': (o: Said): string =>
      `A head came in the name of ${o.tablet} that it did not sign. It says nothing of the case.`,
  },
  todo: 'Compare the case on both tablets and with the last backup before you rely on it. Export it as it is now.',
  unknownTablet: 'an unknown tablet',
  unknownCase: (id: string): string => `Case ${id}`,
};
