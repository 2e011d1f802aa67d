/** The picture of a record: as it went, against the plan. */
import type { Role } from '../../protocol/types.ts';
import type { ChangeKind } from '../codes.ts';
import { listIn } from '../grammar.ts';

const list = listIn('en-GB');

interface Times {
  readonly planned: string;
  readonly done: string;
}

export const recordTimeline = {
  title: 'As it went, against the plan',
  picture: 'Lanes for the people, the light and each portion, with the windows below',
  noPlan: 'The plan could not be worked out; only what was done is shown.',
  planning: 'Working out the plan that the case was opened with',
  source: (revision: number): string =>
    `Planned: as the case was opened, protocol revision ${revision}, at the paces it was opened with. Each step is shown with the person the protocol gives it to. Minutes from the opening.`,
  changes: 'Changes',
  light: 'Light',
  subjects: (labels: readonly string[]): string => labels.join(', '),
  people: (labels: readonly string[]): string => labels.join(', '),
  roles: { dentist: 'Dentist', assistant: 'Assistant' } satisfies Record<Role, string>,
  change: {
    'way-back': 'Way back',
    correction: 'Correction',
    plan: 'Plan changed',
    emergency: 'Emergency card',
    anaesthesia: 'Anaesthesia',
  } satisfies Record<ChangeKind, string>,
  gap: 'Nobody watched the clocks',
  gapOpen: 'Nobody watched the clocks, for an unknown time',
  unknown: 'an unknown time',
  key: {
    done: 'done',
    moment: 'pressed once',
    planned: 'planned',
    broken: 'outside its limits',
    perhaps: 'may be outside its limits',
    within: 'done in this time, at its end at the latest',
    voided: 'no longer counts',
    window: 'window, filled until it closed',
    gap: 'nobody watched',
    cut: 'axis cut',
  },
  changeKey: {
    'way-back': 'way back',
    correction: 'correction',
    plan: 'plan changed',
    emergency: 'emergency card',
    anaesthesia: 'anaesthesia',
  } satisfies Record<ChangeKind, string>,
  cut: (lengths: readonly string[]): string =>
    `The axis is cut where nothing happened, for ${list(lengths)}.`,
  plannedBar: (bar: string): string => `planned: ${bar}`,
  table: 'The same as a table: each step as planned and as done',
  step: 'Step',
  planned: 'Planned',
  done: 'Done',
  difference: 'End, against the plan',
  took: (done: string): string => `Took ${done}.`,
  soFar: (done: string): string => `So far ${done}.`,
  plannedSoFar: (o: Times): string => `Planned ${o.planned}, so far ${o.done}.`,
  tookAsLong: (planned: string): string => `Planned ${planned}, took as long.`,
  tookLonger: (o: Times & { readonly by: string }): string =>
    `Planned ${o.planned}, took ${o.done}: ${o.by} longer.`,
  tookShorter: (o: Times & { readonly by: string }): string =>
    `Planned ${o.planned}, took ${o.done}: ${o.by} shorter.`,
  /** "Etch 12" */
  of: (o: { readonly title: string; readonly subject: string }): string =>
    o.subject === '' ? o.title : `${o.title} ${o.subject}`,
  pressed: (o: { readonly what: string; readonly at: string }): string => `${o.what}, ${o.at}`,
  within: (o: { readonly what: string; readonly from: string; readonly to: string }): string =>
    `${o.what}, between ${o.from} and ${o.to}`,
  lasted: (o: { readonly what: string; readonly from: string; readonly length: string }): string =>
    `${o.what}, ${o.from}, ${o.length}`,
  open: (what: string): string => `${what}: open`,
  openOf: (o: { readonly what: string; readonly limit: string }): string =>
    `${o.what}: open, limit ${o.limit}`,
  filled: (o: { readonly what: string; readonly length: string }): string =>
    `${o.what}: ${o.length}`,
  filledOf: (o: {
    readonly what: string;
    readonly length: string;
    readonly limit: string;
  }): string => `${o.what}: ${o.length} of ${o.limit}`,
  fromTo: (o: { readonly from: string; readonly to: string }): string => `${o.from} to ${o.to}`,
  asPlanned: 'as planned',
  later: (by: string): string => `${by} later`,
  earlier: (by: string): string => `${by} earlier`,
};
