/** Words of the comparison of groups and of the yearly review. */
import { listIn, pluralIn } from '../grammar.ts';
import { type AcceptedTold, acceptedRate } from './accepted-rate.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

const lives = (count: number): string => plural(count, { one: '1 life', other: `${count} lives` });
const patients = (count: number): string =>
  plural(count, { one: '1 patient', other: `${count} patients` });

export const outcomeGroup = {
  title: (endPoint: string): string => `Groups, by ${endPoint}`,
  lede: 'Units that have something in common, beside those that do not.',
  nothing: 'Nothing to put groups by yet',
  nothingTodo:
    'Groups appear once units differ in a limit that counts, a revision, a class or a lot.',
  limitsFirst:
    'Fix first which limits count. Then units are grouped by limit kept, broken or cannot tell.',
  toQuestion: 'Fix the question',
  byChance:
    'Units were not put into these groups at random: the groups differ in other ways as well.',
  hardCase:
    'A difficult unit is more likely to go past a limit, and more likely to be lost as well.',
  association: 'An association, if any: what was found together, not why.',
  dating: 'Failures are dated half way between two visits.',
  stratified: 'Within each class of material.',
  common: (years: string): string =>
    `Only over the ${years} years since bonding that both revisions have.`,
  kind: {
    limits: () => 'All limits that count',
    limit: (about: string) => `Limit: ${about}`,
    revision: (about: string) => `Revision of ${about}`,
    material: () => 'Class of material',
    lot: (about: string) => `Lot of ${about}`,
    person: () => 'Person',
  },
  state: { kept: 'kept', broken: 'broken', 'cannot-tell': 'cannot tell' },
  revision: (name: string): string => `revision ${name}`,
  others: 'all others',
  eachBeside: 'Each beside all others',
  otherComparisons: 'The other comparisons',
  noneIn: (group: string): string =>
    `No unit is in “${group}” yet, so there is nothing to set beside it.`,
  notNamed: 'all who are not named',
  unknown: (count: number): string => `${lives(count)}: not known.`,
  column: {
    group: 'Group',
    lives: 'Lives',
    patients: 'Patients',
    failures: 'Failures',
    unseen: 'Not seen lately',
    rate: 'Per 100 unit-years (95 %)',
    front: 'Front teeth',
    material: 'Material',
    units: 'Units a visit',
    bonded: 'Bonded',
  },
  alsoTitle: 'What else differs between them',
  materialShare: (o: { readonly material: string; readonly share: string }): string =>
    `${o.material} ${o.share}`,
  fromTo: (o: { readonly from: string; readonly to: string }): string => `${o.from} to ${o.to}`,
  against: (o: { readonly first: string; readonly rest: string }): string =>
    `${o.first} beside ${o.rest}`,
  tooFew: 'Too few to tell. What is missing:',
  missing: {
    lives: (o: { readonly has: number; readonly needs: number }) =>
      `${lives(o.has)}; it takes ${o.needs}`,
    expected: (o: { readonly has: string; readonly needs: string; readonly group: string }) =>
      `${o.has} failures expected in “${o.group}”; it takes ${o.needs}`,
    patients: (o: { readonly has: number; readonly needs: number; readonly group: string }) =>
      `${patients(o.has)} in “${o.group}”; it takes ${o.needs}`,
    patientsWithFailure: (o: { readonly has: number; readonly needs: number }) =>
      `${patients(o.has)} with a failure; it takes ${o.needs}`,
    completeness: (o: { readonly has: string; readonly needs: string }) =>
      `${o.has} of the possible time observed; it takes ${o.needs}`,
    completenessApart: (o: { readonly has: string; readonly needs: string }) =>
      `the groups were followed unequally, ${o.has} apart; at most ${o.needs} is allowed`,
  },
  smallest: (ratio: string): string =>
    `With this many failures a ratio of ${ratio} or more would be likely to show, if units were independent; several units a patient make it larger still.`,
  smallestNone: 'Without a failure no ratio can show.',
  unitsPerPatient: (o: {
    readonly first: string;
    readonly firstUnits: string;
    readonly rest: string;
    readonly restUnits: string;
  }): string => `Units a patient: ${o.firstUnits} in “${o.first}”, ${o.restUnits} in “${o.rest}”.`,
  patientsInBoth: (count: number): string =>
    plural(count, {
      one: '1 patient has units in both groups.',
      other: `${count} patients have units in both groups.`,
    }),
  sideLine: (o: {
    readonly name: string;
    readonly lives: number;
    readonly patients: number;
    readonly failures: number;
    readonly expected: string;
    readonly unseen: number;
  }): string =>
    `${o.name}: ${lives(o.lives)} of ${patients(o.patients)}, ${plural(o.failures, { one: '1 failure', other: `${o.failures} failures` })} where ${o.expected} would be expected if the groups were alike; ${o.unseen} not seen lately.`,
  atRisk: (group: string): string => `Under observation: ${group}`,
  curves: (o: { readonly first: string; readonly rest: string }): string =>
    `Share that remains, “${o.first}” as a full line and “${o.rest}” as a dashed line; dotted where fewer than 10 are under observation`,
  noP: 'No p value stands here. It is worked out once a year, in a review, for all groups together.',
  reviewTitle: 'Yearly reviews',
  reviewLede:
    'A p value that is looked at often raises false alarms: five looks at 0.05 each raise one in 14 of 100 clinics where nothing differs. So it is worked out once a year, for all groups together.',
  reviewNote:
    'Each review tests all groups, counts each patient as one, adjusts for their number (Holm), and notes what came out, whatever it is.',
  reviewMake: 'Make this year’s review',
  reviewWaits: (on: string): string => `The next review can be made from ${on} on.`,
  reviewNeeds: 'A review needs a question that is fixed.',
  reviewOther: 'A review asks for the end point that was fixed. Choose that one first.',
  reviewOpen: (o: { readonly open: number; readonly of: number }): string =>
    `${o.open} of ${plural(o.of, { one: '1 comparison', other: `${o.of} comparisons` })} would be told; the others have too few to tell.`,
  reviewWorking: 'Working out the review',
  reviewPart: (share: string): string => `${share} done`,
  reviewStop: 'Stop',
  reviewStopped: 'Stopped. Nothing was worked out or noted.',
  reviewFailed: 'The review could not be worked out. Nothing was noted.',
  reviewNotKept: 'The review could not be noted.',
  reviewNone: 'No review has been made yet.',
  reviewOn: (on: string): string => `Review of ${on}`,
  reviewQuestion: (o: { readonly endPoint: string; readonly on: string }): string =>
    `${o.endPoint}; the question was fixed on ${o.on}.`,
  reviewColumn: {
    compared: 'Compared',
    lives: 'Lives',
    patients: 'Patients',
    failures: 'Failures',
    p: 'p, patient as one',
    adjusted: 'after Holm',
    permuted: 'p, permuted within patients',
  },
  tooFewCell: 'too few to tell',
  small: 'below 0.001',
  questionTitle: 'The question',
  questionLede:
    'Fix it before you look: one end point, the limits that count, and the rate that is accepted. It may be changed, but every screen says when.',
  questionLimits: 'Limits that count',
  questionNoLimits: 'No unit with limits on record yet.',
  questionFix: 'Fix the question',
  questionChange: 'Fix another question',
  questionFixed: (o: {
    readonly on: string;
    readonly endPoint: string;
    readonly limits: readonly string[];
    readonly accepted: AcceptedTold;
  }): string =>
    `Fixed on ${o.on}: ${o.endPoint}; ${o.limits.length === 0 ? 'no limit counts' : list(o.limits)}; accepted: ${acceptedRate(o.accepted)}.`,
  accepted: (endPoint: string): string => `Failures accepted a year, for ${endPoint.toLowerCase()}`,
  acceptedHint:
    'From 0.1 to 20, in steps of 0.1. It is your choice and has no source. Early flags and lots are held against it.',
  acceptedUnit: '% a year',
  acceptedWrong: 'Enter a figure from 0.1 to 20, in steps of 0.1.',
  acceptedAnew:
    'Another rate draws the charts anew, from their beginning or the last look. No failure is dropped.',
  questionDiffers:
    'Fixed differently on tablets that did not know of each other. Choose the one that holds, or fix another.',
  questionTake: 'This one holds',
  questionTakeName: (told: string): string => `This one holds: ${told}`,
  questionEarlier: 'Questions before',
  notKept: 'It could not be noted.',
  by: 'Noted by',
};
