/**
 * The three dates of a case: preparation, appointment, and the finishing visit not less than 24
 * hours after the last exposure (common practice: contacts stay closed until then). A protocol that
 * holds longer, by a window that protects a hold, is waited for instead. Instants in ms since 1970.
 */
import { MS_PER_HOUR, MS_PER_MINUTE } from '../base/units.ts';
import { latestMaterials } from '../plan/latest-starts.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { Protocol } from '../protocol/types.ts';
import { timesIn } from '../words/date-words.ts';
import { calendarWords } from '../words/export-words.ts';
import { languageTag } from '../words/language.ts';
import { toldProtocol } from '../words/told-protocol.ts';
import { UTC_ZONE, type ZoneName } from '../words/zone.ts';
import { type CalendarEvent, calendarText } from './calendar.ts';
import { type ExportClinic, NO_CLINIC } from './export-clinic.ts';
import { hashUuid } from './hash-uuid.ts';
import { firstOpenStart, lastOpenStart, type OpeningHours } from './opening-hours.ts';
import type { EdgeFact, RecordFacts } from './record-types.ts';

/** Shortest wait before the finishing visit. Common practice, no source. */
const FINISHING_AFTER_MS = 24 * MS_PER_HOUR;
/** How long before the appointment refrigerated materials come out. Common practice, no source. */
const PREPARATION_BEFORE_MS = 60 * MS_PER_MINUTE;
/** Length of an appointment that has not been held yet. A choice of this project. */
const APPOINTMENT_MS = 120 * MS_PER_MINUTE;
/** Length of a finishing visit. A choice of this project. */
const FINISHING_MS = 45 * MS_PER_MINUTE;

interface CaseDates {
  readonly appointment: { readonly startMs: number; readonly endMs: number };
  readonly preparationStartMs: number;
  /** Before this instant no finishing; null while nothing was exposed. */
  readonly finishingNotBeforeMs: number | null;
  readonly finishingStartMs: number | null;
}

const latest = (all: readonly number[]): number | null =>
  all.length === 0 ? null : Math.max(...all);

const ms = (utcText: string): number => Date.parse(utcText);

/**
 * The latest that an edge can have been, by the wall clock. Where nobody knows, what the tablet
 * showed at its press, or what is known at least: the later of the two.
 */
const latestMs = ({ at, pressed }: EdgeFact): number =>
  at.toUtc === null
    ? Math.max(ms(at.fromUtc), ms(pressed?.pressedUtc ?? at.fromUtc))
    : ms(at.toUtc);

function finishingNotBeforeMs(facts: RecordFacts): number | null {
  // A case that goes on from another is the finishing visit itself.
  if (facts.follows !== null) return null;
  // The same instant that the chair counts its hold from.
  const exposedMs = facts.lastLightUtc === null ? null : ms(facts.lastLightUtc);
  const holds = facts.windows.filter((w) => w.protects === 'hold' && w.closed === null);
  return latest([
    ...(exposedMs === null ? [] : [exposedMs + FINISHING_AFTER_MS]),
    ...holds.flatMap((w) =>
      w.minMs === null ? [] : [latestMs({ at: w.opened, pressed: null }) + w.minMs],
    ),
  ]);
}

/**
 * Reads the dates from a record. A finishing visit is proposed at the next quarter of an hour at which
 * the clinic is open for all of it.
 */
export function caseDates(
  facts: RecordFacts,
  chosen: { readonly finishingStartMs?: number; readonly hours?: OpeningHours | null } = {},
): CaseDates {
  const openedMs = ms(facts.openedUtc);
  const plannedMs = facts.scheduledFor === null ? openedMs : ms(facts.scheduledFor);
  // Once it was signed, the appointment was when it was, not when it was planned.
  const appointment = facts.signOff
    ? { startMs: openedMs, endMs: Math.max(openedMs, latestMs(facts.signOff)) }
    : { startMs: plannedMs, endMs: plannedMs + APPOINTMENT_MS };
  const notBeforeMs = finishingNotBeforeMs(facts);
  const wish = { hours: chosen.hours ?? null, zone: facts.zone.name, lengthMs: FINISHING_MS };
  const proposedMs = notBeforeMs === null ? null : firstOpenStart(notBeforeMs, wish);
  const chosenMs = chosen.finishingStartMs ?? proposedMs;
  return {
    appointment,
    preparationStartMs: appointment.startMs - PREPARATION_BEFORE_MS,
    finishingNotBeforeMs: notBeforeMs,
    // A date that people chose too early is moved to the first one that is not.
    finishingStartMs:
      chosenMs === null || notBeforeMs === null ? null : Math.max(chosenMs, notBeforeMs),
  };
}

