/** What the lamp is set to and why, in one line beside the press. */
interface LightReason {
  readonly set: string;
  readonly needs: string;
  readonly dose: string;
  readonly behind: string | null;
}

const doseBehind = ({ dose, behind }: LightReason): string =>
  behind === null ? `${dose} J/cm²` : `${dose} J/cm² behind ${behind} mm`;

export const lightLine = {
  set: (seconds: string): string => `${seconds} s`,
  setOf: (o: { readonly set: string; readonly of: string }): string => `${o.set} of ${o.of} s`,
  product: (set: string): string => `${set}: the product’s own time`,
  left: (o: { readonly set: string; readonly of: string }): string =>
    `${o.set} s: what is left of ${o.of} s`,
  dose: (o: LightReason): string => `${o.set}: ${o.needs} s for ${doseBehind(o)}, next programme`,
  productLonger: (o: LightReason): string =>
    `${o.set}: the product’s own time; ${doseBehind(o)} takes ${o.needs} s`,
  held: (o: LightReason): string =>
    `${o.set}, the most allowed; ${doseBehind(o)} would take ${o.needs} s`,
};
