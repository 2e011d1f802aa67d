/**
 * The words that the parts themselves say. Whole phrases, never glued from pieces by a part, so
 * that another language is another file of the same shape.
 */
import type { GaugePhase } from './codes.ts';

/** Where one tooth stands. */
export type ToothState =
  | 'waiting'
  | 'active'
  | 'running'
  | 'done'
  | 'over'
  | 'short'
  | 'skipped'
  | 'voided';

/** Which words the chair clock puts under its figure. */
export type ClockWordsCode =
  | 'to-target'
  | 'past-target'
  | 'over-by'
  | 'over-by-up-to'
  | 'left-in-window'
  | 'to-hold'
  | 'held-for'
  | 'to-give'
  | 'given'
  | 'elapsed';

export type Urgency = 'ready' | 'early' | 'due' | 'over';

export const partWords = {
  toothState: {
    waiting: 'waiting',
    active: 'now',
    running: 'running',
    done: 'done',
    over: 'over',
    short: 'short',
    skipped: 'skipped',
    voided: 'void',
  } satisfies Record<ToothState, string>,
  gaugePhase: {
    waiting: 'not started',
    short: 'under the minimum',
    within: 'within bounds',
    past: 'past the target',
    full: 'full time elapsed',
    over: 'over the limit',
  } satisfies Record<GaugePhase, string>,
  clock: {
    'to-target': 'to target',
    'past-target': 'past target',
    'over-by': 'over',
    'over-by-up-to': 'over at most',
    'left-in-window': 'left in window',
    'to-hold': 'still to hold',
    'held-for': 'held for',
    'to-give': 'to give',
    given: 'given',
    elapsed: 'elapsed',
  } satisfies Record<ClockWordsCode, string>,
  urgency: {
    ready: 'ready',
    early: 'early',
    due: 'due now',
    over: 'over',
  } satisfies Record<Urgency, string>,
  gaugeName: (words: { readonly elapsed: string; readonly phase: string }): string =>
    `${words.elapsed} elapsed, ${words.phase}`,
  gaugeNameOf: (words: {
    readonly label: string;
    readonly elapsed: string;
    readonly phase: string;
  }): string => `${words.label}: ${words.elapsed} elapsed, ${words.phase}`,
  toMinimum: (figure: string): string => `${figure} to the minimum`,
  toLimit: (figure: string): string => `${figure} left to the limit`,
  atLimit: 'limit passed',
  clockName: (words: { readonly label: string; readonly figure: string; readonly words: string }) =>
    `${words.label}: ${words.figure} ${words.words}`,
  wholeDate: 'Expected a whole date or time',
  recording: 'recording…',
  undo: 'Undo',
  undoNothing: 'Nothing to undo',
  undoName: (words: { readonly what: string; readonly seconds: string }): string =>
    `Undo ${words.what}, ${words.seconds} left`,
  acknowledge: 'Seen',
  acknowledgeName: (words: string): string => `Seen: ${words}`,
  cueAge: (age: string): string => `${age} ago`,
  next: 'Next',
  close: 'Close',
  less: (what: string): string => `Less ${what}`,
  more: (what: string): string => `More ${what}`,
  places: 'Places',
  status: 'State of this tablet',
  saved: 'SAVED',
  notSaved: 'NOT SAVED',
  screenHeld: 'SCREEN HELD',
  screenMaySleep: 'SCREEN MAY SLEEP',
  soundOn: 'SOUND ON',
  soundOff: 'SOUND OFF',
  rehearsal: (speed: number): string => `REHEARSAL ${speed}×`,
  clocks: 'Running clocks',
  noClocks: 'No clock is running',
  cues: 'Alerts',
  upperArch: 'Upper teeth',
  lowerArch: 'Lower teeth',
  patientRight: "patient's right",
  patientLeft: "patient's left",
  toothName: (words: { readonly label: string; readonly word: string }): string =>
    `Tooth ${words.label}, ${words.word}`,
  toothNameWithSurfaces: (words: {
    readonly label: string;
    readonly word: string;
    readonly given: number;
    readonly surfaces: number;
  }): string =>
    `Tooth ${words.label}, ${words.word}, ${words.given} of ${words.surfaces} surfaces exposed`,
  pontic: 'pontic',
  pickTooth: (label: string): string => `Tooth ${label}`,
  pickHelp: 'Arrow keys move, Space chooses',
} as const;
