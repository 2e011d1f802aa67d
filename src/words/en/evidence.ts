/** What a step asks to be typed, and what is recorded of it. */

export const evidence = {
  range: (o: { readonly min: number; readonly max: number }): string =>
    `A number from ${o.min} to ${o.max}`,
  typed: 'The next press records this with the step.',
  typedOf: (share: string): string => `${share}. The next press records this with the step.`,
  ofBaseline: (percent: number): string => `${percent} % of its own baseline`,
  farBelowBaseline: (percent: number): string =>
    `${percent} % of its own baseline, a fifth or more below: service is due (common practice)`,
  value: (o: { readonly value: string; readonly unit: string }): string => `${o.value} ${o.unit}`,
  outside: (o: {
    readonly value: string;
    readonly unit: string;
    readonly min: number;
    readonly max: number;
  }): string => `${o.value} ${o.unit} (expected ${o.min} to ${o.max})`,
  withBaseline: (o: { readonly value: string; readonly share: string }): string =>
    `${o.value}, ${o.share}`,
};
