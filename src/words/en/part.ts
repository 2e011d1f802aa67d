/** The words that the parts themselves say. Short: most stand where there is little room. */
import type { ClockWordsCode, GaugePhase, ToothState, Urgency } from '../codes.ts';

export const part = {
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
    within: 'within the limits',
    past: 'past the target',
    full: 'full time elapsed',
    over: 'over the limit',
  } satisfies Record<GaugePhase, string>,
  clock: {
    'to-target': 'to target',
    'past-target': 'past target',
    'over-by': 'over',
    'over-by-up-to': 'over at most',
    'over-by-at-least': 'over at least',
    'at-least': 'elapsed at least',
    'left-in-window': 'left in window',
    'to-hold': 'to go',
    'held-for': 'held',
    'to-give': 'of light left',
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
  toLimit: (figure: string): string => `${figure} to the limit`,
  atLimit: 'limit passed',
  perhapsOver: 'limit may have passed',
  clockName: (words: { readonly label: string; readonly figure: string; readonly words: string }) =>
    `${words.label}: ${words.figure} ${words.words}`,
  wholeDate: 'Enter the whole date or time',
  recording: 'recording…',
  undo: 'Undo',
  undoNothing: 'Nothing to undo',
  undoName: (words: { readonly what: string; readonly seconds: string }): string =>
    `Undo ${words.what}, ${words.seconds} left`,
  acknowledge: 'Seen',
  acknowledgeName: (words: string): string => `Seen: ${words}`,
  cueAge: (age: string): string => `${age} ago`,
  cueAgeUnknown: 'since when is not known',
  cueAgeNote: (o: { readonly age: string; readonly note: string }): string =>
    `${o.age} ago · ${o.note}`,
  next: 'Next',
  close: 'Close',
  less: (what: string): string => `Less ${what}`,
  more: (what: string): string => `More ${what}`,
  places: 'Places',
  status: 'This tablet',
  saved: 'SAVED',
  notSaved: 'NOT SAVED',
  partSaved: 'SAVED IN PART',
  screenHeld: 'SCREEN STAYS ON',
  screenMaySleep: 'SCREEN MAY SLEEP',
  soundOn: 'SOUND ON',
  soundOff: 'SOUND OFF',
  rehearsal: (speed: number): string => `REHEARSAL ${speed}×`,
  clocks: 'Running clocks',
  noClocks: 'No clock is running',
  cues: 'Alerts',
  upperArch: 'Upper teeth',
  lowerArch: 'Lower teeth',
  patientRight: 'patient’s right',
  patientLeft: 'patient’s left',
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
  pickTooth: (o: {
    readonly label: string;
    readonly name: string | undefined;
    readonly isPontic: boolean;
  }): string => {
    const tooth = o.name === undefined ? `Tooth ${o.label}` : `Tooth ${o.label}, ${o.name}`;
    return o.isPontic ? `${tooth}, pontic` : tooth;
  },
  pickHelp: 'Arrow keys move, Space chooses',
  notLoaded: 'A part of this page is missing.',
  notLoadedAdvice: 'It could not be loaded. Load the page again: what was saved is kept.',
  loadAgain: 'Load again',
};
