/** Words of the sheets that open over the chair, and of what is typed or read at a step. */
import type { BeadFound } from '../../engine/commands.ts';
import type { ShadeTrial } from '../../engine/material-types.ts';
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

export const sign = {
  title: 'Kept and missed',
  nothing: 'No limit was missed; nothing was voided or skipped.',
  add: 'Add a word',
  addName: (line: string): string => `Add a word: ${line}`,
  label: 'What should the record say of it?',
  keep: 'Keep it',
  said: (words: string): string => `Said: ${words}`,
  voided: (o: {
    readonly subject: string;
    readonly title: string;
    readonly reason: string;
  }): string => {
    const what = `${o.subject === '' ? '' : `${o.subject}: `}${o.title}`;
    // A way back that was taken with one tap has its title for a reason.
    return o.reason === o.title ? what : `${what}, ${o.reason}`;
  },
  skipped: (o: { readonly what: readonly string[]; readonly reason: string }): string =>
    `Skipped, ${o.reason}: ${o.what.join('; ')}`,
  step: (o: { readonly title: string; readonly subject: string }): string =>
    o.subject === '' ? o.title : `${o.title} ${o.subject}`,
};

export const sheet = {
  more: 'More',
  wentWrong: 'What went wrong?',
  otherMishap: 'Something else',
  noWayBack: 'The protocol has no way back from here. Skip a step and say why, or add a note.',
  onWhich: 'Which one?',
  all: 'All of them',
  take: 'Go back to this',
  voids: (count: number): string =>
    plural(count, {
      one: '1 step no longer counts',
      other: `${count} steps no longer count`,
    }),
  wasDone: (done: readonly string[]): string =>
    `Nobody has pressed this yet. Was it done already? ${done.join('; ')}.`,
  wasDoneYes: 'Yes, it was done',
  wasDoneNo: 'No, not yet',
  notDoneNothing: 'If it was not done, there is nothing to go back to.',
  otherSteps: 'Other steps you can press now',
  stepIn: (o: { readonly step: string; readonly when: string }): string => `${o.step}, ${o.when}`,
  skip: 'Skip with a reason',
  skipName: (title: string): string => `Skip with a reason: ${title}`,
  skipWhy: 'Why skip it?',
  skipDo: 'Skip it',
  noteTitle: 'Note for the record',
  noteLabel: 'What should the record say?',
  noteDo: 'Save the note',
  speedTitle: 'Speed of the rehearsal',
  speedLabel: 'Time runs',
  speed: (times: number): string => `${times}\u00d7`,
};

export const wipe = {
  title: 'Wipe the screen now. A short touch or key does nothing. The clocks keep running.',
  hold: 'Hold to continue, or hold a key or the pedal',
  open: 'Wipe the screen',
};

export const stop = {
  title: 'Stop the visit',
  lede: 'Everything unfinished is recorded as left, for one reason. Then the case is signed as stopped early.',
  first: 'The protocol says to do this first:',
  /** "Stopped with units seated, 11, 21:" */
  proposal: (o: { readonly title: string; readonly subject: string }): string =>
    o.subject === '' ? `${o.title}:` : `${o.title}, ${o.subject}:`,
  reason: 'Why the visit stops',
  stop: 'Stop the visit now',
};

export const extra = {
  numbering: 'Tooth numbering',
  numberingLede:
    'The teeth of this case are named so from now on. The record says when it was changed.',
  numbers: 'The numbers behind it, worked out when the case was opened',
  bead: 'Sample bead',
  beadCaution:
    'The bead is at room temperature. The mouth is warmer: cement there stiffens before the bead does.',
  found: { soft: 'Soft', stringy: 'Stringy', firm: 'Firm' } satisfies Record<BeadFound, string>,
  shade: 'Shade trials',
  shadeFor: 'For',
  wholeSet: 'The whole set',
  paste: 'Try-in paste',
  modifier: 'Modifier or opaquer',
  share: 'Share of modifier, %',
  shareProblem: 'A number from 0 to 100',
  judgedBy: 'Judged by',
  patient: 'Patient',
  result: 'Result',
  results: {
    accepted: 'Accepted',
    'too-light': 'Too light',
    'too-dark': 'Too dark',
    other: 'Something else',
  } satisfies Record<ShadeTrial['result'], string>,
  trialNote: 'Photo or remark',
  saveTrial: 'Save this trial',
  noTrial: 'No trials yet.',
  trial: (o: {
    readonly subject: string;
    readonly recipe: string;
    readonly note: string;
    readonly result: string;
    readonly judge: string;
  }): string =>
    o.note === ''
      ? `${o.subject}: ${o.recipe}. ${o.result}, ${o.judge}.`
      : `${o.subject}: ${o.recipe}. ${o.result}, ${o.judge}. ${o.note}`,
  anaesthesia: 'Anaesthesia',
  people: 'People',
  roles: { dentist: 'Dentist', assistant: 'Assistant' },
  presses: 'Who presses',
  done: 'Done',
  order: 'Seating order',
  orderReason: 'order changed at the chair',
  earlier: 'Earlier',
  ownMix: 'Own portion',
  ownMixName: (unit: string): string => `Give ${unit} its own portion`,
  earlierName: (unit: string): string => `Seat ${unit} one place earlier`,
  farView: 'Open the far view',
  aside: 'Set a unit aside',
  asideWhy: 'Why set it aside?',
  asideDo: (unit: string): string => `Set ${unit} aside`,
  reason: 'Early: what is the reason?',
  reasonLabel: 'Reason, for the record',
  reasonDo: 'Record it with this reason',
  why: 'Why this step',
  noWhy: 'The protocol says no more about this step.',
  govern: 'Product instructions and licensed judgement govern.',
};
