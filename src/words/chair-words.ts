/** Words of the chair screen that are not about a step. At most one line each. */

export const chairWords = {
  place: 'Chair',
  now: 'Now',
  instruction: 'What to do',
  clocks: 'Clocks',
  teeth: 'Teeth of this case',
  noCase: 'No case is running.',
  noCaseAdvice: 'Begin one, or go on with one, from Today.',
  unfinished: 'The clocks run on.',
  toToday: 'Today',
  stepOf: (o: { readonly stage: string; readonly at: number; readonly of: number }) =>
    `${o.stage}, step ${o.at} of ${o.of}`,
  stepsDone: (of: number) => `All ${of} steps`,
  tipPlace: (o: { readonly at: number; readonly of: number }) =>
    `Place ${o.at} of ${o.of} of the tip`,
  sayWhy: 'Say why',
  allDone: 'All steps done',
  closed: 'Case closed',
  closeCase: 'Close the case',
  toRecord: 'Open the record',
  nothing: 'Nothing can be pressed now',
  oneCopy: 'ONE COPY',
  reading: 'READING ALONG',
  fault: 'Something is wrong with this tablet. Use your own timer.',
  unsaved: 'NOT SAVED: the tablet refused the last presses.',
  unsavedAdvice:
    'They stand on this page alone. Leave it open; each press tries again. Save a file now.',
  unsavedFile: 'Save a file',
  gapAdvice: 'Was it really as long as the tablet’s clock says?',
  gapTrustClock: 'Yes, as long',
  gapOnlyMoved: 'No, no time passed',
  fiveAgo: '5 s ago',
  wentWrong: 'Went wrong',
  otherSteps: 'Other steps',
  note: 'Note',
  speed: 'Speed',
  more: 'More',
  leave: 'Leave the chair',
  leaveNote: 'The clocks run on. Go on from Today.',
  duty: { dentist: 'Dentist', assistant: 'Assistant' },
} as const;

export const sheetWords = {
  more: 'More',
  wentWrong: 'What went wrong?',
  noWayBack:
    'The protocol names no way back for this stage. Skip a step with a reason, or note it.',
  onWhich: 'On which?',
  all: 'All of them',
  take: 'Go back to this',
  voids: (count: number) =>
    count === 1 ? '1 step no longer counts' : `${count} steps no longer count`,
  otherSteps: 'Other steps that can be pressed now',
  skip: 'Skip with a reason',
  skipWhy: 'Why is it skipped?',
  skipDo: 'Skip it',
  noteTitle: 'Note for the record',
  noteLabel: 'What should the record say?',
  noteDo: 'Keep the note',
  speedTitle: 'Speed of the rehearsal',
  speedLabel: 'Time runs',
} as const;

export const wipeWords = {
  title: 'Wipe the screen now. Touches and keys do nothing; the clocks run on.',
  hold: 'Hold to go on',
  open: 'Wipe the screen',
} as const;

export const BEAD_WORDS = { soft: 'Soft', stringy: 'Stringy', firm: 'Firm' } as const;

export const SHADE_WORDS = {
  accepted: 'Accepted',
  'too-light': 'Too light',
  'too-dark': 'Too dark',
  other: 'Something else',
} as const;

export const extraWords = {
  numbers: 'The numbers behind it, as worked out when the case was opened',
  bead: 'Sample bead',
  beadCaution:
    'The bead lies at room temperature. Cement in the mouth is warmer and sets sooner: the bead flatters.',
  shade: 'Shade trials',
  shadeFor: 'For',
  wholeSet: 'The whole set',
  paste: 'Try-in paste',
  modifier: 'Modifier or opaquer',
  share: 'Share of the modifier, %',
  shareProblem: 'A number from 0 to 100',
  judgedBy: 'Judged by',
  patient: 'Patient',
  result: 'Result',
  trialNote: 'Photo or remark',
  keepTrial: 'Keep this trial',
  noTrial: 'No trial yet.',
  trial: (o: {
    readonly subject: string;
    readonly recipe: string;
    readonly note: string;
    readonly result: string;
    readonly judge: string;
  }) =>
    o.note === ''
      ? `${o.subject}: ${o.recipe}. ${o.result}, ${o.judge}.`
      : `${o.subject}: ${o.recipe}. ${o.result}, ${o.judge}. ${o.note}`,
  people: 'People',
  roles: { dentist: 'Dentist', assistant: 'Assistant' },
  presses: 'Who presses',
  done: 'Done',
  order: 'Seating order',
  orderReason: 'order changed in the chair',
  earlier: 'Earlier',
  ownMix: 'Own portion',
  ownMixName: (unit: string) => `Give ${unit} a portion of its own`,
  earlierName: (unit: string) => `Seat ${unit} one place earlier`,
  farView: 'Far view in a window',
  aside: 'Set a unit aside',
  asideWhy: 'Why is it set aside?',
  asideDo: (unit: string): string => `Set ${unit} aside`,
  reason: 'Before its time: why?',
  reasonLabel: 'The record keeps the reason',
  reasonDo: 'Record it with this reason',
  why: 'Why this step',
  noWhy: 'The protocol says no more about this step.',
  govern: 'Product instructions and licensed judgement govern.',
} as const;

export const evidenceWords = {
  range: (o: { readonly min: number; readonly max: number }): string =>
    `A number from ${o.min} to ${o.max}`,
  typed: 'The bar records this with the step.',
  ofBaseline: (percent: number): string =>
    percent <= 80
      ? `${percent} % of its own baseline, a fifth or more below: service is due (practice)`
      : `${percent} % of its own baseline`,
  kept: (o: { readonly value: string; readonly unit?: string | undefined }): string =>
    o.unit === undefined ? o.value : `${o.value} ${o.unit}`,
  keptOutside: (o: {
    readonly value: string;
    readonly unit: string;
    readonly min: number;
    readonly max: number;
  }): string => `${o.value} ${o.unit} (expected ${o.min} to ${o.max})`,
} as const;
