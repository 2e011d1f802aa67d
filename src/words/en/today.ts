/** Words of the first screen. */
import type { CasePart } from '../codes.ts';
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

interface TwicePart {
  readonly part: CasePart;
  readonly texts: readonly [string, string] | null;
}

const caseParts: Readonly<Record<CasePart, string>> = {
  allergies: 'allergies',
  teeth: 'teeth',
  units: 'units',
  protocol: 'protocol',
  anaesthesia: 'anaesthesia',
  date: 'date',
  people: 'people',
  light: 'light',
  title: 'title',
  chart: 'chart reference',
  rest: 'other entries',
};

export const today = {
  caseParts,
  title: 'Today',
  ledeNone: 'Nothing is due today or tomorrow.',
  ledeDue: (count: number): string =>
    plural(count, {
      one: '1 case is due today or tomorrow.',
      other: `${count} cases are due today or tomorrow.`,
    }),
  setUp: 'Set up a case',
  running: 'Running now',
  unfinished: 'Not finished',
  goOn: 'Go on',
  goOnName: (title: string): string => `Go on with ${title}`,
  toRecord: 'Record',
  recordName: (title: string): string => `Record of ${title}`,
  progress: (o: { readonly done: number; readonly total: number }): string =>
    `${o.done} of ${o.total} done`,
  openedAt: (when: string): string => `Started ${when}`,
  lastPress: (when: string): string => `last entry ${when}`,
  alsoUnfinished: 'Also not finished',
  prepared: 'Prepared cases',
  twice: 'Two tablets changed this case, each without the other.',
  twiceIn: (parts: readonly TwicePart[]): string => {
    const lines = parts.map(({ part, texts }) =>
      texts === null
        ? caseParts[part]
        : `${caseParts[part]} (shown: ${texts[0] || 'nothing'}; other: ${texts[1] || 'nothing'})`,
    );
    const all = parts.some(({ part }) => part === 'allergies')
      ? ' The allergies of all are kept; take one out under Change.'
      : '';
    return `They differ in: ${list([...new Set(lines)])}. Say which one holds.${all}`;
  },
  twiceLost: 'This was not saved.',
  keepShown: 'Keep the one shown',
  keepOther: 'Keep the other',
  keepOtherName: (o: { readonly title: string; readonly n: number }): string =>
    `Keep the other, ${o.n}: ${o.title}`,
  begin: 'Begin',
  beginName: (title: string): string => `Begin ${title}`,
  rehearse: 'Rehearse',
  rehearseName: (o: { readonly title: string; readonly speed: number }): string =>
    `Rehearse ${o.title} at ${o.speed}\u00d7`,
  drill: 'Drill',
  /** A drill is being drawn; it takes a moment. */
  drawing: 'Drawing',
  drillName: (title: string): string => `Drill ${title}`,
  drills: 'Drills',
  speed: 'Rehearsal speed',
  speedOf: (times: string): string => `${times}\u00d7`,
  change: 'Change',
  changeName: (title: string): string => `Change ${title}`,
  refAndUnits: (o: { readonly chartRef: string; readonly units: number }): string =>
    plural(o.units, { one: `${o.chartRef}, 1 unit`, other: `${o.chartRef}, ${o.units} units` }),
  /** For those who do not see the picture. */
  order: (units: readonly string[]): string => `Seating order: ${units.join(', ')}`,
  confirmed: 'Protocol confirmed',
  unconfirmed: 'Protocol unconfirmed',
  missing: 'Protocol not on this tablet',
  nonePrepared: 'No case is prepared',
  nonePreparedTodo: 'Set one up the day before. You can rehearse it first.',
  finished: 'Finished',
  allFinished: (count: number): string => `All ${count} finished cases`,
  noneFinished: 'No case has been finished on this tablet yet.',
  rehearsal: 'Rehearsal',
  patient: 'Patient case',
  overdue: 'Overdue',
  noDate: 'No date',
  plan: 'Plan',
  planName: (title: string): string => `Plan of ${title}`,
  holdEnds: (when: string): string => `The hold ends ${when}`,
  followOn: 'Prepare the finishing visit',
  followOnName: (title: string): string => `Prepare the finishing visit of ${title}`,
  followOnTitle: (title: string): string => `${title}, finishing visit`,
  followOnPrepared: 'Prepared. It waits until 24 h have elapsed since the last light.',
  noFollowOn: 'No light was given in this case, so there is nothing to count 24 h from.',
  followOnFailed: 'The finishing visit could not be prepared.',
};
