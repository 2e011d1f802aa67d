/**
 * For each unit of a record, whether each limit that touched it was kept: the windows and the least and most
 * of the steps of the unit itself and of what is linked to it, its teeth, its portion, the case. Where the
 * limit lies inside what is known of the clocks, or what would have closed it was not done, nobody can tell.
 */
import type { LimitKept, LimitState } from '../outcomes/follow-up-types.ts';
import type { RecordFrame } from './record-frame.ts';
import type { ExposureFact, StepFact, SurfaceFact, WindowFact } from './record-types.ts';

/** One limit on one subject. */
export type Judged = LimitKept & { readonly subject: string };

const WINDOW_STATES: Readonly<Record<WindowFact['state'], LimitState>> = {
  kept: 'kept',
  broken: 'broken',
  'may-be-broken': 'cannot-tell',
  open: 'cannot-tell',
};

const judgedWindow = ({ window, title, subject, state }: WindowFact): Judged => ({
  limit: `window/${window}`,
  title,
  subject,
  state: WINDOW_STATES[state],
});

const MORE: readonly LimitState[] = ['kept', 'cannot-tell', 'broken'];

/** What is known of all of them together: one that was broken is told, then one of which nobody can tell. */
export const worst = (states: readonly LimitState[]): LimitState =>
  states.reduce((a, b) => (MORE.indexOf(b) > MORE.indexOf(a) ? b : a), 'kept');

const broken = (is: boolean, perhaps: boolean): LimitState =>
  is ? (perhaps ? 'cannot-tell' : 'broken') : 'kept';

/** Whether a surface may have had all its light, by the longest that each exposure can have been. */
function mayBeWhole({ surface, setMs }: SurfaceFact, exposures: readonly ExposureFact[]): boolean {
  const own = exposures.filter((each) => each.surface === surface);
  return own.reduce((ms, { given }) => ms + given.hiMs, 0) >= setMs;
}

function lightState({ surfaces, exposures }: StepFact): LimitState {
  const short = surfaces.filter(({ owedMs }) => owedMs > 0);
  return worst(short.map((surface) => broken(true, mayBeWhole(surface, exposures))));
}

/** Null where the step has no limit that can be told of. */
function stepState(fact: StepFact): LimitState | null {
  const { action, asked, status, counts, elapsed, overByMs } = fact;
  if (action === 'expose' && fact.surfaces.length > 0) {
    const between = broken(fact.betweenShortByMs > 0, fact.betweenPerhaps);
    return worst([lightState(fact), between]);
  }
  if (action === 'tally') {
    return asked.count === null ? null : broken(counts.length > asked.count, false);
  }
  const hasBetween = asked.betweenMs !== null;
  if (asked.minMs === null && asked.maxMs === null && !hasBetween) return null;
  // What was not done, or never ended, has no length.
  if (status !== 'done' || elapsed === null) return 'cannot-tell';
  return worst([
    broken(fact.shortByMs > 0, fact.shortPerhaps),
    // Null: by nobody knows how much.
    broken(overByMs === null || overByMs > 0, fact.overPerhaps),
    broken(fact.betweenShortByMs > 0, fact.betweenPerhaps),
  ]);
}

function judgedStep(fact: StepFact): readonly Judged[] {
  const state = stepState(fact);
  const { step, title, subject } = fact;
  return state === null ? [] : [{ limit: `step/${step}`, title, subject, state }];
}

/** Every limit of a record, on every subject. */
export const judgedLimits = (o: {
  readonly windows: readonly WindowFact[];
  readonly steps: readonly StepFact[];
}): readonly Judged[] => [...o.windows.map(judgedWindow), ...o.steps.flatMap(judgedStep)];

/** The limits of one unit, each once, in the order of the record. */
export function limitsOf(
  { layout }: Pick<RecordFrame, 'layout'>,
  unit: string,
  judged: readonly Judged[],
): readonly LimitKept[] {
  const known = new Set(Object.values(layout.subjects.order).flat());
  const own = judged.filter(
    ({ subject }) => known.has(subject) && layout.subjects.linked(subject, 'unit').includes(unit),
  );
  return [...new Set(own.map(({ limit }) => limit))].map((limit) => {
    const same = own.filter((each) => each.limit === limit);
    return { limit, title: same[0]?.title ?? limit, state: worst(same.map(({ state }) => state)) };
  });
}