/** What the events of a case are called after. */
interface CaseName {
  readonly preparedId: string;
  readonly mode: 'patient' | 'rehearsal';
  readonly chartRef: string;
  readonly teeth: readonly string[];
  readonly isFinishing: boolean;
  readonly protocol: { readonly title: string; readonly revision: number | null } | null;
}

/** The same before and after the case was held, so that a later export replaces an earlier one. */
const uidOf = ({ preparedId, mode }: CaseName, what: string): string =>
  hashUuid('lutewatch calendar', JSON.stringify([preparedId, mode, what]));

const shown = ({ chartRef, mode }: CaseName): string =>
  mode === 'rehearsal' ? calendarWords.rehearsal(chartRef) : chartRef;

function preparationEvent(name: CaseName, dates: CaseDates): CalendarEvent {
  return {
    uid: uidOf(name, 'preparation'),
    title: calendarWords.preparation(shown(name)),
    words: calendarWords.preparationWords,
    startMs: dates.preparationStartMs,
    endMs: dates.appointment.startMs,
    alarms: [
      {
        when: { beforeMs: 0 },
        words: calendarWords.preparationAlarm(shown(name)),
        again: { times: 2, everyMs: 10 * MS_PER_MINUTE },
      },
    ],
  };
}

function aboutWords({ teeth, protocol }: CaseName): string {
  if (protocol === null) return calendarWords.teeth(teeth);
  const { title, revision } = protocol;
  return revision === null
    ? calendarWords.teethAndProtocol({ teeth, protocol: title })
    : calendarWords.teethAndRevision({ teeth, protocol: title, revision });
}

function appointmentEvent(name: CaseName, { appointment }: CaseDates): CalendarEvent {
  const of = shown(name);
  const { isFinishing } = name;
  return {
    uid: uidOf(name, 'appointment'),
    title: isFinishing ? calendarWords.finishing(of) : calendarWords.appointment(of),
    words: aboutWords(name),
    startMs: appointment.startMs,
    endMs: appointment.endMs,
    alarms: [
      {
        when: { beforeMs: 15 * MS_PER_MINUTE },
        words: isFinishing ? calendarWords.finishingSoon(of) : calendarWords.appointmentAlarm(of),
      },
    ],
  };
}

function finishingEvent(name: CaseName, dates: CaseDates, zone: ZoneName): CalendarEvent[] {
  const times = timesIn({ zone, language: languageTag() });
  const { finishingStartMs, finishingNotBeforeMs } = dates;
  if (finishingStartMs === null || finishingNotBeforeMs === null) return [];
  return [
    {
      uid: uidOf(name, 'finishing'),
      title: calendarWords.finishing(shown(name)),
      words: calendarWords.finishingWords(times.momentAndZone(finishingNotBeforeMs)),
      startMs: finishingStartMs,
      endMs: finishingStartMs + FINISHING_MS,
      alarms: [
        { when: { beforeMs: MS_PER_HOUR }, words: calendarWords.finishingAlarm(shown(name)) },
      ],
    },
  ];
}

const eventsOf = (name: CaseName, dates: CaseDates, zone: ZoneName): CalendarEvent[] => [
  preparationEvent(name, dates),
  appointmentEvent(name, dates),
  ...finishingEvent(name, dates, zone),
];

const ringsAtMs = (
  { startMs }: CalendarEvent,
  { when }: CalendarEvent['alarms'][number],
): number => ('atMs' in when ? when.atMs : startMs - when.beforeMs);

/** Without the alarms whose time is over: some calendars ring them as soon as they come in. */
const stillToRing = (events: readonly CalendarEvent[], nowMs: number): CalendarEvent[] =>
  events.map((event) => ({
    ...event,
    alarms: event.alarms.filter((alarm) => ringsAtMs(event, alarm) > nowMs),
  }));

/**
 * The calendar of a case that was opened. Titles carry the chart reference, never a name.
 * @param options.nowMs when it is made, which is its DTSTAMP; the last entry of the journal when left out.
 * @param options.finishingStartMs the date that people chose for the finishing visit.
 * @param options.clinic its hours hold the visit that is proposed.
 */
