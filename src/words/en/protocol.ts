/** Words of the protocol pages, and of what stands in a protocol. */
import type { Mishap, Protects, Scope, Step, Window } from '../../protocol/types.ts';
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

export const protocol = {
  title: 'Protocols',
  lede: 'What is done, for how long, and on whose word.',
  unconfirmed: 'Unconfirmed',
  confirmed: 'Confirmed',
  origins: { template: 'Template', own: 'Own' },
  revision: (revision: number): string => `Revision ${revision}`,
  hash: (short: string): string => `Hash ${short}`,
  counts: (o: { readonly steps: number; readonly windows: number }): string => {
    const windows = plural(o.windows, { one: '1 window', other: `${o.windows} windows` });
    return plural(o.steps, { one: `1 step, ${windows}`, other: `${o.steps} steps, ${windows}` });
  },
  back: 'All protocols',
  none: 'No protocol on this tablet',
  noneTodo: 'Reload the app while the server can be reached.',
  gone: 'This protocol is not on this tablet',
  goneTodo: 'Choose one from the list.',
  unconfirmedWhat: 'Nobody has confirmed the numbers of this protocol.',
  unconfirmedTodo:
    'Compare every number below with the instructions of the products in the cupboard. Until the clinic lead has confirmed them, it can only be rehearsed.',
  byTwo: (o: { readonly by: string; readonly second: string }): string => `${o.by} and ${o.second}`,
  confirmedWhat: (o: { readonly by: string; readonly on: string }): string =>
    `Confirmed by ${o.by} on ${o.on}.`,
  untranslated: (language: string): string =>
    `This protocol is not translated. It is shown in its own language, ${language}.`,
  partlyTranslated: (o: { readonly count: number; readonly language: string }): string =>
    plural(o.count, {
      one: `1 text of this protocol is not translated. It is shown in its own language, ${o.language}.`,
      other: `${o.count} texts of this protocol are not translated. They are shown in its own language, ${o.language}.`,
    }),
  picture: 'The sequence',
  pictureLede:
    'From top to bottom. Each vessel is drawn as it should be when its step ends: notch at the minimum, line at the target, rim at the limit. The brackets are windows: they open at one step and must close by another.',
  steps: 'Every number and where it comes from',
  stepsLede: 'Product instructions and local rules win over any number here.',
  windows: 'Windows',
  windowsLede: 'Limits on the time between two moments.',
  waysBack: 'Ways back',
  waysBackLede: 'What the app proposes when something goes wrong, and what has to be done again.',
  cautions: 'Cautions',
  sources: 'Sources',
  doi: (doi: string): string => `DOI ${doi}`,
  materials: 'Materials',
  cold: 'Kept cold',
  again: (titles: readonly string[]): string => `To be done again: ${list(titles)}`,
  numbersCaption: (stage: string): string => `Numbers of ${stage}`,
  paceCaption: (stage: string): string => `Expected pace of the hands: ${stage}`,
  figureStep: 'Step',
  figureWhat: 'Number',
  figureValue: 'Value',
  figureBasis: 'From',
  windowFromTo: (o: { readonly from: string; readonly to: string }): string =>
    `from ${o.from} to ${o.to}`,
  windowNote: (o: {
    readonly protects: string;
    readonly from: string;
    readonly to: string;
  }): string => `${o.protects}: from ${o.from} to ${o.to}`,
  noNumbers: 'No timed step here',
  pace: 'Expected pace of the hands, for planning only',
  lettered: (o: { readonly letter: string; readonly title: string }): string =>
    `${o.letter}. ${o.title}`,
  who: (o: { readonly by: string; readonly per: string }): string => `${o.by}, ${o.per}`,
  whoAsks: (o: { readonly by: string; readonly per: string; readonly asks: string }): string =>
    `${o.by}, ${o.per}, ${o.asks}`,
  mishapOf: (o: { readonly mishap: string; readonly per: string }): string =>
    `${o.mishap}, ${o.per}`,
  windowAsks: (o: { readonly asks: string; readonly title: string }): string =>
    `${o.asks}: ${o.title}`,
  windowEndsAsks: (o: {
    readonly from: string;
    readonly to: string;
    readonly asks: string;
  }): string => `from ${o.from} to ${o.to}, ${o.asks}`,
  asks: {
    target: (time: string): string => `target ${time}`,
    /** A target, and other ones for some materials: "target 20 s, leucite 60 s". */
    targets: (o: {
      readonly time: string;
      readonly others: readonly { readonly material: string; readonly time: string }[];
    }): string =>
      [`target ${o.time}`, ...o.others.map((other) => `${other.material} ${other.time}`)].join(
        ', ',
      ),
    coats: (count: number): string => plural(count, { one: '1 coat', other: `${count} coats` }),
    surfaces: (surfaces: readonly string[]): string => surfaces.join(', '),
    light: (o: { readonly time: string; readonly surfaces: readonly string[] }): string =>
      `${o.time}: ${o.surfaces.join(', ')}`,
    tally: (o: { readonly count: number; readonly label: string }): string =>
      `at most ${o.count} ${o.label}`,
    options: (labels: readonly string[]): string => labels.join(' / '),
    atLeast: (time: string): string => `at least ${time}`,
    atMost: (time: string): string => `at most ${time}`,
    between: (o: { readonly min: string; readonly max: string }): string => `${o.min} to ${o.max}`,
  },
  scopes: {
    case: 'once',
    unit: 'each unit',
    tooth: 'each tooth',
    contact: 'each contact',
    mix: 'each portion',
  } satisfies Record<Scope, string>,
  roles: {
    dentist: 'dentist',
    assistant: 'assistant',
    either: 'either',
  } satisfies Record<Step['by'], string>,
  protects: {
    shield: 'light shield',
    working: 'working time',
    wet: 'clean, wet surface',
    hold: 'hold',
    warm: 'warming up',
    other: 'other',
  } satisfies Record<Protects, string>,
  mishaps: {
    saliva: 'Saliva',
    blood: 'Blood',
    'dried-out': 'Dried out',
    'haemostatic-on-tooth': 'Astringent on a tooth',
    'over-time': 'Over time',
    'short-time': 'Too short',
    'unit-dropped': 'Unit dropped',
    'unit-will-not-seat': 'Unit will not seat',
    chipped: 'Chipped',
    'wrong-material': 'Wrong material',
    'light-failed': 'Light failed',
    'light-weak': 'Light weak',
    'gelled-early': 'Gelled early',
    'left-in-light': 'Left in light',
    'patient-must-rinse': 'Patient must rinse',
    stopped: 'Stopped',
  } satisfies Record<Mishap, string>,
  severities: {
    note: 'note',
    warning: 'warning',
    serious: 'serious',
  } satisfies Record<Window['severity'], string>,
  /** What a number is for. */
  figures: {
    min: 'minimum',
    target: 'target',
    max: 'limit',
    q10: 'shorter by, each 10\u00a0°C',
    coats: 'coats',
    gap: 'between coats',
    surface: 'each surface',
    dose: 'radiant exposure',
    rest: 'rest of a tooth',
    passes: 'limit of passes',
    median: 'hands, usual',
    p90: 'hands, slow day',
    perSubject: 'hands, for each more',
    apply: 'hands, apply',
    rinse: 'hands, rinse',
    startShortest: 'start of each, shortest',
    startLongest: 'start of each, longest',
    endShortest: 'end of each, shortest',
    endLongest: 'end of each, longest',
    change: 'change-over',
  },
  /** A number that counts for units of one class of material only. */
  /** A number that counts only under the condition of that number, told beside it. */
  ofVariant: (o: { readonly label: string; readonly number: number }): string =>
    `${o.label}, case ${o.number}`,
  ofMaterial: (o: { readonly label: string; readonly material: string }): string =>
    `${o.label}, ${o.material}`,
};
