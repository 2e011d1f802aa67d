/** Words of the chair that are not about a step. At most one line each. */
import type { Notation } from '../../protocol/case-types.ts';
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

export const chair = {
  place: 'Chair',
  now: 'Now',
  instruction: 'What to do',
  cautions: 'Take care',
  clocks: 'Clocks',
  teeth: 'Teeth of this case',
  noCase: 'No case is running.',
  noCaseAdvice: 'Open one from Today.',
  unfinished: 'The clocks are still running.',
  unfinishedRehearsal: 'A rehearsal is not finished.',
  toToday: 'Today',
  stepOf: (o: { readonly stage: string; readonly at: number; readonly of: number }): string =>
    `${o.stage}, step ${o.at} of ${o.of}`,
  stepsDone: (of: number): string => plural(of, { one: '1 step', other: `All ${of} steps` }),
  tipPlace: (o: { readonly at: number; readonly of: number }): string =>
    `Tip: spot ${o.at} of ${o.of}`,
  sayWhy: 'Give a reason',
  allDone: 'All steps done',
  /** Where some were skipped. */
  noneLeft: 'No step is left',
  closed: 'Case closed',
  closeCase: 'Close the case',
  signedBy: (who: string): string => `signed by ${who}`,
  closeAs: (who: string): string => `Close, signed by ${who}`,
  presses: (who: string): string => `${who} presses`,
  handTo: (o: { readonly now: string; readonly next: string }): string =>
    `${o.now} presses; hand over to ${o.next}`,
  toRecord: 'Open the record',
  nothing: 'Nothing to press now',
  oneCopy: 'ONE COPY',
  viewOnly: 'VIEW ONLY',
  /** Two tablets pressed on from one place. */
  twoEnds: 'TWO ENDS',
  fault: 'Something is wrong with this tablet. Use your own timer.',
  unsaved: 'NOT SAVED: the tablet refused the last presses.',
  unsavedAdvice:
    'They are on this page alone. Leave it open: each press tries again. Save a file now.',
  unsavedFile: 'Save a file',
  gapAdvice: 'Did all that time really pass?',
  gapTrustClock: 'Yes, all of it',
  gapOnlyMoved: 'No, none of it',
  gapUnknownAdvice: 'How long was it? Until you say, every limit over it counts as passed.',
  gapNone: 'No time passed',
  gapLength: 'Time away',
  gapSay: 'So long',
  fiveAgo: '5 s ago',
  wentWrong: 'Went wrong',
  otherSteps: 'Other steps',
  note: 'Note',
  speed: 'Speed',
  more: 'More',
  leave: 'Leave the chair',
  leaveNote: 'The case runs on, its clocks and alarms too. A line on every page leads back to it.',
  duty: { dentist: 'Dentist', assistant: 'Assistant' },
  /** What stands under a tooth of the arch. */
  /** Short: it stands beside the teeth that it names. */
  numberings: {
    fdi: 'FDI',
    universal: 'Universal',
    palmer: 'Palmer',
  } satisfies Record<Notation, string>,
  tooth: {
    done: 'done',
    skipped: 'skipped',
    waiting: 'waiting',
    /** Tones have led over it; it counts as exposed once somebody has confirmed it. */
    paced: 'paced, not confirmed',
    over: (span: string): string => `${span} over`,
    perhapsOver: 'over?',
    past: (span: string): string => `+${span}`,
    due: 'now',
    exposed: (o: { readonly given: number; readonly of: number }): string =>
      `${o.given} of ${o.of} exposed`,
  },
};