export function caseCalendar(
  facts: RecordFacts,
  options: {
    readonly nowMs?: number;
    readonly finishingStartMs?: number;
    readonly clinic?: Pick<ExportClinic, 'hours'>;
  } = {},
): string {
  const { nowMs = ms(facts.lastUtc), clinic = NO_CLINIC, ...chosen } = options;
  const name: CaseName = {
    preparedId: facts.preparedId,
    mode: facts.mode,
    chartRef: facts.chartRef,
    teeth: facts.units.flatMap((u) => u.teeth.map((t) => t.fdi)),
    isFinishing: facts.follows !== null,
    protocol: facts.protocol,
  };
  const zone = facts.zone.name;
  const events = eventsOf(name, caseDates(facts, { ...chosen, hours: clinic.hours }), zone);
  return calendarText(stillToRing(events, nowMs), { stampedAtMs: nowMs, zone });
}

interface Open {
  readonly hours: OpeningHours | null;
  readonly zone: ZoneName;
}

/** Length of the preparation on the day before. A choice of this project. */
const DAY_BEFORE_MS = 30 * MS_PER_MINUTE;

function dayBeforeEvent(name: CaseName, appointmentMs: number, when: Open): CalendarEvent {
  const dayBeforeMs = appointmentMs - 24 * MS_PER_HOUR;
  const startMs = lastOpenStart(dayBeforeMs, { ...when, lengthMs: DAY_BEFORE_MS });
  return {
    uid: uidOf(name, 'day-before'),
    title: calendarWords.dayBefore(shown(name)),
    words: calendarWords.dayBeforeWords,
    startMs,
    endMs: startMs + DAY_BEFORE_MS,
    alarms: [{ when: { beforeMs: 0 }, words: calendarWords.dayBeforeAlarm(shown(name)) }],
  };
}

/** One alarm for each refrigerated material, at the latest moment at which it must be out. */
function outAlarms(name: CaseName, spec: CaseFile, protocol: Protocol): CalendarEvent['alarms'] {
  return latestMaterials(spec, protocol).map(({ slot, latestWallMs }) => ({
    when: { atMs: latestWallMs },
    words: calendarWords.outNow({ material: slot.label, of: shown(name) }),
  }));
}

/** A visit that can be booked before light was given: the whole hold after the appointment. */
function plannedDates(startMs: number, o: Open & { readonly hasVisit: boolean }): CaseDates {
  const endMs = startMs + APPOINTMENT_MS;
  const finishingMs = o.hasVisit ? endMs + FINISHING_AFTER_MS : null;
  return {
    appointment: { startMs, endMs },
    preparationStartMs: startMs - PREPARATION_BEFORE_MS,
    finishingNotBeforeMs: finishingMs,
    finishingStartMs:
      finishingMs === null ? null : firstOpenStart(finishingMs, { ...o, lengthMs: FINISHING_MS }),
  };
}

/**
 * The calendar of a prepared case, null while no date was set: the day before, the hour before with
 * an alarm for each refrigerated material, the appointment, and the finishing visit as far as it can
 * be booked before any light was given. The last three have the ids that the held case gives them.
 * @param options.stampedAtMs when it is made, its DTSTAMP.
 * @param options.clinic its hours hold the preparation of the day before and the visit that is proposed.
 * @param options.zone of the clinic; UTC when left out.
 * @param options.protocol without it, no materials and no finishing visit can be told.
 */
export function preparedCalendar(
  spec: CaseFile,
  options: {
    readonly stampedAtMs: number;
    readonly protocol?: Protocol;
    readonly zone?: ZoneName;
    readonly clinic?: Pick<ExportClinic, 'hours'>;
  },
): string | null {
  if (spec.scheduledFor === undefined) return null;
  const { stampedAtMs, zone = UTC_ZONE, clinic = NO_CLINIC } = options;
  const open = { hours: clinic.hours, zone };
  const protocol = options.protocol && toldProtocol(options.protocol);
  const startMs = ms(spec.scheduledFor);
  const name: CaseName = {
    preparedId: spec.id,
    mode: 'patient',
    chartRef: spec.chartRef,
    teeth: spec.units.flatMap((u) => u.teeth),
    isFinishing: spec.follows !== undefined,
    protocol: protocol === undefined ? null : { title: protocol.title, revision: null },
  };
  const hasVisit = protocol?.steps.some((s) => s.action.kind === 'expose') === true;
  const [hourBefore, ...others] = eventsOf(
    name,
    plannedDates(startMs, { ...open, hasVisit }),
    zone,
  );
  const alarms = protocol === undefined ? [] : outAlarms(name, spec, protocol);
  const withAlarms = hourBefore && { ...hourBefore, alarms: [...hourBefore.alarms, ...alarms] };
  const dayBefore = dayBeforeEvent(name, startMs, open);
  const events = [...(withAlarms ? [withAlarms] : []), ...others, dayBefore];
  return calendarText(stillToRing(events, stampedAtMs), { stampedAtMs, zone });
}
