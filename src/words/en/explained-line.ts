/** A computed number as plan and chair show it. */
export const explainedLine = {
  explained: (o: { readonly what: string; readonly value: string }): string =>
    `${o.what}: ${o.value}`,
  source: (source: string): string => `Source: ${source}`,
};
