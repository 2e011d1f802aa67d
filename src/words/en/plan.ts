/** Words of the plan: the picture, the other ways, and how each number came about. */
import type { HeatLevel } from '../../calc/heat.ts';
import type { DecidedBy, FormulaCode } from '../../plan/explanation.ts';
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

/** The step or the window a number is about, and where in the case. */
interface About {
  readonly of: string;
  /** A unit, a surface, a material: as far as the number has one. */
  readonly where: readonly string[];
}

const about = (what: string, { of, where }: About): string =>
  [what, of, ...where].filter((part) => part !== '').join(', ');

const sum = (sizes: readonly number[]): string => sizes.join(' + ');

export const plan = {
  title: 'Plan',
  working: 'Working out the plan',
  failed: 'The plan could not be worked out.',
  cancel: 'Cancel',
  again: 'Work it out again',
  cancelled: 'The plan was cancelled.',
  noCase: 'This case is not prepared on this tablet.',
  noProtocol: 'The protocol of this case is not on this tablet.',
  chairTime: 'Typical chair time',
  chairP90: 'One time in ten longer than',
  risk: 'Any window or dwell outside its limits',
  riskNone: (runs: number): string => `In fewer than 1 of ${runs} simulated runs`,
  riskShare: (share: string): string => `In ${share} of simulated runs`,
  lanes: 'Who does what, and the light',
  windows: 'Windows and dwells, the tightest of each',
  alternatives: 'Other ways to do it',
  alternativesLeft: (left: number): string => `Comparing, ${left} to go`,
  use: 'Use this',
  nameOfUse: (way: string): string => `Use this: ${way}`,
  planned: 'Planned',
  nameOfPlanned: (way: string): string => `Planned: ${way}`,
  computedAgain: 'Back to what is computed',
  noOther: 'There is no other way to compare.',
  notKept: 'This could not be used.',
  alternativesDone: 'All are simulated with the same seed, so differences come from the plan.',
  numbers: 'How the numbers came about',
  unitNumbers: (unit: string): string => `Light on ${unit}: times, spots, dose`,
  pictureHint: 'Touch a bar, or go from bar to bar, to read what it is.',
  earlierBar: 'Earlier',
  laterBar: 'Later',
  nameOfEarlierBar: 'The bar before this one',
  nameOfLaterBar: 'The bar after this one',
  /** One line for one bar of the picture. */
  barLine: (o: {
    readonly work: string;
    /** Who does it; empty where something acts by itself. */
    readonly who: string;
    readonly from: string;
    readonly until: string;
    readonly why: string;
  }): string => {
    const who = o.who === '' ? 'acts by itself' : o.who;
    return `${o.work}: ${who}, from ${o.from} to ${o.until} after the opening; ${o.why}.`;
  },
  because: {
    opening: 'nothing holds it',
    after: (work: string): string => `it follows ${work}`,
    acts: (o: { readonly span: string; readonly work: string }): string =>
      `${o.span} have to pass from ${o.work}`,
    busy: (work: string): string => `the hands or the light are busy with ${work} until then`,
    pause: 'it waits on purpose, so that a limit after it is kept',
  },
  carefulTitle: 'How rounds and portions were chosen',
  carefulLede: (share: string): string =>
    `The fewest that break their own limits in fewer than ${share} of simulated runs.`,
  grouped: (o: { readonly way: string; readonly chance: string }): string =>
    `${o.way}: ${o.chance}`,
  carefulInstead: (o: { readonly told: string; readonly fewest: string }): string =>
    `${o.told}; the fewest would be ${o.fewest}`,
  carefulLeast: (told: string): string =>
    `${told}; no grouping is under that share, this is the least risky`,
  carefulPrice: (length: string): string => `Against the fewest, this ${length}.`,
  visitsTitle: 'For comparison, published visits for one restoration',
  visit: (o: { readonly what: string; readonly mean: number; readonly sd: number }): string =>
    `${o.what} ${o.mean} min (SD ${o.sd})`,
  visits: {
    'adhesive-ceramic-assisted': 'adhesive ceramic restoration with much assistance',
    'adhesive-ceramic-alone': 'with little assistance',
    'ceramic-inlay': 'ceramic inlay, net time',
  },
  noVisits: 'For several at once there is no published figure.',
  heldBy: 'What takes the time, in order',
  held: (o: { readonly work: string; readonly span: string }): string => `${o.work}, ${o.span}`,
  caution:
    'Expected times and chances, computed from the paces in the protocol or, where there are records, from people’s own. Product instructions and local rules govern.',
  toSpare: (span: string): string => `${span} to spare`,
  tooLong: (span: string): string => `${span} too long`,
  chanceNone: (runs: number): string => `outside in fewer than 1 of ${runs} simulated runs`,
  chanceShare: (share: string): string => `outside in ${share} of simulated runs`,
  cannotBeKept: 'Its limit cannot be met in any order of the work.',
  govern: 'Product instructions win over this figure.',
  drawn: 'How chair time and chances were simulated',
  compared: 'How these were compared',
  heat: 'Heat near the pulp',
  heatSource:
    'Marker 5.5 °C, conservative and disputed: Zach & Cohen 1965; Baldissara et al. 1997. Rises were measured elsewhere, through other layers; open the unit below for its figures.',
  /** What a level of heat means for some units, named in one text. */
  heatLevels: {
    'within-uncertainty': (units: string): string =>
      `${units}: the higher rises measured in the laboratory reach the marker of 5.5 °C, those in living teeth do not. A rest, or air, between exposures lowers it.`,
    'above-marker': (units: string): string =>
      `${units}: rises measured in living teeth reach the marker of 5.5 °C. Take other units in between, rest longer, or cool with air.`,
  },
  units: (units: readonly string[]): string => units.join(', '),
  backToToday: 'Back to Today',
  dentist: 'Dentist',
  assistant: 'Assistant',
  light: 'Light',
  bar: (o: { readonly title: string; readonly subject: string }): string =>
    o.subject === '' ? o.title : `${o.title} ${o.subject}`,
  portions: (sizes: readonly number[]): string =>
    plural(sizes.length, {
      one: `One portion for ${sum(sizes)}`,
      other: `${sizes.length} portions for ${sum(sizes)}`,
    }),
  rounds: (o: { readonly title: string; readonly sizes: readonly number[] }): string =>
    plural(o.sizes.length, {
      one: `${o.title}: one round of ${sum(o.sizes)}`,
      other: `${o.title}: ${o.sizes.length} rounds of ${sum(o.sizes)}`,
    }),
  order: (units: readonly string[]): string => `Seated in the order ${units.join(', ')}`,
  asLong: 'takes as long',
  takesLonger: (span: string): string => `takes ${span} longer`,
  takesShorter: (span: string): string => `takes ${span} less`,
  longer: (span: string): string => `${span} longer`,
  shorter: (span: string): string => `${span} shorter`,
  way: (o: { readonly way: string; readonly chance: string; readonly length: string }): string =>
    `${o.way}: ${o.chance}, ${o.length}`,
  wayNotKept: (o: {
    readonly way: string;
    readonly chance: string;
    readonly length: string;
  }): string => `${o.way}: ${o.chance}, ${o.length}; over a limit even at the expected pace`,
  formulas: {
    'working-time-in-this-room': 'working time × Q10 ^ −((room − reference) / 10), never longer',
    'lamp-light-allowance': 'allowed light (klx·s) / room light (klx)',
    'shortest-working-time': 'the shortest of product, room and lamp',
    'units-per-mix': '(working time − reserve − lead) / time per unit',
    'subjects-per-round': 'dwell of tooth i = T + i × (rinse − apply), all inside the limits',
    'fewest-under-the-risk': 'the fewest groups that break their limits in fewer runs than allowed',
    'least-risky-groups': 'no grouping breaks its limits in so few runs; this one in the fewest',
    'transmittance-at-this-thickness': 'measured transmittance, scaled by thickness',
    'time-for-the-dose': 'dose / (irradiance × transmittance)',
    'longest-exposure-time':
      'the longer of the product’s time and the time for the dose, up to the next time of the lamp, within the ceilings of light',
    'tip-positions': 'discs of the tip’s diameter over nine tenths of the crown’s outline',
    'median-of-own-records': 'the median of the times in the people’s own records',
    'light-on-one-tooth':
      'sum of irradiance × time on one tooth; the rise is a measured slope × light, falling between exposures',
    'quantile-of-draws': 'the whole plan simulated many times; this share of the runs is shorter',
    'share-of-draws': 'runs in which it is outside / all simulated runs',
    'room-at-the-close': 'limit − time planned between its two moments',
  } satisfies Record<FormulaCode, string>,
  decided: {
    product: 'Decided by the product’s own time.',
    dose: 'Decided by the dose through the ceramic.',
    'room-temperature': 'Decided by the temperature of the room.',
    'lamp-light': 'Decided by the light in the room.',
    hands: 'Decided by the pace of the hands.',
    'tip-size': 'Decided by the size of the tip.',
    people: 'Decided by the people.',
    table: 'Decided by the published shares of its class, since the case names none.',
    measured: 'Decided by what was measured for this unit.',
    'published-row': 'Decided by the published row that was chosen for this unit.',
    'own-records': 'Decided by the people’s own records.',
    draws: 'Decided by simulated runs with a fixed seed.',
    arithmetic: 'Plain arithmetic.',
  } satisfies Record<DecidedBy, string>,
  longestExposure: {
    onlyProduct: 'The product’s own time; none is computed.',
    computed: 'The computed time is longer.',
    product: 'The product’s time is longer.',
  },
  about: {
    exposure: (o: About): string => about('Exposure', o),
    dose: (o: About): string => about('Time for the dose', o),
    positions: (o: About): string => about('Spots of the tip', o),
    rounds: (o: About): string => about('Rounds', o),
    mixes: 'Portions',
    window: (o: About): string => about('Window', o),
    temperature: (o: About): string => about('Window at this room temperature', o),
    lamp: (o: About): string => about('Window in this light', o),
    heat: (o: About): string => about('Light on a tooth', o),
    pace: (o: About): string => about('Pace', o),
    'change-over': (o: About): string => about('Change-over', o),
    room: (o: About): string => about('Time to spare', o),
    chance: (o: About): string => about('Outside its limit', o),
    transmittance: (o: About): string => about('Share of light that passes', o),
  },
  /** What a number reads as, by its unit; some numbers are several, one for each group. */
  values: {
    none: (runs: number): string => `in fewer than 1 of ${runs} simulated runs`,
    seconds: (seconds: string): string => `${seconds} s`,
    units: (sizes: string): string => `${sizes} units`,
    positions: (count: number): string => plural(count, { one: '1 spot', other: `${count} spots` }),
    dose: (dose: string): string => `${dose} J/cm²`,
  },
  /** What goes into the formulas, by the name it has there. */
  inputs: {
    actualC: 'Room, °C',
    applySeconds: 'To apply on one, s',
    startShortestSeconds: 'Shortest for one at the start, s',
    startLongestSeconds: 'Longest for one at the start, s',
    endShortestSeconds: 'Shortest for one at the end, s',
    endLongestSeconds: 'Longest for one at the end, s',
    boundSeconds: 'Limit, s',
    chance: 'Share of runs that break a limit',
    count: 'How many',
    doseJPerCm2: 'Dose, J/cm²',
    doseSeconds: 'Time for the dose, s',
    pressSeconds: 'Presses, s',
    draws: 'Simulated runs',
    exposures: 'Exposures',
    fewest: 'Fewest groups at the usual pace',
    heightMm: 'Height, mm',
    irradianceMwPerCm2: 'Irradiance, mW/cm²',
    knownThicknessMm: 'Thickness it is known for, mm',
    knownTransmittance: 'Share that passes there',
    lampSeconds: 'In the light of the room, s',
    leadSeconds: 'Lead, s',
    level: 'Against the marker',
    lightSeconds: 'Light, s',
    lux: 'Light in the room, lx',
    markerC: 'Marker, °C',
    material: 'Material',
    maxSeconds: 'Limit, s',
    minSeconds: 'Minimum, s',
    p90Seconds: 'One in ten is longer than, s',
    passLux: 'Light of the test, lx',
    passSeconds: 'Time of the test, s',
    perUnitSeconds: 'Time per unit, s',
    productSeconds: 'The product’s own time, s',
    protocolSeconds: 'Pace in the protocol, s',
    q10: 'Q10',
    quantile: 'Share of runs that are shorter',
    records: 'Own records',
    referenceC: 'Reference, °C',
    referenceSeconds: 'Working time at the reference, s',
    reserveSeconds: 'Reserve, s',
    rinseSeconds: 'To rinse one, s',
    riskMax: 'Share that is allowed',
    riseInVitroC: 'Rise in the laboratory, °C',
    riseInVivoC: 'Rise in living teeth, °C',
    roomSeconds: 'At the temperature of the room, s',
    seed: 'Seed',
    sharedShare: 'Share of the spread that a day accounts for',
    surfaceFactor: 'Factor of the surface',
    thicknessMm: 'Thickness, mm',
    tipDiameterMm: 'Diameter of the tip, mm',
    tooth: 'Tooth',
    transmittance: 'Share of light that passes',
    units: 'Units',
    usedSeconds: 'Time planned, s',
    widthMm: 'Width, mm',
    window: 'Window',
    workingSeconds: 'Working time, s',
  },
  levels: {
    'below-marker': 'below',
    'within-uncertainty': 'not certain',
    'above-marker': 'above',
  } satisfies Record<HeatLevel, string>,
  onPlan: 'On plan',
  behind: (span: string): string => `${span} behind`,
  ahead: (span: string): string => `${span} ahead`,
  paceAndPortion: (o: { readonly pace: string; readonly portion: string }): string =>
    `${o.pace}; ${o.portion}`,
  putOff: (o: { readonly what: string; readonly when: string; readonly runs: string }): string =>
    `The plan begins “${o.what}” ${o.when}: “${o.runs}” is still running.`,
  waitsFor: (o: { readonly what: string; readonly runs: string }): string =>
    `“${o.what}” waits for “${o.runs}”.`,
  stillFits: (portion: string): string => `${portion} still fits`,
  noLongerFits: (portion: string): string => `${portion} no longer fits`,
  portionOver: (portion: string): string => `${portion} is over its working time`,
};
