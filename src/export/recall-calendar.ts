/**
 * The recalls of a case that are still to come as a calendar: the one that is due, and those ahead. Each
 * stands at the first hour at which the clinic is open on its day; people move it to when it was agreed.
 */
import { MS_PER_DAY, MS_PER_HOUR, MS_PER_MINUTE } from '../base/units.ts';
import { addDays } from '../outcomes/days.ts';
import type { CaseRecalls, Recall } from '../outcomes/recalls.ts';
import { calendarWords } from '../words/export-words.ts';
import { instantIn, type ZoneName } from '../words/zone.ts';
import { type CalendarEvent, calendarText } from './calendar.ts';
import { type ExportClinic, NO_CLINIC } from './export-clinic.ts';
import { hashUuid } from './hash-uuid.ts';
import { firstOpenStart } from './opening-hours.ts';

/** Length of a recall. A choice of this project. */
const RECALL_MS = 20 * MS_PER_MINUTE;
/** When a day begins where the clinic says no hours. A choice of this project. */
const MORNING = '09:00';

interface Recalled {
  readonly caseId: string;
  /** The chart reference; never a name. */
  readonly patient: string;
  readonly teeth: readonly string[];
  readonly recalls: Pick<CaseRecalls, 'all' | 'ended'>;
}

interface RecallCalendarOptions {
  /** When it is made, its DTSTAMP. */
  readonly stampedAtMs: number;
  readonly today: string;
  readonly zone: ZoneName;
  readonly clinic?: Pick<ExportClinic, 'hours'>;
}

const TO_COME: ReadonlySet<Recall['state']> = new Set(['due', 'overdue', 'ahead']);

function eventOf(of: Recalled, recall: Recall, o: RecallCalendarOptions): CalendarEvent[] {
  const { hours } = o.clinic ?? NO_CLINIC;
  // What is due already is asked for tomorrow at the earliest.
  const tomorrow = addDays(o.today, 1);
  const day = [recall.dueOn, tomorrow].toSorted().at(-1) ?? tomorrow;
  const atMs = instantIn(hours === null ? `${day}T${MORNING}` : day, o.zone);
  if (atMs === null) return [];
  const startMs = firstOpenStart(atMs, { hours, zone: o.zone, lengthMs: RECALL_MS });
  const alarm = { when: { beforeMs: MS_PER_DAY }, words: calendarWords.recallAlarm(of.patient) };
  return [
    {
      uid: hashUuid('lutewatch calendar', JSON.stringify([of.caseId, 'recall', recall.id])),
      title: calendarWords.recall(of.patient),
      words: calendarWords.teeth(of.teeth),
      startMs,
      endMs: startMs + RECALL_MS,
      // Some calendars ring at once for what is over.
      alarms: startMs - MS_PER_DAY > o.stampedAtMs + MS_PER_HOUR ? [alarm] : [],
    },
  ];
}

/** One calendar of the recalls of these cases; null where none is to come. */
export function recallCalendar(
  cases: readonly Recalled[],
  o: RecallCalendarOptions,
): string | null {
  const events = cases.flatMap((of) =>
    of.recalls.ended === null
      ? of.recalls.all
          .filter(({ state }) => TO_COME.has(state))
          .flatMap((recall) => eventOf(of, recall, o))
      : [],
  );
  return events.length === 0
    ? null
    : calendarText(events, { stampedAtMs: o.stampedAtMs, zone: o.zone });
}
