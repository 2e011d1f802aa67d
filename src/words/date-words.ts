/**
 * How instants are written, for one zone and language. Instants are ms since 1970; nothing here knows
 * what time it is, nor which zone the tablet's own clock is set to.
 */
import { isValid, parseISO } from 'date-fns';
import { MS_PER_DAY } from '../base/units.ts';
import { type DateParts, datePartsOf, type Locality } from './date-parts.ts';
import { dates } from './en/dates.ts';
import { spoken } from './language.ts';
import { dayIn, instantIn, localText, zonedIso } from './zone.ts';

const dateWords = spoken('dates', dates);

type DayKind = 'today' | 'tomorrow' | 'past' | 'later';

/** What a date field and a time field hold. */
interface TypedMoment {
  readonly date: string;
  readonly time: string;
}

interface Now {
  readonly nowMs: number;
}

/** The times of one place: made once, handed to whatever tells a moment. */
export interface Times extends Locality {
  /** `Thu 26 Nov 2026` */
  day(ms: number): string;
  /** `26 Nov 2026` */
  date(ms: number): string;
  /** The same of a day that is no moment, `2026-11-26`; as it is when it is none. */
  dateOf(isoDay: string): string;
  /** `26 Nov` */
  dayAndMonth(ms: number): string;
  /** `09:00` */
  time(ms: number): string;
  /** `09:00:07` */
  second(ms: number): string;
  /** `26 Nov 2026, 09:00` */
  moment(ms: number): string;
  /** `26 Nov 2026, 09:00:07` */
  momentToTheSecond(ms: number): string;
  /** `26 Nov 2026, 09:00 (Europe/Lisbon)` */
  momentAndZone(ms: number): string;
  /** `Today 09:00`, `Tomorrow 14:30`, `Thu 26 Nov, 09:00`. */
  when(ms: number, o: Now): string;
  /** The same inside a sentence: `today 09:00`. */
  whenInLine(ms: number, o: Now): string;
  /** Where a day lies as seen from now. */
  dayKind(ms: number, o: Now): DayKind;
  /** `2026-11-26` */
  isoDay(ms: number): string;
  /** `2026-11-26-0900`, for the name of a file. */
  fileStamp(ms: number): string;
  /** ISO 8601 with the offset: `2026-11-26T09:00:07+00:00`. */
  iso(ms: number): string;
  /** The instant of a day and a time without an offset; null when it is none. */
  instantOf(local: string): number | null;
  /** An ISO 8601 text with its offset, cut into what a date field and a time field hold. */
  typed(iso: string | undefined): TypedMoment;
  /** The ISO 8601 text, with the offset, of a date and a time; as typed when they are none. */
  isoOf(typed: TypedMoment): string;
  /** Whole calendar days from a day, `2026-11-26`, to an instant; negative while it lies ahead. */
  daysFrom(isoDay: string, ms: number): number;
}

/** The instant of an ISO 8601 text with its offset, or null when it is none. */
export function instantOf(iso: string | undefined): number | null {
  if (iso === undefined || !/(Z|[+-]\d\d:?\d\d)$/.test(iso)) return null;
  const date = parseISO(iso);
  return isValid(date) ? date.getTime() : null;
}

/** The offset at the end of an ISO 8601 text: `+05:45`. */
export const offsetOf = (iso: string): string => /[+-]\d\d:\d\d$/.exec(iso)?.[0] ?? '';

/**
 * A local time with its offset, `2026-11-26T09:00:07.250+00:00`, in words to the second or finer; the
 * offset is told only where it is not `usual`.
 */
export function localWords(
  iso: string,
  o: { readonly language: string; readonly usual: string },
): string {
  const offset = offsetOf(iso);
  const local = iso.slice(0, iso.length - offset.length);
  const parts = datePartsOf(Date.parse(`${local}Z`), { zone: 'UTC', language: o.language });
  const fraction = /\.\d+$/.exec(local)?.[0] ?? '';
  const moment = dateWords.momentToTheSecond({ ...parts, second: `${parts.second}${fraction}` });
  return offset === o.usual ? moment : dateWords.withOffset({ moment, offset });
}

const dayMs = (isoDay: string): number => instantIn(isoDay, 'UTC') ?? Number.NaN;

/** The day, `2026-11-26`, that lies so many days after another. */
export function dayAfter(isoDay: string, days: number): string {
  return dayIn(dayMs(isoDay) + days * MS_PER_DAY, 'UTC');
}

function dayKindIn(zone: string, ms: number, { nowMs }: Now): DayKind {
  const [day, today] = [dayIn(ms, zone), dayIn(nowMs, zone)];
  if (day === today) return 'today';
  if (day === dayAfter(today, 1)) return 'tomorrow';
  return ms < nowMs ? 'past' : 'later';
}

/** The times of a place. */
export function timesIn(locality: Locality): Times {
  const { zone, language } = locality;
  const written =
    (form: (parts: DateParts) => string) =>
    (ms: number): string =>
      form(datePartsOf(ms, locality));
  const inDays = (
    forms: Readonly<Record<'today' | 'tomorrow' | 'other', (parts: DateParts) => string>>,
  ) => {
    return (ms: number, now: Now): string => {
      const kind = dayKindIn(zone, ms, now);
      const form = kind === 'past' || kind === 'later' ? forms.other : forms[kind];
      return form(datePartsOf(ms, locality));
    };
  };
  const { otherDay: other } = dateWords;
  const typed = (iso: string | undefined): TypedMoment => {
    const ms = instantOf(iso);
    if (ms === null) return { date: '', time: '' };
    const [date = '', time = ''] = localText(ms, zone).split('T');
    return { date, time: time.slice(0, 5) };
  };
  return {
    zone,
    language,
    day: written(dateWords.day),
    date: written(dateWords.date),
    dateOf: (isoDay) => {
      const ms = instantIn(isoDay, 'UTC');
      return ms === null ? isoDay : dateWords.date(datePartsOf(ms, { zone: 'UTC', language }));
    },
    dayAndMonth: written(dateWords.dayAndMonth),
    time: written(dateWords.time),
    second: written(dateWords.second),
    moment: written(dateWords.moment),
    momentToTheSecond: written(dateWords.momentToTheSecond),
    momentAndZone: (ms) =>
      dateWords.momentAndZone({ moment: dateWords.moment(datePartsOf(ms, locality)), zone }),
    when: inDays({ today: dateWords.today, tomorrow: dateWords.tomorrow, other }),
    whenInLine: inDays({ today: dateWords.todayInLine, tomorrow: dateWords.tomorrowInLine, other }),
    dayKind: (ms, now) => dayKindIn(zone, ms, now),
    isoDay: (ms) => dayIn(ms, zone),
    fileStamp: (ms) => localText(ms, zone).slice(0, -7).replace('T', '-').replace(':', ''),
    iso: (ms) => zonedIso(ms, zone),
    instantOf: (local) => instantIn(local, zone),
    typed,
    isoOf: ({ date, time }) => {
      // Half a moment would be read as midnight, or as none; it stays as typed, to be asked for.
      const ms = date === '' || time === '' ? null : instantIn(`${date}T${time}`, zone);
      return ms === null ? `${date}T${time}` : zonedIso(ms, zone);
    },
    daysFrom: (isoDay, ms) => Math.round((dayMs(dayIn(ms, zone)) - dayMs(isoDay)) / MS_PER_DAY),
  };
}
