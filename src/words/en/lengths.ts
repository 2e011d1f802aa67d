/** How lengths of time are told that are known as an interval. Symbols of units are the same in every language. */
export const lengths = {
  interval: (o: { readonly lo: string; readonly hi: string }): string => `${o.lo} to ${o.hi}`,
  atLeast: (lo: string): string => `at least ${lo}`,
};
