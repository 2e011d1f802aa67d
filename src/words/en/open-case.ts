/** How a case that was begun and not closed is told, on Today and in the empty chair. */
export const openCase = {
  caseAndMode: (o: { readonly chartRef: string; readonly mode: string }): string =>
    `${o.chartRef}, ${o.mode}`,
  openedAndLast: (o: { readonly opened: string; readonly last: string }): string =>
    `${o.opened}, ${o.last}`,
  caseModeAndLast: (o: {
    readonly chartRef: string;
    readonly mode: string;
    readonly last: string;
  }): string => `${o.chartRef}, ${o.mode}, ${o.last}`,
};
