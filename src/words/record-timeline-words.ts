/** Words of the picture of a record. */
import { formatClock, formatWords, formatWordsInterval } from './duration.ts';
import { type CaseNaming, stepOf } from './offer-words.ts';
import { subjectLabel, subjectsLabel } from './subject-words.ts';

const MS_PER_MINUTE = 60_000;

/** What a change in the course of a case can be. */
export type ChangeKind = 'way-back' | 'correction' | 'plan';

/** A length of time, or an instant in ms from the opening; `hiMs` is null when nobody knows it. */
interface Interval {
  readonly loMs: number;
  readonly hiMs: number | null;
}

/** A step as it was done. */
interface DoneWork {
  readonly step: string;
  readonly subjects: readonly string[];
  readonly kind: string;
  readonly from: Interval;
  readonly took: Interval;
}

/** A window from its first moment to its close; `to` is null while it is open. */
interface WindowSpan {
  readonly title: string;
  readonly subjects: readonly string[];
  readonly minMs: number | null;
  readonly maxMs: number | null;
  readonly to: Interval | null;
  /** The longest that it may have lasted; null when nobody knows. */
  readonly tookMs: number | null;
}

export const timelineWords = {
  title: 'As it went, against the plan',
  picture: 'Lanes of the people, the light and each mix, with the windows below',
  noPlan: 'The plan could not be worked out; what was done is shown alone.',
  planning: 'Working out the plan that the case was opened with',
  source: (revision: number): string =>
    `Planned: as the case was opened, protocol revision ${revision}, at the paces it was opened with. A step stands with the person the protocol gives it to. Minutes from the opening.`,
  changes: 'Changes',
  light: 'Light',
  roles: { dentist: 'Dentist', assistant: 'Assistant' },
  change: {
    'way-back': 'Way back',
    correction: 'Correction',
    plan: 'Plan changed',
  } satisfies Record<ChangeKind, string>,
  gap: 'Nobody watched the clocks',
  gapOpen: 'Nobody watched the clocks, for an unknown time',
  key: {
    done: 'done',
    moment: 'pressed once',
    planned: 'planned',
    broken: 'outside its bounds',
    voided: 'no longer counts',
    window: 'window, filled to its close',
    gap: 'nobody watched',
    cut: 'axis cut',
  },
  cut: (lengthsMs: readonly number[]): string =>
    `The axis is cut where nothing happened, for ${lengthsMs.map((ms) => formatWords(ms)).join(' and ')}.`,
  table: 'The same as a table: each step as planned and as done',
  step: 'Step',
  planned: 'Planned',
  done: 'Done',
  later: 'End, against the plan',
  none: '',
} as const;

const wholeMinutes = (ms: number): number => Math.round(ms / MS_PER_MINUTE);
const minutes = (count: number): string => formatWords(count * MS_PER_MINUTE);

/** "Planned 58 min, took 1 h 4 min: 6 min longer." */
export function tookWords(
  { plannedEndMs, doneEndMs }: { readonly plannedEndMs: number | null; readonly doneEndMs: number },
  isClosed: boolean,
): string {
  const done = wholeMinutes(doneEndMs);
  if (plannedEndMs === null)
    return isClosed ? `Took ${minutes(done)}.` : `So far ${minutes(done)}.`;
  const planned = wholeMinutes(plannedEndMs);
  const asked = `Planned ${minutes(planned)}`;
  if (!isClosed) return `${asked}, so far ${minutes(done)}.`;
  if (planned === done) return `${asked}, took as long.`;
  const by = minutes(Math.abs(done - planned));
  return `${asked}, took ${minutes(done)}: ${by} ${done > planned ? 'longer' : 'shorter'}.`;
}

/** "Etch 12: 0:20 long, from 31:04". */
export function markWords(mark: DoneWork, { protocol, spec }: CaseNaming): string {
  const title = stepOf(protocol, mark.step)?.title ?? mark.step;
  const what = `${title} ${subjectsLabel(mark.subjects, spec)}`.trim();
  const from = formatClock(mark.from.loMs);
  if (mark.kind === 'moment') return `${what}, ${from}`;
  return `${what}, ${from}, ${formatWordsInterval(mark.took)}`;
}

/** "Working time mix 1: 3 min of 4 min". */
export function gaugeWords(gauge: WindowSpan, { spec }: CaseNaming): string {
  const what =
    `${gauge.title} ${gauge.subjects.map((s) => subjectLabel(s, spec)).join(', ')}`.trim();
  const limit = gauge.maxMs ?? gauge.minMs;
  const of = limit === null ? '' : ` of ${formatWords(limit)}`;
  if (gauge.to === null) return `${what}: open${of}`;
  if (gauge.tookMs === null) return `${what}: an unknown time${of}`;
  return `${what}: ${formatWords(gauge.tookMs)}${of}`;
}

/** "31:04 to 33:10"; empty when there is none. */
export function spanWords(span: { readonly fromMs: number; readonly toMs: number } | null): string {
  if (span === null) return '';
  const [from, to] = [formatClock(span.fromMs), formatClock(span.toMs)];
  return from === to ? from : `${from} to ${to}`;
}

/** "2 min 5 s later"; empty when one of the two is missing. */
export function laterWords(byMs: number | null): string {
  if (byMs === null) return '';
  if (Math.abs(byMs) < 1000) return 'as planned';
  return `${formatWords(Math.abs(byMs))} ${byMs > 0 ? 'later' : 'earlier'}`;
}
