/** What is used of jstat, which brings no types. */
declare module 'jstat' {
  interface Distribution2 {
    cdf(x: number, a: number, b: number): number;
    inv(p: number, a: number, b: number): number;
  }
  interface Distribution1 {
    cdf(x: number, df: number): number;
    inv(p: number, df: number): number;
  }
  const jStat: {
    readonly beta: Distribution2;
    /** Shape and scale. */
    readonly gamma: Distribution2;
    /** Mean and standard deviation. */
    readonly normal: Distribution2;
    readonly studentt: Distribution1;
    readonly chisquare: Distribution1;
    ibeta(x: number, a: number, b: number): number;
    lowRegGamma(a: number, x: number): number;
    gammaln(x: number): number;
  };

  // biome-ignore lint/style/noDefaultExport: the package is CommonJS, Node gives it by default only.
  export { jStat as default };
}
