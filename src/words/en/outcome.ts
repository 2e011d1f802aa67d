/** Words of the page that tells what became of the units: the curve, the table, what was followed. */
import { listIn, pluralIn } from '../grammar.ts';
import { type AcceptedTold, acceptedRate } from './accepted-rate.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

const lives = (count: number): string => plural(count, { one: '1 life', other: `${count} lives` });
const patients = (count: number): string =>
  plural(count, { one: '1 patient', other: `${count} patients` });
const failures = (count: number): string =>
  plural(count, { one: '1 failure', other: `${count} failures` });
const years = (count: number): string => plural(count, { one: '1 year', other: `${count} years` });

export const outcome = {
  title: 'What became of it',
  lede: 'What recall visits found of the units that were bonded here.',
  reading: 'Reading the recall visits',
  working: 'Working out the figures',
  failed: 'The figures could not be worked out.',
  failedTodo: 'Close this page and open it again. What was noted is kept.',
  notRead: 'The recall visits could not be read.',
  unread: (count: number): string =>
    plural(count, {
      one: '1 entry cannot be read by this version; it is not counted.',
      other: `${count} entries cannot be read by this version; they are not counted.`,
    }),
  takingIn: (o: { readonly done: number; readonly of: number }): string =>
    `Older cases are being taken in: ${o.done} of ${o.of}. The figures will change.`,
  notTakenIn: (count: number): string =>
    plural(count, {
      one: '1 closed case cannot be read, so its units are missing here.',
      other: `${count} closed cases cannot be read, so their units are missing here.`,
    }),
  association:
    'Association only. These figures show what was found together in this clinic’s records. They do not show why.',
  parts: 'Parts of this page',
  part: {
    years: 'Over the years',
    groups: 'Groups',
    flags: 'Flags and lots',
    reviews: 'Question and reviews',
    own: 'My own units',
  },
  endPoint: 'End point: what counts as a failure',
  endPoints: {
    retention: 'Retention',
    survival: 'Survival',
    success: 'Success',
  },
  endPointNote: {
    retention: 'A failure is a unit, or one retainer of it, that came loose.',
    survival:
      'A failure is a unit that came loose and was not bonded again, or that was replaced for a fracture or caries.',
    success: 'A failure is any finding beyond “in place”, a stain at the margin included.',
  },
  endPointWhy: 'The same units look different by each end point, so it is chosen first.',
  curveTitle: {
    retention: 'Retention: share still in place',
    survival: 'Survival: share still in service',
    success: 'Success: share without any finding',
  },
  invented: 'Invented example. None of this happened in any clinic, and none of it is kept.',
  inventedTitle: (title: string): string => `${title} (invented example)`,
  inventedRow: 'Invented',
  example: 'See an example',
  exampleLeave: 'Leave the example',
  lives,
  patients,
  failures,
  countLine: (o: {
    readonly lives: number;
    readonly patients: number;
    readonly failures: number;
    readonly withFailure: number;
    readonly unseen: number;
  }): string =>
    `${lives(o.lives)} of ${patients(o.patients)}; ${failures(o.failures)} in ${patients(o.withFailure)}; ${o.unseen} not seen lately.`,
  lifeNote: 'Each bonding of a unit begins a life. A unit that is bonded again begins another one.',
  unseenNote: 'Not seen lately: no visit for longer than the recall interval and half a year.',
  leftOut: (count: number): string =>
    plural(count, {
      one: '1 life was over before anybody looked after it, so it is left out.',
      other: `${count} lives were over before anybody looked after them, so they are left out.`,
    }),
  leftTwice: (count: number): string =>
    plural(count, {
      one: 'The units of 1 deleted case count twice: two tablets kept them as counts without knowing of each other, or the case is still here. Nothing tells which counts are its own.',
      other: `The units of ${count} deleted cases count twice: two tablets kept them as counts without knowing of each other, or the cases are still here. Nothing tells which counts are theirs.`,
    }),
  several:
    'Several units of one patient are not independent. The interval counts the patient as one, and the wider of both ways is shown.',
  questionFixed: (o: {
    readonly on: string;
    readonly endPoint: string;
    readonly limits: readonly string[];
    readonly accepted: AcceptedTold;
  }): string => {
    const limits =
      o.limits.length === 0 ? 'no limit counts' : `limits that count: ${list(o.limits)}`;
    return `The question was fixed on ${o.on}: ${o.endPoint}; ${limits}; accepted: ${acceptedRate(o.accepted)}.`;
  },
  questionOther: (fixed: string): string =>
    `You are looking at another end point than the one that was fixed, ${fixed}.`,
  questionNone:
    'No question is fixed yet. Whatever is looked at now was picked with the figures in sight.',
  questionDiffers:
    'Two tablets fixed different questions without knowing of each other. Fix it once more.',
  questionDiffersRate: 'Until then the lowest of their accepted rates holds.',
  small: (seen: number): string =>
    `${lives(seen)} looked at so far: too few for a curve, which begins at 20. Here are the counts.`,
  smallShare: (o: {
    readonly failures: number;
    readonly seen: number;
    readonly low: string;
    readonly high: string;
  }): string =>
    `${o.failures} failed of ${o.seen} that were looked at. By the exact 95 % limits the share may lie anywhere from ${o.low} to ${o.high}.`,
  smallExtremes: (o: {
    readonly failures: number;
    readonly ifAll: number;
    readonly lives: number;
  }): string =>
    `Of all ${lives(o.lives)} at least ${o.failures} failed; if all that were never looked at, or not lately, had failed too, it would be ${o.ifAll}.`,
  noCases: 'No failure has been noted.',
  cases: 'Cases with a failure',
  casesOf: (count: number): string =>
    `Show ${plural(count, { one: '1 case', other: `${count} cases` })}`,
  caseLine: (o: {
    readonly patient: string;
    readonly teeth: readonly string[];
    readonly bonded: string;
    readonly failed: string;
    /** The patient knew the day; otherwise it is that of the visit that found it. */
    readonly isStated: boolean;
  }): string =>
    o.isStated
      ? `${o.patient}, ${list(o.teeth)}: bonded ${o.bonded}, failed ${o.failed}, as the patient states`
      : `${o.patient}, ${list(o.teeth)}: bonded ${o.bonded}, found ${o.failed}`,
  caseWindows: 'Its windows',
  caseWindowsName: (line: string): string => `Windows in the record of ${line}`,
  caseFollowUp: 'Its visits',
  caseFollowUpName: (line: string): string => `Visits of ${line}`,
  caseNoRecord: 'Bonded without the app: no record of windows',
  caseDeleted: 'Its record was deleted',
  axisYears: 'Years since bonding',
  atRisk: 'Under observation',
  picture: (o: {
    readonly title: string;
    readonly steps: number;
    readonly years: string;
  }): string =>
    `${o.title}: ${plural(o.steps, { one: '1 step', other: `${o.steps} steps` })} in ${o.years} years. Choose a step below, or read the table.`,
  pictureHint: 'Touch a step of the curve, or go from step to step.',
  stepBefore: 'Step before',
  stepNext: 'Next step',
  step: (o: { readonly at: number; readonly of: number }): string => `Step ${o.at} of ${o.of}`,
  scaleFrom: (share: string): string => `The scale begins at ${share}, not at 0.`,
  inDays: (count: number): string => plural(count, { one: '1 day', other: `${count} days` }),
  inYears: (count: string): string => `${count} years`,
  stepLine: (o: {
    readonly when: string;
    readonly failures: number;
    readonly atRisk: number;
    readonly share: string;
    readonly low: string;
    readonly high: string;
  }): string =>
    `After ${o.when}: ${failures(o.failures)} among ${o.atRisk} under observation. ${o.share} remain (95 % interval ${o.low} to ${o.high}).`,
  stepThin: 'Fewer than 10 are under observation here, so little is known.',
  fewAt: (o: { readonly when: string; readonly atRisk: number }): string =>
    `The step after ${o.when} was made with ${o.atRisk} under observation, before more came. Every later share rests on it: read the counts first.`,
  noStep: 'No failure so far, so the curve has no step.',
  key: {
    curve: 'share that remains',
    band: '95 % interval',
    thin: 'fewer than 10 under observation',
    chosen: 'the step that is told below',
  },
  allSteps: 'Every step as a table',
  tableTitle: 'At 1, 3, 5 and 10 years',
  /** Every title names its end point. */
  titleOf: (o: { readonly title: string; readonly endPoint: string }): string =>
    `${o.title}: ${o.endPoint.toLowerCase()}`,
  column: {
    time: 'Time',
    share: 'Remain',
    interval: '95 % interval',
    atRisk: 'Under observation',
    midGap: 'Dated half way',
    check: 'Turnbull',
    ifAll: 'If all unseen failed',
    ifNone: 'If none did',
    failures: 'Failures',
    compound: 'A year, from the curve',
    failed: 'Failed',
    otherwise: 'Ended otherwise',
    free: 'Neither',
    patients: 'Patients without any',
  },
  years,
  notThatLong: 'nobody followed that long',
  thinShare: (share: string): string => `${share}, fewer than 10`,
  by: {
    greenwood: 'units as if independent',
    robust: 'the patient as one',
    'beta-product': 'beta product',
    'none-failed': 'none failed',
  },
  range: (o: { readonly low: string; readonly high: string }): string => `${o.low} to ${o.high}`,
  wayOf: (ways: readonly string[]): string => list(ways),
  fewPatients: (count: number): string =>
    `Only ${patients(count)} had a failure, fewer than 10: read the counts, and the share of patients without any failure, rather than the interval.`,
  datingNote:
    'A failure lies somewhere between two visits. The curve dates it at the visit that found it, which flatters whoever is seen less often; beside it stands the half-way day.',
  checkNote: (o: { readonly wide: number; readonly of: number }): string =>
    `${o.wide} of ${failures(o.of)} lie in gaps of more than half a year. Turnbull’s curve, which dates none of them, is the check.`,
  ratesTitle: 'Failures a year, counted in both ways',
  ratesNote:
    'The two ways give different figures: say which one you quote. A unit-year is one unit under observation for one year.',
  rateCurve: (o: {
    readonly years: string;
    readonly rate: string;
    readonly plain: string;
  }): string =>
    `From the curve at ${o.years}: ${o.rate} a year, compounded (${o.plain} by plain division).`,
  rateExposure: (o: {
    readonly failures: number;
    readonly unitYears: string;
    readonly rate: string;
    readonly low: string;
    readonly high: string;
  }): string =>
    `From time under observation: ${failures(o.failures)} in ${o.unitYears} unit-years, ${o.rate} per 100 unit-years (95 % interval ${o.low} to ${o.high}, as if units were independent).`,
  rateNone: 'No time under observation yet, so there is no rate.',
  medianLife: (at: string): string => `Half of the lives had failed by ${at} years.`,
  medianNone: 'Median life: not reached. More than half remain.',
  followedTitle: 'How long, and how completely, they were followed',
  followedMedian: (at: string): string =>
    `Median follow-up: ${at} years under observation, by the reversed curve.`,
  followedMedianNone: 'Median follow-up: not reached.',
  completeness: (share: string): string =>
    `${share} of the time that could have been observed was observed.`,
  completenessNone: 'No time could have been observed yet.',
  incomplete: (share: string): string =>
    `Only ${share} of the possible time was observed. What became of the unseen units can move every figure here.`,
  tooIncomplete: (share: string): string =>
    `Only ${share} of the possible time was observed. Below 60 % no groups are compared.`,
  recallThem: 'Call in those who were never looked at, or not lately.',
  extremes:
    'The truth about the unseen lies between two extremes: every one of them failed the day after it was last seen, or none has.',
  competingTitle: 'Where something else ends a life first',
  competingNote:
    'A unit that was replaced for another reason, or whose tooth was lost, can no longer fail. These shares add up to 100 %.',
};
