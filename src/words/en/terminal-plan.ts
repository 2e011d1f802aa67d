/** A plan as the terminal prints it: its windows, its other ways and how its numbers came about. */
import { listIn, pluralIn } from '../grammar.ts';

const list = listIn('en-GB');
const plural = pluralIn('en');

const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

const numberWord = (n: number): string => NUMBERS[n] ?? String(n);

interface Way {
  /** What is done otherwise. */
  readonly what: string;
  readonly risk: string;
  /** How much longer or shorter it takes; null when that is not worth telling. */
  readonly difference: string | null;
}

const groups = (sizes: readonly string[], count: number, o: { one: string; other: string }) =>
  `${numberWord(count)} ${plural(count, o)} of ${list(sizes)}`;

interface Groups {
  /** How many there are. */
  readonly count: number;
  /** The size of each; one size when all are alike. */
  readonly sizes: readonly string[];
}

const withDifference = (told: string, difference: string | null): string =>
  difference === null ? told : `${told}, ${difference}`;

export const terminalPlan = {
  underASecond: 'under 1 s',
  underAPercent: 'under 1 %',
  over99Percent: 'over 99 %',
  /** What was drawn in none of the runs: said as what that shows, never as impossible. */
  inNoRun: (runs: number): string => `in fewer than 1 of ${runs} simulated runs`,
  inRuns: (share: string): string => `in ${share} of simulated runs`,
  mixes: ({ count, sizes }: Groups): string => groups(sizes, count, { one: 'mix', other: 'mixes' }),
  rounds: (o: Groups & { readonly step: string }): string =>
    `"${o.step}" in ${groups(o.sizes, o.count, { one: 'round', other: 'rounds' })}`,
  seated: (units: readonly string[]): string => `seated ${units.join(' ')}`,
  longer: (minutes: number): string => `${minutes} min longer`,
  shorter: (minutes: number): string => `${minutes} min shorter`,
  way: ({ what, risk, difference }: Way): string =>
    withDifference(`${what}: outside ${risk}`, difference),
  wayNotKept: ({ what, risk, difference }: Way): string =>
    withDifference(`${what}: outside ${risk}, cannot be kept as expected`, difference),
  wayPlanned: ({ what, risk }: Way): string => `${what}: outside ${risk} (planned)`,
  wayPlannedNotKept: ({ what, risk }: Way): string =>
    `${what}: outside ${risk}, cannot be kept as expected (planned)`,
  tooLong: (length: string): string => `${length} too long`,
  toSpare: (length: string): string => `${length} to spare`,
  window: (o: { readonly title: string; readonly room: string; readonly risk: string }): string =>
    `"${o.title}": ${o.room}, outside ${o.risk}`,
  windowNotKept: (o: {
    readonly title: string;
    readonly room: string;
    readonly risk: string;
  }): string => `"${o.title}": ${o.room}, outside ${o.risk}; cannot be kept`,
  surface: (o: {
    readonly surface: string;
    readonly seconds: string;
    readonly decidedBy: string;
  }): string => `${o.surface} ${o.seconds} (${o.decidedBy})`,
  /** A surface that the tip covers only from several places. */
  places: (o: { readonly count: number; readonly seconds: string }): string =>
    `${o.count} x ${o.seconds}`,
  exposure: (o: {
    readonly step: string;
    /** Units, or teeth where each is lit by itself. */
    readonly per: string;
    readonly subjects: readonly string[];
    readonly surfaces: readonly string[];
  }): string => `"${o.step}", ${o.per} ${o.subjects.join(' ')}: ${o.surfaces.join(', ')}`,
  decidedBy: (what: string): string => `decided by ${what}`,
  /** That a ceiling of light holds a time. */
  held: (o: { readonly code: string; readonly cause: string; readonly wayOut: string }): string =>
    `(${o.code}, cause ${o.cause}, way out ${o.wayOut})`,
  ownTime: "the product's own time, nothing computed",
  computedLonger: 'the computed time is longer',
  productLonger: 'the product time is longer',
  explained: (o: {
    readonly id: string;
    readonly value: string;
    readonly decided: string;
    readonly source: string;
    /** How to work it out again; null where nothing was worked out. */
    readonly calc: string | null;
  }): string => {
    const told = `${o.id} = ${o.value}, ${o.decided}; ${o.source}`;
    return o.calc === null ? told : `${told}; calc ${o.calc}`;
  },

  head: (o: {
    readonly caseId: string;
    readonly protocol: string;
    readonly revision: number;
  }): string => `case ${o.caseId}, protocol ${o.protocol} revision ${o.revision}`,
  chairTime: (o: {
    readonly middle: string;
    readonly slow: string;
    readonly usual: string;
  }): string =>
    `chair time: ${o.middle} in the middle case, ${o.slow} on a slow day (9 of 10 are shorter); ${o.usual} at the usual pace`,
  findingsHead: 'what speaks against it:',
  anyRisk: (risk: string): string => `any limit of the case broken: ${risk}`,
  carefulHead: (percent: string): string =>
    `rounds and mixes: the fewest that break their limits in fewer than ${percent} of simulated runs`,
  /** One grouping that the draws decided. */
  careful: (o: {
    readonly what: string;
    readonly risk: string;
    /** The fewest groups, where they are not what is planned. */
    readonly insteadOf: string | null;
    readonly isUnder: boolean;
  }): string => {
    const instead = o.insteadOf === null ? '' : ` instead of ${o.insteadOf}`;
    const told = `${o.what}${instead}: outside ${o.risk}`;
    return o.isUnder ? told : `${told}; no grouping is under that share, this is the least risky`;
  },
  price: (o: { readonly more: string; readonly isLonger: boolean }): string =>
    o.isLonger
      ? `price: ${o.more} more than with the fewest`
      : `price: none, ${o.more} less than with the fewest`,
  noPrice: 'price: none, these are the fewest',
  samePrice: 'price: no more time than with the fewest',
  visitsHead: (units: number): string =>
    plural(units, {
      one: 'published visits for one restoration, for comparison:',
      other: `published visits for one restoration (for ${units} there is no published figure):`,
    }),
  visit: (o: {
    readonly what: string;
    readonly mean: number;
    readonly sd: number;
    readonly source: string;
  }): string => `${o.what}: ${o.mean} min on average (SD ${o.sd}); ${o.source}`,
  visits: {
    'adhesive-ceramic-assisted': 'adhesive ceramic restoration, much assistance',
    'adhesive-ceramic-alone': 'adhesive ceramic restoration, little assistance',
    'ceramic-inlay': 'ceramic inlay, net time',
  },
  heldHead: 'light that a ceiling holds:',
  whyHint: 'how the numbers came about: --why',
  mixesHead: 'mixes:',
  roundsHead: 'rounds:',
  lightHead: 'light:',
  windowsHead: 'windows, least room first:',
  waysHead: 'other ways:',
  explainedHead: 'how the numbers came about (the instructions of the product overrule every one):',
};
