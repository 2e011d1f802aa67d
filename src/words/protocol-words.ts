/** Words of the protocol pages. */
import { unreachable } from '../base/assert.ts';
import type { Action, Mishap, Protects, Scope, Step, Window } from '../protocol/types.ts';

export const protocolWords = {
  title: 'Protocols',
  lede: 'What is done, for how long, and on whose word.',
  unconfirmed: 'Unconfirmed',
  confirmed: 'Confirmed',
  template: 'Template',
  own: 'Own',
  revision: (revision: number): string => `Revision ${revision}`,
  hash: (short: string): string => `Hash ${short}`,
  counts: (o: { readonly steps: number; readonly windows: number }): string =>
    `${o.steps} steps, ${o.windows} windows`,
  open: 'Open',
  back: 'All protocols',
  none: 'No protocol on this tablet',
  noneTodo: 'Reload the app while the server can be reached.',
  gone: 'This protocol is not on this tablet',
  goneTodo: 'Choose one from the list.',
  unconfirmedWhat: 'Nobody has confirmed the numbers of this protocol.',
  unconfirmedTodo:
    'Compare every number below with the instructions of the products in the cupboard. Until the clinic lead has confirmed them, only rehearsals can be run.',
  confirmedWhat: (o: { readonly by: string; readonly on: string }): string =>
    `Confirmed by ${o.by} on ${o.on}.`,
  picture: 'The sequence',
  pictureLede:
    'From top to bottom. Each vessel is drawn as it should stand when its step ends: notch at the minimum, line at the target, rim at the limit. The brackets are windows: they open at one step and must be closed at another.',
  steps: 'Every number and where it comes from',
  stepsLede: 'Product instructions and local rules win over any number here.',
  windows: 'Windows',
  windowsLede: 'Limits on the time between two moments.',
  waysBack: 'Ways back',
  waysBackLede: 'What the app proposes when something goes wrong, and what no longer counts then.',
  cautions: 'Cautions',
  sources: 'Sources',
  materials: 'Materials',
  cold: 'kept cold',
  voids: (titles: string): string => `To be done again: ${titles}`,
  numbersCaption: (stage: string): string => `Numbers of ${stage}`,
  figureStep: 'Step',
  figureWhat: 'Number',
  figureValue: 'Value',
  figureBasis: 'From',
  windowFromTo: (o: { readonly from: string; readonly to: string }): string =>
    `from ${o.from} to ${o.to}`,
  noNumbers: 'No timed step here',
  pace: 'Expected pace of the hands, for planning only',
  lettered: (o: { readonly letter: string; readonly title: string }): string =>
    `${o.letter}. ${o.title}`,
} as const;

export const SCOPE_WORDS: Readonly<Record<Scope, string>> = {
  case: 'once',
  unit: 'each unit',
  tooth: 'each tooth',
  contact: 'each contact',
  mix: 'each mix',
};

export const BY_WORDS: Readonly<Record<Step['by'], string>> = {
  dentist: 'dentist',
  assistant: 'assistant',
  either: 'either',
};

export const PROTECTS_WORDS: Readonly<Record<Protects, string>> = {
  shield: 'light shield',
  working: 'working time',
  wet: 'clean, wet surface',
  hold: 'hold',
  warm: 'warming up',
  other: 'other',
};

export const MISHAP_WORDS: Readonly<Record<Mishap, string>> = {
  saliva: 'Saliva',
  blood: 'Blood',
  'dried-out': 'Dried out',
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
};

/** What is pressed for an action, in one word. */
export function actionWord(action: Action): string {
  switch (action.kind) {
    case 'confirm':
      return 'done';
    case 'dwell':
      return 'timed';
    case 'coats':
      return 'coats';
    case 'expose':
      return 'light';
    case 'tally':
      return 'counted';
    case 'choose':
      return 'choice';
    default:
      return unreachable(action);
  }
}

export const SEVERITY_WORDS: Readonly<Record<Window['severity'], string>> = {
  note: 'note',
  warning: 'warning',
  serious: 'serious',
};

/** A number that counts for units of one class of material only. */
export const ofMaterial = (o: { readonly label: string; readonly material: string }): string =>
  `${o.label}, ${o.material}`;

/** What a number is for, in a table of numbers. */
export const FIGURE_WORDS = {
  min: 'minimum',
  target: 'target',
  max: 'limit',
  q10: 'shorter by, each 10\u00a0°C',
  coats: 'coats',
  gap: 'between coats',
  surface: 'each surface',
  dose: 'radiant exposure',
  rest: 'rest of a tooth',
  passes: 'passes at most',
  median: 'hands, usual',
  p90: 'hands, slow day',
  apply: 'hands, apply',
  rinse: 'hands, rinse',
} as const;
