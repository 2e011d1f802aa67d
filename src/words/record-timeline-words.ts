/** Words of the picture of a record. */
import { MS_PER_MINUTE } from '../base/units.ts';
import { formatClock, formatWords, formatWordsInterval } from './duration.ts';
import { recordTimeline } from './en/record-timeline.ts';
import { spoken } from './language.ts';
import { stepOf } from './offer-words.ts';
import type { CaseNaming } from './step-texts.ts';
import { subjectLabel, subjectsLabel } from './subject-words.ts';

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

export const timelineWords = spoken('recordTimeline', recordTimeline);

const wholeMinutes = (ms: number): number => Math.round(ms / MS_PER_MINUTE);
const minutes = (count: number): string => formatWords(count * MS_PER_MINUTE);

/** "Planned 58 min, took 1 h 4 min: 6 min longer." */
export function tookWords(
  { plannedEndMs, doneEndMs }: { readonly plannedEndMs: number | null; readonly doneEndMs: number },
  isClosed: boolean,
): string {
  const done = wholeMinutes(doneEndMs);
  if (plannedEndMs === null) {
    return isClosed ? timelineWords.took(minutes(done)) : timelineWords.soFar(minutes(done));
  }
  const planned = wholeMinutes(plannedEndMs);
  const told = { planned: minutes(planned), done: minutes(done) };
  if (!isClosed) return timelineWords.plannedSoFar(told);
  if (planned === done) return timelineWords.tookAsLong(told.planned);
  const by = minutes(Math.abs(done - planned));
  return done > planned
    ? timelineWords.tookLonger({ ...told, by })
    : timelineWords.tookShorter({ ...told, by });
}

/** The stretches that were cut out of the axis. */
export const cutWords = (lengthsMs: readonly number[]): string =>
  timelineWords.cut(lengthsMs.map((ms) => formatWords(ms)));

/** "Etch 12, 31:04, 20 s". */
export function markWords(mark: DoneWork, { protocol, spec }: CaseNaming): string {
  const title = stepOf(protocol, mark.step)?.title ?? mark.step;
  const what = timelineWords.of({ title, subject: subjectsLabel(mark.subjects, spec) });
  const from = formatClock(mark.from.loMs);
  const { hiMs } = mark.from;
  if (mark.kind === 'moment' && hiMs !== null && hiMs > mark.from.loMs) {
    return timelineWords.within({ what, from, to: formatClock(hiMs) });
  }
  if (mark.kind === 'moment') return timelineWords.pressed({ what, at: from });
  return timelineWords.lasted({ what, from, length: formatWordsInterval(mark.took) });
}

/** "Working time portion 1: 3 min of 4 min". */
export function gaugeWords(gauge: WindowSpan, { spec }: CaseNaming): string {
  const subject = timelineWords.subjects(gauge.subjects.map((s) => subjectLabel(s, spec)));
  const what = timelineWords.of({ title: gauge.title, subject });
  const limitMs = gauge.maxMs ?? gauge.minMs;
  const limit = limitMs === null ? null : formatWords(limitMs);
  if (gauge.to === null) {
    return limit === null ? timelineWords.open(what) : timelineWords.openOf({ what, limit });
  }
  const length = gauge.tookMs === null ? timelineWords.unknown : formatWords(gauge.tookMs);
  return limit === null
    ? timelineWords.filled({ what, length })
    : timelineWords.filledOf({ what, length, limit });
}

/** "31:04 to 33:10"; empty when there is none. */
export function spanWords(span: { readonly fromMs: number; readonly toMs: number } | null): string {
  if (span === null) return '';
  const [from, to] = [formatClock(span.fromMs), formatClock(span.toMs)];
  return from === to ? from : timelineWords.fromTo({ from, to });
}

/** "2 min 5 s later"; empty when one of the two is missing. */
export function laterWords(byMs: number | null): string {
  if (byMs === null) return '';
  if (Math.abs(byMs) < 1000) return timelineWords.asPlanned;
  const by = formatWords(Math.abs(byMs));
  return byMs > 0 ? timelineWords.later(by) : timelineWords.earlier(by);
}
