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
import { hashUuid } from './hash-uuid.ts';
import type { EdgeFact, RecordFacts } from './record-types.ts';

/** Shortest wait before the finishing visit. Common practice, no source. */
const FINISHING_AFTER_MS = 24 * MS_PER_HOUR;
/** How long before the appointment refrigerated materials come out. Common practice, no source. */
const PREPARATION_BEFORE_MS = 60 * MS_PER_MINUTE;
/** Length of an appointment that has not been held yet. A choice of this project. */
const APPOINTMENT_MS = 120 * MS_PER_MINUTE;
/** Length of a finishing visit. A choice of this project. */
const FINISHING_MS = 45 * MS_PER_MINUTE;
const QUARTER_MS = 15 * MS_PER_MINUTE;

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

/** When the last exposure ended at the latest, by the wall clock. */
function lastExposureMs(facts: RecordFacts): number | null {
  const exposed = facts.steps.filter((s) => s.action === 'expose' && s.exposures.length > 0);
  return latest(exposed.flatMap((s) => (s.end ? [latestMs(s.end)] : [])));
}

function finishingNotBeforeMs(facts: RecordFacts): number | null {
  // A case that goes on from another is the finishing visit itself.
  if (facts.follows !== null) return null;
  const exposedMs = lastExposureMs(facts);
  const holds = facts.windows.filter((w) => w.protects === 'hold' && w.closed === null);
  return latest([
    ...(exposedMs === null ? [] : [exposedMs + FINISHING_AFTER_MS]),
    ...holds.flatMap((w) =>
      w.minMs === null ? [] : [latestMs({ at: w.opened, pressed: null }) + w.minMs],
    ),
  ]);
}

/** Reads the dates from a record. A finishing visit is proposed at the next quarter of an hour. */
export function caseDates(
  facts: RecordFacts,
  chosen: { readonly finishingStartMs?: number } = {},
): CaseDates {
  const openedMs = ms(facts.openedUtc);
  const plannedMs = facts.scheduledFor === null ? openedMs : ms(facts.scheduledFor);
  // Once it was signed, the appointment was when it was, not when it was planned.
  const appointment = facts.signOff
    ? { startMs: openedMs, endMs: Math.max(openedMs, latestMs(facts.signOff)) }
    : { startMs: plannedMs, endMs: plannedMs + APPOINTMENT_MS };
  const notBeforeMs = finishingNotBeforeMs(facts);
  const proposedMs = notBeforeMs === null ? null : Math.ceil(notBeforeMs / QUARTER_MS) * QUARTER_MS;
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

/**
 * The calendar of a case that was opened. Titles carry the chart reference, never a name.
 * @param options.stampedAtMs DTSTAMP; the last entry of the journal when left out.
 * @param options.finishingStartMs the date that people chose for the finishing visit.
 */
export function caseCalendar(
  facts: RecordFacts,
  options: { readonly stampedAtMs?: number; readonly finishingStartMs?: number } = {},
): string {
  const { stampedAtMs = ms(facts.lastUtc), ...chosen } = options;
  const name: CaseName = {
    preparedId: facts.preparedId,
    mode: facts.mode,
    chartRef: facts.chartRef,
    teeth: facts.units.flatMap((u) => u.teeth.map((t) => t.fdi)),
    isFinishing: facts.follows !== null,
    protocol: facts.protocol,
  };
  const zone = facts.zone.name;
  return calendarText(eventsOf(name, caseDates(facts, chosen), zone), { stampedAtMs, zone });
}

/** Length of the preparation on the day before. A choice of this project. */
const DAY_BEFORE_MS = 30 * MS_PER_MINUTE;

function dayBeforeEvent(name: CaseName, appointmentMs: number): CalendarEvent {
  const startMs = appointmentMs - 24 * MS_PER_HOUR;
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
function plannedDates(startMs: number, hasVisit: boolean): CaseDates {
  const endMs = startMs + APPOINTMENT_MS;
  const finishingMs = hasVisit ? endMs + FINISHING_AFTER_MS : null;
  return {
    appointment: { startMs, endMs },
    preparationStartMs: startMs - PREPARATION_BEFORE_MS,
    finishingNotBeforeMs: finishingMs,
    finishingStartMs:
      finishingMs === null ? null : Math.ceil(finishingMs / QUARTER_MS) * QUARTER_MS,
  };
}

/**
 * The calendar of a prepared case, null while no date was set: the day before, the hour before with
 * an alarm for each refrigerated material, the appointment, and the finishing visit as far as it can
 * be booked before any light was given. The last three have the ids that the held case gives them.
 * @param options.stampedAtMs DTSTAMP.
 * @param options.zone of the clinic; UTC when left out.
 * @param options.protocol without it, no materials and no finishing visit can be told.
 */
export function preparedCalendar(
  spec: CaseFile,
  options: {
    readonly stampedAtMs: number;
    readonly protocol?: Protocol;
    readonly zone?: ZoneName;
  },
): string | null {
  if (spec.scheduledFor === undefined) return null;
  const { stampedAtMs, zone = UTC_ZONE } = options;
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
  const [hourBefore, ...others] = eventsOf(name, plannedDates(startMs, hasVisit), zone);
  const alarms = protocol === undefined ? [] : outAlarms(name, spec, protocol);
  const withAlarms = hourBefore && { ...hourBefore, alarms: [...hourBefore.alarms, ...alarms] };
  const events = [...(withAlarms ? [withAlarms] : []), ...others, dayBeforeEvent(name, startMs)];
  return calendarText(events, { stampedAtMs, zone });
}
