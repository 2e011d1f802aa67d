/** What is said of a case that another tablet has, and of giving one up or taking it. */
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

export const pen = {
  /** Lists. */
  elsewhere: 'On other tablets',
  runsOn: (name: string): string => `Runs on ${name}`,
  openOn: (name: string): string => `Open on ${name}`,
  heard: (span: string): string => `heard ${span} ago`,
  lastHeard: (span: string): string => `Last heard of ${span} ago.`,
  neverHeard: 'Not heard of here yet.',
  notHeard: 'not heard of yet',
  looking: 'looking for it',
  putOut: 'put out',
  lineOf: (o: { readonly where: string; readonly heard: string }): string =>
    `${o.where} (${o.heard})`,
  lookOn: 'Look on',
  lookOnName: (title: string): string => `Look on at ${title}`,
  unnamed: 'another tablet',

  /** The chair. */
  place: 'Case of another tablet',
  at: (name: string): string => `This case runs on ${name}. Press there.`,
  silentAt: (name: string): string => `This case is with ${name}, which is not heard of.`,
  lookingFor: (name: string): string => `This case is with ${name}. Looking for that tablet.`,
  putOutAt: (name: string): string =>
    `This case is with ${name}, which was put out of the clinic’s store.`,
  closedAt: (name: string): string => `This case was signed on ${name}.`,
  standsStill: 'No live picture: the clocks here stand still.',
  givenHere: (name: string): string => `${name} gave this case up to this tablet.`,
  givenAny: (name: string): string => `${name} gave this case up to whoever takes it.`,
  givenOther: (o: { readonly name: string; readonly to: string }): string =>
    `${o.name} gave this case up to ${o.to}, which has not taken it yet.`,
  gaveUp: (to: string): string =>
    `This tablet gave the case up to ${to}, which has not taken it yet.`,
  gaveUpAny: 'This tablet gave the case up to whoever takes it.',
  take: 'Take the case here',
  takeName: (title: string): string => `Take ${title} here`,
  takeBack: 'Take it back',
  takeOver: 'Take over here',
  takeOverTitle: (name: string): string => `Take the case over from ${name}`,
  mayLose:
    'What was pressed there and has not arrived here will be missing. If somebody still presses there, the case gets two ends. Both are kept and shown; neither is mixed into the other.',
  clocksNow:
    'The two tablets have different clocks. A running clock shows the least and the most that may have passed, until you say how long it was.',
  why: 'Why is it taken over?',
  takeOverNow: 'Take over',
  refused: 'The case was not taken.',
  refusedRuns: 'Another case runs on this tablet. Close it or give it up first.',
  refusedElse: 'Try again.',
  toRecord: 'Open the record',
  leave: 'Leave the chair',

  /** Giving up. */
  give: 'Give to another tablet',
  giveTitle: 'Give the case to another tablet',
  giveLede: 'The clocks run on. This tablet looks on from then on.',
  to: 'To',
  toOne: (o: { readonly name: string; readonly heard: string }): string => `${o.name}, ${o.heard}`,
  giveTo: (name: string): string => `Give it to ${name}`,
  giveAny: 'Give it to whoever takes it',
  whoever: 'Whoever takes it',
  giveUnsent: 'There is no line to the store. The other tablets hear of it once there is.',
  notGiven: 'The case was not given up.',

  /** Two ends. */
  twoEnds: 'This case has two ends.',
  twoEndsThere: (name: string): string =>
    `${name} took the case over and goes on with it. What is pressed here is kept as the second end.`,
  twoEndsWithoutPen: (o: { readonly name: string; readonly presses: number }): string =>
    plural(o.presses, {
      one: `1 press of ${o.name} is kept apart: that tablet did not hold the pen. The record shows it.`,
      other: `${o.presses} presses of ${o.name} are kept apart: that tablet did not hold the pen. The record shows them.`,
    }),
  twoEndsHere: (o: { readonly name: string; readonly presses: number }): string =>
    plural(o.presses, {
      one: `1 press of ${o.name} does not follow on this end. It is kept apart; the record shows it.`,
      other: `${o.presses} presses of ${o.name} do not follow on this end. They are kept apart; the record shows them.`,
    }),
};
