/** Words of early flags, lots, own figures and what a clinic can hope to see. */
import { pluralIn } from '../grammar.ts';
import { type AcceptedTold, acceptedRate } from './accepted-rate.ts';

const plural = pluralIn('en');

const failures = (count: number): string =>
  plural(count, { one: '1 failure', other: `${count} failures` });
const lives = (count: number): string => plural(count, { one: '1 life', other: `${count} lives` });
const patients = (count: number): string =>
  plural(count, { one: '1 patient', other: `${count} patients` });

export const outcomeFlag = {
  title: 'Early flags',
  lede: 'One chart for each end point. It rises with each failure and falls with time under observation.',
  chart: (endPoint: string): string => `Chart: ${endPoint}`,
  accepted: (told: AcceptedTold): string => `Held against ${acceptedRate(told)}.`,
  acceptedSince: (o: AcceptedTold & { readonly since: string }): string =>
    `Held against ${acceptedRate(o)}, since ${o.since}.`,
  countedOnce: 'Failures of one patient on one day count once.',
  successEasily:
    'Chips, stains and sensitive teeth are common, so at this rate the chart of success rises easily. A question about success can carry another rate.',
  drawnAnew: (before: string): string =>
    `Until then the rate was ${before} a year. The chart is drawn anew with the rate in force, from its beginning or the last look; no failure was dropped.`,
  wasFlagged: 'At the rate before, a flag would stand here.',
  wasNotFlagged: 'At the rate before, no flag would stand here.',
  flag: (told: AcceptedTold): string =>
    `More failures than expected at ${acceptedRate(told)}. At that rate chance alone raises such a flag about once in ten years.`,
  noFlag: 'Below its limit.',
  chartLine: (o: {
    readonly failures: number;
    readonly expected: string;
    readonly now: string;
    readonly limit: string;
  }): string =>
    `${failures(o.failures)} counted in all; ${o.expected} expected since the start or the last look. The chart stands at ${o.now}, its limit is ${o.limit}.`,
  picture: (o: {
    readonly endPoint: string;
    readonly now: string;
    readonly limit: string;
  }): string => `Chart of ${o.endPoint}: it stands at ${o.now}, the limit is ${o.limit}`,
  limitMark: 'limit',
  flaggedOn: (on: string): string =>
    `It went above its limit on ${on}, and nobody has noted a look since.`,
  lookedOn: (on: string): string => `Looked at on ${on}; the chart began again.`,
  look: 'Note what was looked at',
  lookTitle: 'What was looked at',
  lookHint:
    'For example: lots, light, the order of steps, which cases. The chart begins again today.',
  lookMissing: 'Say what was looked at.',
  lookSave: 'Note it',
  lookNotKept: 'It could not be noted.',
  lookedTitle: 'Looked at so far',
  lookedLine: (o: { readonly on: string; readonly of: string; readonly note: string }): string =>
    `${o.on}, ${o.of}: ${o.note}`,
  lotOf: (o: { readonly material: string; readonly lot: string }): string =>
    `${o.material}, lot ${o.lot}`,
  lotsTitle: (endPoint: string): string => `Lots, by ${endPoint} in the first year`,
  lotsLede:
    'A lot is one to look at where its share lost in the first year is more likely than not above twice the usual one, with at least 3 failures in 2 patients.',
  lotsUsual: (told: AcceptedTold): string =>
    `Usual in the first year: ${acceptedRate(told)}. Units that nobody has looked at yet count as in place.`,
  lotsNone: 'No lot to look at.',
  lotsEmpty: 'No lot is on record yet.',
  lotLine: (o: {
    readonly lives: number;
    readonly failures: number;
    readonly patients: number;
    readonly chance: string;
  }): string =>
    `${failures(o.failures)} in ${patients(o.patients)} among ${lives(o.lives)}. Above twice the usual share with a probability of ${o.chance}.`,
  lotLook: 'Look at this lot.',
  lotsAll: 'Every lot',
  column: {
    lot: 'Lot',
    lives: 'Lives',
    failures: 'Lost in the first year',
    chance: 'Above twice usual',
  },
  lotNote: 'A lot that stands out may also have met the harder cases. Association, not why.',

  ownTitle: 'My own units',
  ownLede: 'Off until somebody asks. Each person sees only their own units; nobody is ranked.',
  ownChoose: 'Your name',
  ownNone: 'No name',
  ownShow: 'Show the units that I bonded',
  ownHide: 'Hide them again',
  ownForget: 'The name is forgotten when this page is left.',
  ownWho: 'This tablet cannot tell who is asking. Choose only your own name.',
  ownRisk: 'Patients differ, and who gets the difficult ones shows in these figures.',
  ownEmpty: 'No unit is on record under this name.',
  ownNobody: 'Nobody is named in a record yet.',
  ownLead:
    'Figures by name are shown to nobody else. The lead sees them only of people who agreed to it.',

  agreeTitle: 'What the lead sees',
  agreeWhat: 'The lead may see my figures under my name.',
  agreeRules:
    'Only beside those of others, in the order of names, and only where there is enough to tell. It goes by the dentist of a case.',
  agreeWhere:
    'It holds on all tablets of the clinic. Withdrawn, it is gone here at once, and on another tablet when that hears of it.',
  agreed: 'You have agreed.',
  notAgreed: 'You have not agreed.',
  agreeDo: 'Agree',
  agreeWithdraw: 'Withdraw it',
  agreeNotKept: 'It could not be kept.',

  personsTitle: 'By person, for the lead',
  personsLede: 'Off until the lead opens it. It names only people who agreed.',
  personsOpen: 'Open it',
  personsClose: 'Close it',
  personsPassphrase: 'Passphrase of the desk',
  personsNoPassphrase: 'The lead’s desk has no passphrase yet. Set it there first.',
  personsOrder:
    'In the order of names; nobody is ranked. It goes by the dentist of a case; a case with none or several is left out.',
  personsRisk:
    'Operators of one network ranged from 3.6 to 11.4 % a year, the risk of their patients mixed in (J Dent Res, doi 10.1177/0022034519827566).',
  personsShut: 'Nobody is named. What is missing:',
  personsMissing: {
    'one-person': () => 'units of two dentists at least',
    agreement: () =>
      'the agreement of all dentists, or of all but two or more with 10 patients each: one alone could be told from the rest',
    lives: (needs: string) => `${needs} lives of them together`,
    expected: (needs: string) => `${needs} failures expected for each`,
    patients: (needs: string) => `${needs} patients of each`,
    patientsWithFailure: (needs: string) => `${needs} patients with a failure`,
    completeness: (needs: string) => `${needs} of the possible time observed`,
    completenessApart: (needs: string) => `patients followed alike, at most ${needs} apart`,
    test: () => 'a test that counts the patient as one and can be worked out',
  },

  firstTitle: 'How many units it takes',
  firstFew: 'On the first day: what this clinic can hope to see',
  firstFailures: (count: number): string =>
    `To see a yearly failure rate doubled takes about ${count} failures in both groups together, with a chance of 80 %.`,
  firstAccepted: (told: AcceptedTold): string => `The accepted rate is ${acceptedRate(told)}.`,
  firstYears: (o: { readonly lives: number; readonly years: number }): string =>
    `With ${o.lives} lives, four to a patient, a rate twice the accepted one shows after about ${o.years} years.`,
  firstNotYet: (lives: number): string =>
    `With ${lives} lives, four to a patient, a rate twice the accepted one does not show, not even after 40 years.`,
  firstNever: (lives: number): string =>
    `A doubled rate of veneers that debond, and of nothing else, does not show with ${lives} lives, not even after 40 years.`,
  firstAgainst: (o: { readonly unitYears: number; readonly flagAt: number }): string =>
    `A rate twice the accepted one shows by itself after ${o.unitYears} unit-years, at ${o.flagAt} failures.`,
  firstRuledOut: (unitYears: number): string =>
    `No failure at all speaks against the accepted rate only after ${unitYears} unit-years.`,
  firstSoFar: (o: { readonly lives: number; readonly unitYears: string }): string =>
    `So far: ${lives(o.lives)} and ${o.unitYears} unit-years under observation.`,
  firstTable: 'Lives in both groups together, all followed that long, to see a yearly rate doubled',
  firstRate: {
    accepted: (rate: string) => `Accepted, ${rate} a year`,
    few: (rate: string) => `Few failures, ${rate} a year`,
    debond: () => 'Veneers that debond, 0.08 % a year',
  },
  firstColumn: {
    followed: 'Followed',
    independent: 'Units independent',
    moderate: 'Four a patient, alike a little',
    strong: 'Four a patient, very alike',
  },
  firstRates: 'Usual rate',
  firstYear: (years: number): string => plural(years, { one: '1 year', other: `${years} years` }),
  firstSource: '0.08 %: 99.2 % at ten years, J Clin Med 2021;10:1074. 0.5 % is an example.',
};
