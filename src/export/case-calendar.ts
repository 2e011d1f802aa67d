/**
 * The three dates of a case: preparation, appointment, and the finishing visit not less than 24
 * hours after the last exposure (common practice: contacts stay closed until then). A protocol that
 * holds longer, by a window that protects a hold, is waited for instead. Instants in ms since 1970.
 */
import { MS_PER_HOUR, MS_PER_MINUTE } from '../base/units.ts';
import { type CalendarEvent, calendarText } from './calendar.ts';
import { hashUuid } from './hash-uuid.ts';
import type { RecordFacts } from './record-types.ts';

/** Shortest wait before the finishing visit. Common practice, no source. */
export const FINISHING_AFTER_MS = 24 * MS_PER_HOUR;
/** How long before the appointment refrigerated materials come out. Common practice, no source. */
export const PREPARATION_BEFORE_MS = 60 * MS_PER_MINUTE;
/** Length of an appointment that has not been held yet. A choice of this project. */
export const APPOINTMENT_MS = 120 * MS_PER_MINUTE;
/** Length of a finishing visit. A choice of this project. */
export const FINISHING_MS = 45 * MS_PER_MINUTE;
const QUARTER_MS = 15 * MS_PER_MINUTE;

export interface CaseDates {
  readonly appointment: { readonly startMs: number; readonly endMs: number };
  readonly preparationStartMs: number;
  /** Before this instant no finishing; null while nothing was exposed. */
  readonly finishingNotBeforeMs: number | null;
  readonly finishingStartMs: number | null;
}

const latest = (all: readonly number[]): number | null =>
  all.length === 0 ? null : Math.max(...all);

const ms = (utcText: string): number => Date.parse(utcText);

/** When the last exposure ended at the latest, by the wall clock. */
function lastExposureMs(facts: RecordFacts): number | null {
  const exposed = facts.steps.filter((s) => s.action === 'expose' && s.exposures.length > 0);
  return latest(exposed.flatMap((s) => (s.end ? [ms(s.end.at.toUtc)] : [])));
}

function finishingNotBeforeMs(facts: RecordFacts): number | null {
  // A case that goes on from another is the finishing visit itself.
  if (facts.follows !== null) return null;
  const exposedMs = lastExposureMs(facts);
  const holds = facts.windows.filter((w) => w.protects === 'hold' && w.closed === null);
  return latest([
    ...(exposedMs === null ? [] : [exposedMs + FINISHING_AFTER_MS]),
    ...holds.flatMap((w) => (w.minMs === null ? [] : [ms(w.opened.toUtc) + w.minMs])),
  ]);
}

/** Reads the dates from a record. A finishing visit is proposed at the next quarter of an hour. */
export function caseDates(
  facts: RecordFacts,
  chosen: { readonly finishingStartMs?: number } = {},
): CaseDates {
  const openedMs = ms(facts.openedUtc);
  const startMs = facts.scheduledFor === null ? openedMs : ms(facts.scheduledFor);
  const workedUntilMs = facts.signOff ? ms(facts.signOff.at.toUtc) : ms(facts.lastUtc);
  const wasHeld = facts.signOff !== null && workedUntilMs > startMs;
  const notBeforeMs = finishingNotBeforeMs(facts);
  const proposedMs = notBeforeMs === null ? null : Math.ceil(notBeforeMs / QUARTER_MS) * QUARTER_MS;
  const chosenMs = chosen.finishingStartMs ?? proposedMs;
  return {
    appointment: { startMs, endMs: wasHeld ? workedUntilMs : startMs + APPOINTMENT_MS },
    preparationStartMs: startMs - PREPARATION_BEFORE_MS,
    finishingNotBeforeMs: notBeforeMs,
    // A date that people chose too early is moved to the first one that is not.
    finishingStartMs:
      chosenMs === null || notBeforeMs === null ? null : Math.max(chosenMs, notBeforeMs),
  };
}

function uidOf(facts: RecordFacts, what: string): string {
  return hashUuid(facts.chain.root ?? facts.caseId, `calendar ${what}`);
}

function finishingEvent(facts: RecordFacts, dates: CaseDates, name: string): CalendarEvent[] {
  const { finishingStartMs, finishingNotBeforeMs } = dates;
  if (finishingStartMs === null || finishingNotBeforeMs === null) return [];
  return [
    {
      uid: uidOf(facts, 'finishing'),
      title: `Finishing visit: ${name}`,
      words: `Contacts stay closed until then. Not before ${new Date(finishingNotBeforeMs).toISOString()}.`,
      startMs: finishingStartMs,
      endMs: finishingStartMs + FINISHING_MS,
      alarms: [{ when: { beforeMs: MS_PER_HOUR }, words: `Finishing visit in 1 hour: ${name}` }],
    },
  ];
}

/** The events of one case; titles carry the chart reference, never a name. */
export function caseEvents(facts: RecordFacts, dates: CaseDates): CalendarEvent[] {
  const name = facts.mode === 'rehearsal' ? `${facts.chartRef} (rehearsal)` : facts.chartRef;
  const { appointment, preparationStartMs } = dates;
  const visit = facts.follows === null ? 'Cementation' : 'Finishing visit';
  const teeth = facts.units.flatMap((u) => u.teeth.map((t) => t.fdi)).join(' ');
  return [
    {
      uid: uidOf(facts, 'preparation'),
      title: `Preparation: ${name}`,
      words:
        'Refrigerated materials out to warm; lots, expiry dates, light reading and charge looked at.',
      startMs: preparationStartMs,
      endMs: appointment.startMs,
      alarms: [
        {
          when: { beforeMs: 0 },
          words: `Refrigerated materials out: ${name}`,
          again: { times: 2, everyMs: 10 * MS_PER_MINUTE },
        },
      ],
    },
    {
      uid: uidOf(facts, 'appointment'),
      title: `${visit}: ${name}`,
      words: `Teeth ${teeth} (FDI). ${facts.protocol.title}, revision ${facts.protocol.revision}.`,
      startMs: appointment.startMs,
      endMs: appointment.endMs,
      alarms: [
        { when: { beforeMs: 15 * MS_PER_MINUTE }, words: `${visit} in 15 minutes: ${name}` },
      ],
    },
    ...finishingEvent(facts, dates, name),
  ];
}

/**
 * The calendar of one case.
 * @param options.stampedAtMs DTSTAMP; the last entry of the journal when left out.
 * @param options.finishingStartMs the date that people chose for the finishing visit.
 */
export function caseCalendar(
  facts: RecordFacts,
  options: { readonly stampedAtMs?: number; readonly finishingStartMs?: number } = {},
): string {
  const { stampedAtMs = ms(facts.lastUtc), ...chosen } = options;
  return calendarText(caseEvents(facts, caseDates(facts, chosen)), { stampedAtMs });
}
