import fc from 'fast-check';
import ICAL from 'ical.js';
import { afterEach, describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { followsFrom } from '../../src/engine/follow-on.ts';
import { type CalendarEvent, calendarText } from '../../src/export/calendar.ts';
import { caseCalendar, caseDates, preparedCalendar } from '../../src/export/case-calendar.ts';
import { hashUuid } from '../../src/export/hash-uuid.ts';
import { dayHours, firstOpenStart, openingHours } from '../../src/export/opening-hours.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import type { RecordFacts } from '../../src/export/record-types.ts';
import { Chair, START_WALL_MS } from '../engine/chair.ts';
import { expose, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { finished, followed, sourceOf, templateSetting } from './journals.ts';

// Outside reference: RFC 5545 (Desruisseaux, 2009), read back by the ical.js parser.

const HOUR_MS = 3_600_000;
const octets = (line: string): number => new TextEncoder().encode(line).length;

function eventsIn(text: string): ICAL.Event[] {
  const calendar = new ICAL.Component(ICAL.parse(text));
  return calendar.getAllSubcomponents('vevent').map((c) => new ICAL.Event(c));
}

const msOf = (time: ICAL.Time): number => time.toUnixTime() * 1000;

/** When the alarms of an event ring, worked out from what the parser read (section 3.6.6). */
function ringsOf(event: ICAL.Event): number[] {
  return event.component.getAllSubcomponents('valarm').flatMap((alarm) => {
    const trigger = alarm.getFirstPropertyValue('trigger');
    const firstMs =
      trigger instanceof ICAL.Duration
        ? msOf(event.startDate) + trigger.toSeconds() * 1000
        : msOf(trigger as ICAL.Time);
    const repeat = Number(alarm.getFirstPropertyValue('repeat') ?? 0);
    const every = alarm.getFirstPropertyValue('duration');
    const everyMs = every instanceof ICAL.Duration ? every.toSeconds() * 1000 : 0;
    return Array.from({ length: repeat + 1 }, (_, i) => firstMs + i * everyMs);
  });
}

const clockIn = (zone: string, ms: number): string =>
  new Intl.DateTimeFormat('en-GB', { timeZone: zone, hour: '2-digit', minute: '2-digit' }).format(
    ms,
  );

const plain = (more: Partial<CalendarEvent>): CalendarEvent => ({
  uid: 'u-1',
  title: 'T',
  words: '',
  startMs: Date.UTC(2026, 10, 27, 9),
  endMs: Date.UTC(2026, 10, 27, 10),
  alarms: [],
  ...more,
});

const STAMP = { stampedAtMs: Date.UTC(2026, 10, 25, 8, 30, 15) };

describe('reminders', () => {
  // RFC 5545, section 3.6.6: the two examples of repeated alarms.
  it('ring at 8:00, 8:15 and 8:30 in New York, 30 minutes before and twice again', () => {
    const startMs = Date.parse('1997-03-18T08:30:00-05:00');
    const alarm = {
      when: { beforeMs: HOUR_MS / 2 },
      words: 'Breakfast',
      again: { times: 2, everyMs: HOUR_MS / 4 },
    };
    const text = calendarText([plain({ startMs, endMs: startMs, alarms: [alarm] })], STAMP);
    const rings = ringsOf(present(eventsIn(text)[0], 'event'));
    expect(rings.map((ms) => clockIn('America/New_York', ms))).toEqual(['08:00', '08:15', '08:30']);
  });

  it('ring at 13:30 UTC and every quarter of an hour four times more', () => {
    const alarm = {
      when: { atMs: Date.UTC(1997, 2, 17, 13, 30) },
      words: 'x',
      again: { times: 4, everyMs: HOUR_MS / 4 },
    };
    const rings = ringsOf(
      present(eventsIn(calendarText([plain({ alarms: [alarm] })], STAMP))[0], 'it'),
    );
    expect(rings.map((ms) => clockIn('UTC', ms))).toEqual([
      '13:30',
      '13:45',
      '14:00',
      '14:15',
      '14:30',
    ]);
  });
});

describe('a calendar', () => {
  it('has what RFC 5545 requires of it: CRLF, no line over 75 octets, UID, DTSTAMP', () => {
    const words = `Größe ${'ü'.repeat(60)} 歯 ${'歯'.repeat(50)} 🦷${'🦷'.repeat(30)}`;
    const text = calendarText([plain({ title: words, words })], STAMP);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(text.endsWith('\r\nEND:VCALENDAR\r\n')).toBe(true);
    for (const line of text.split('\r\n')) expect(octets(line)).toBeLessThanOrEqual(75);
    expect(text).toContain('\r\nDTSTAMP:20261125T083015Z\r\n');
    expect(text).toContain('\r\nUID:u-1\r\n');
    expect(eventsIn(text)[0]).toMatchObject({ summary: words, description: words });
  });

  it('gives any words back to another reader', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 120 }), (title) => {
        const text = calendarText([plain({ title })], STAMP);
        // A line break of any kind comes back as a line feed.
        expect(eventsIn(text)[0]?.summary).toBe(title.replaceAll(/\r\n|\r/g, '\n'));
        for (const line of text.split('\r\n')) expect(octets(line)).toBeLessThanOrEqual(75);
      }),
    );
  }, 60_000);
});

/** Facts of a finished case that was moved to another day. */
function movedTo(iso: string): RecordFacts {
  const source = sourceOf(followed('two-veneers').log);
  const first = present(source.log.records[0], 'first').stamp.wallMs;
  const byMs = Date.parse(iso) - first;
  const facts = recordFacts(source);
  const at = (text: string): string => new Date(Date.parse(text) + byMs).toISOString();
  return JSON.parse(JSON.stringify(facts), (key, value) =>
    typeof value === 'string' && /Utc$/.test(key) ? at(value) : value,
  ) as RecordFacts;
}

describe('the dates of a case', () => {
  const zone = process.env['TZ'];
  afterEach(() => {
    if (zone === undefined) delete process.env['TZ'];
    else process.env['TZ'] = zone;
  });

  // Changes of the clocks: IANA time zone database, as Node's Intl carries it.
  it.each([
    ['America/New_York', '2026-10-31T10:00:00-04:00', 'back', -1],
    ['America/New_York', '2027-03-13T10:00:00-05:00', 'forward', 1],
    ['Europe/Berlin', '2026-10-24T10:00:00+02:00', 'back', -1],
    ['Europe/Berlin', '2027-03-27T10:00:00+01:00', 'forward', 1],
    ['Australia/Sydney', '2027-04-03T10:00:00+11:00', 'back', -1],
    ['Australia/Sydney', '2026-10-03T10:00:00+10:00', 'forward', 1],
    ['Australia/Sydney', '2026-11-27T10:00:00+11:00', 'not at all', 0],
  ])(
    'in %s from %s, the clocks going %s, finishing is 24 hours of time after',
    (tz, opened, _, hours) => {
      const facts = { ...movedTo(opened), scheduledFor: opened };
      const text = caseCalendar(facts);
      process.env['TZ'] = tz;
      expect(caseCalendar(facts)).toBe(text);
      const [preparation, appointment, finishing] = eventsIn(text);
      const lastEndMs = Math.max(
        ...facts.steps.flatMap((s) =>
          s.action === 'expose' && s.end ? [Date.parse(s.end.at.toUtc ?? '')] : [],
        ),
      );
      const finishingMs = msOf(present(finishing, 'finishing').startDate);
      expect(finishingMs - lastEndMs).toBeGreaterThanOrEqual(24 * HOUR_MS);
      expect(finishingMs - lastEndMs).toBeLessThan(24.25 * HOUR_MS);
      expect(clockIn(tz, msOf(present(appointment, 'appointment').startDate))).toBe('10:00');
      expect(clockIn(tz, msOf(present(preparation, 'preparation').startDate))).toBe('09:00');
      // The hands of the clock on the wall, 24 hours later, show the change.
      const shown = (ms: number): number => {
        const [h = 0, m = 0] = clockIn(tz, ms).split(':').map(Number);
        return h * 60 + m;
      };
      const quarter = Math.ceil(lastEndMs / (HOUR_MS / 4)) * (HOUR_MS / 4);
      expect(shown(finishingMs) - shown(quarter)).toBe(hours * 60);
    },
  );

  it('count 24 hours from the instant that the chair counts from: when light last fell', () => {
    const surfaces = ['facial', 'lingual'] as const;
    const protocol = protocolOf([step('expose', 'unit', expose({ surfaces, seconds: 10 }))]);
    const chair = (rows: string) => new Chair(settingOf(protocol, ['11', '21'])).rows(rows);
    const both = ({ log }: Chair) => {
      const dates = caseDates(recordFacts(sourceOf(log)));
      const seconds = (ms: number) => (ms - START_WALL_MS) / 1000;
      return {
        calendar: seconds(present(dates.finishingNotBeforeMs, 'a date') - 24 * HOUR_MS),
        chair: seconds(present(followsFrom(log), 'light').lastExposureWallMs),
      };
    };
    const lit = chair('at 0 s light-on expose 11 facial\nat 10 s light-off expose 11');
    expect(both(lit)).toEqual({ calendar: 10, chair: 10 });
    lit.rows('at 600 s skip expose 11 because no more is wanted');
    expect(both(lit)).toEqual({ calendar: 10, chair: 10 });
    // Skipped while it was lit, and long after: the lamp switches itself off at its 10 s.
    const cut = chair('at 0 s light-on expose 11 facial\nat 600 s skip expose 11 because no more');
    expect(both(cut)).toEqual({ calendar: 10, chair: 10 });
    // A press that was moved back is not believed to have been earlier.
    const moved = chair('at 0 s light-on expose 11 facial\nat 9 s light-off expose 11');
    moved.rows('at 12 s retime -3 s');
    expect(both(moved)).toEqual({ calendar: 9, chair: 9 });
  });

  it('keep a date that people chose, unless it is too early', () => {
    const facts = recordFacts(sourceOf(finished().log));
    const notBefore = present(caseDates(facts).finishingNotBeforeMs, 'date');
    const chosen = (finishingStartMs: number) =>
      caseDates(facts, { finishingStartMs }).finishingStartMs;
    expect(chosen(notBefore + 1000)).toBe(notBefore + 1000);
    expect(chosen(notBefore - 1000)).toBe(notBefore);
  });

  it('of a signed case are when it was held, whatever was planned', () => {
    const facts = {
      ...recordFacts(sourceOf(finished().log)),
      scheduledFor: '2026-11-26T09:00:00Z',
    };
    const { appointment } = caseDates(facts);
    expect(new Date(appointment.startMs).toISOString()).toBe('2026-11-27T09:00:00.000Z');
    expect(new Date(appointment.endMs).toISOString()).toBe(facts.signOff?.at.toUtc);
  });

  it('of a prepared case are replaced by those of the same case once it is held', () => {
    const { spec, protocol } = templateSetting('two-veneers');
    const text = present(preparedCalendar(spec, { ...STAMP, protocol }), 'calendar');
    const [preparation, appointment, finishing, dayBefore, ...others] = eventsIn(text);
    expect(others).toEqual([]);
    expect(msOf(present(dayBefore, 'it').startDate)).toBe(Date.UTC(2026, 10, 26, 14, 30));
    // Two hours of appointment and 24 h of hold (common practice, no source).
    expect(msOf(present(finishing, 'it').startDate)).toBe(Date.UTC(2026, 10, 28, 16, 30));
    // Once the hour begins, twice again, and for each of four bottles an hour before the patient
    // (common practice, no source).
    const rings = ringsOf(present(preparation, 'it')).map((at) => new Date(at).toISOString());
    expect(rings.map((at) => at.slice(11, 16))).toEqual([
      '13:30',
      '13:40',
      '13:50',
      '13:30',
      '13:30',
      '13:30',
      '13:30',
    ]);
    const words = present(preparation, 'it')
      .component.getAllSubcomponents('valarm')
      .map((alarm) => String(alarm.getFirstPropertyValue('description')));
    expect(words.slice(1).map((w) => w.split(' must')[0])).toEqual([
      'Adhesive A',
      'Adhesive B',
      'Bonding resin',
      'Cement',
    ]);
    // The case file says 2026-11-27T14:30:00+00:00.
    expect(msOf(present(appointment, 'it').startDate)).toBe(Date.UTC(2026, 10, 27, 14, 30));
    expect(msOf(present(preparation, 'it').startDate)).toBe(Date.UTC(2026, 10, 27, 13, 30));
    const facts = recordFacts(sourceOf(followed('two-veneers').log));
    const held = eventsIn(caseCalendar({ ...facts, mode: 'patient' })).map((e) => e.uid);
    expect(held).toEqual([preparation?.uid, appointment?.uid, finishing?.uid]);
    expect(eventsIn(caseCalendar(facts)).map((e) => e.uid)).not.toContain(appointment?.uid);
    const { scheduledFor: _, ...undated } = spec;
    expect(preparedCalendar(undated, STAMP)).toBeNull();
  });

  it('have no finishing visit while nothing was exposed', () => {
    const facts = recordFacts(sourceOf(followed('two-veneers', 3).log));
    expect(eventsIn(caseCalendar(facts)).map((e) => e.summary)).toEqual([
      'Preparation: SB-0422 (rehearsal)',
      'Cementation: SB-0422 (rehearsal)',
    ]);
  });

  it('keep their ids when the case is exported again with a later note', () => {
    const chair = finished();
    const uids = () => eventsIn(caseCalendar(recordFacts(sourceOf(chair.log)))).map((e) => e.uid);
    const before = uids();
    chair.rows('note one more');
    expect(uids()).toEqual(before);
    expect(new Set(before).size).toBe(3);
  });
});

/** Instants at which anything of a calendar rings. */
const allRings = (text: string): number[] => eventsIn(text).flatMap(ringsOf);

describe('the alarms of a calendar', () => {
  it('of a case that was held are those still to come', () => {
    const facts = recordFacts(sourceOf(followed('two-veneers').log));
    const lastMs = Date.parse(facts.lastUtc);
    expect(allRings(caseCalendar(facts)).filter((at) => at <= lastMs)).toEqual([]);
    // That of the finishing visit is ahead.
    expect(allRings(caseCalendar(facts))).toHaveLength(1);
    const finishingMs = present(caseDates(facts).finishingStartMs, 'a visit');
    expect(allRings(caseCalendar(facts, { nowMs: finishingMs - 30 * 60_000 }))).toEqual([]);
  });

  it('of a prepared case leave out what is over when the file is made', () => {
    const { spec, protocol } = templateSetting('two-veneers');
    const madeAt = (stampedAtMs: number) =>
      allRings(present(preparedCalendar(spec, { stampedAtMs, protocol }), 'calendar'));
    // The case file says 2026-11-27T14:30:00+00:00; at noon that day the day before is over.
    const noonMs = Date.UTC(2026, 10, 27, 12);
    expect(madeAt(noonMs)).toHaveLength(madeAt(STAMP.stampedAtMs).length - 1);
    for (let hour = 0; hour < 60; hour += 1) {
      const nowMs = Date.UTC(2026, 10, 26, 4 + hour);
      expect(madeAt(nowMs).filter((at) => at < nowMs)).toEqual([]);
    }
    expect(madeAt(Date.UTC(2026, 10, 29, 12))).toEqual([]);
  });

  it('are all that is left out: the events of another day stay', () => {
    const { spec, protocol } = templateSetting('two-veneers');
    const uids = (stampedAtMs: number) =>
      eventsIn(present(preparedCalendar(spec, { stampedAtMs, protocol }), 'it')).map((e) => e.uid);
    expect(uids(Date.UTC(2026, 11, 24))).toEqual(uids(STAMP.stampedAtMs));
  });
});

/** The days of a week from Monday, weekdays alike. */
const week = (text: string, saturday = ''): string[] => [
  ...Array.from({ length: 5 }, () => text),
  saturday,
  '',
];

describe('the hours of the clinic', () => {
  const spans = (text: string) =>
    dayHours(text)?.map(({ fromMinutes, toMinutes }) => [fromMinutes, toMinutes]) ?? null;

  it.each([
    ['', []],
    [
      '08:00-12:30, 14:00-18:00',
      [
        [480, 750],
        [840, 1080],
      ],
    ],
    [
      '8-12; 14.30 – 18',
      [
        [480, 720],
        [870, 1080],
      ],
    ],
    ['00:00-24:00', [[0, 1440]]],
    ['8', null],
    ['12-8', null],
    ['08:60-10', null],
    ['8-25', null],
    ['14-18, 8-12', null],
    ['8-12, 11-13', null],
    ['closed', null],
  ])('read %j', (text, read) => {
    expect(spans(text)).toEqual(read);
  });

  it('hold the finishing visit that is proposed: first thing after the hold, closed days passed over', () => {
    // A Friday: 27 November 2026. Light last fell in the afternoon in Lisbon.
    const facts = {
      ...movedTo('2026-11-27T14:30:00Z'),
      zone: { name: 'Europe/Lisbon' },
    } as RecordFacts;
    const notBefore = present(caseDates(facts).finishingNotBeforeMs, 'a date');
    const proposed = (days: readonly string[]): string => {
      const hours = present(openingHours(days), 'hours');
      const text = caseCalendar(facts, { clinic: { hours } });
      const visit = present(eventsIn(text)[2], 'a visit');
      expect(msOf(visit.startDate)).toBeGreaterThanOrEqual(notBefore);
      expect(msOf(visit.endDate) - msOf(visit.startDate)).toBe(45 * 60_000);
      return visit.startDate.toString();
    };
    expect(proposed(week('08:30-12:30, 14:00-18:00'))).toBe('2026-11-30T08:30:00');
    expect(proposed(week('08:30-18:00', '9-13'))).toBe('2026-11-30T08:30:00');
    expect(proposed(week('08:30-18:00', '9-20'))).toMatch(/^2026-11-28T1[5-8]/);
    // Half an hour at noon is too short for a visit of 45 min.
    expect(proposed(week('12:00-12:30, 16:00-17:00'))).toBe('2026-11-30T16:00:00');
    // Of a clinic that is never open long enough no time can be proposed within its hours.
    expect(proposed(week('12:00-12:30'))).toBe(
      present(eventsIn(caseCalendar(facts))[2], 'a visit').startDate.toString(),
    );
  });

  it('hold the preparation of the day before a Monday, and stay local when clocks change', () => {
    const { spec, protocol } = templateSetting('two-veneers');
    const made = (scheduledFor: string, days: readonly string[], zone: string) => {
      const clinic = { hours: openingHours(days) };
      const dated = { ...spec, scheduledFor };
      return eventsIn(
        present(
          preparedCalendar(dated, {
            stampedAtMs: Date.UTC(2026, 9, 1),
            protocol,
            zone,
            clinic,
          }),
          'calendar',
        ),
      ).map((e) => e.startDate.toString());
    };
    // IANA time zone database: Berlin put its clocks back on Sunday 25 October 2026.
    const dates = made('2026-10-23T10:00:00+02:00', week('08:00-17:00'), 'Europe/Berlin');
    expect(dates.slice(1)).toEqual([
      '2026-10-23T10:00:00',
      '2026-10-26T08:00:00',
      '2026-10-22T10:00:00',
    ]);
    const monday = made('2026-10-26T09:00:00+01:00', week('08:00-17:00'), 'Europe/Berlin');
    expect(monday.at(-1)).toBe('2026-10-23T16:30:00');
  });

  it('of any week hold any visit, or none is open long enough', () => {
    const clock = fc.integer({ min: 0, max: 1440 });
    const span = fc.tuple(clock, clock).map(([a, b]) => (a < b ? [a, b] : [b, a + 1]));
    const write = ([a = 0, b = 0]: readonly number[]): string => {
      const text = (m: number) => `${Math.floor(m / 60)}:${String(m % 60).padStart(2, '0')}`;
      return a >= b || b > 1440 ? '' : `${text(a)}-${text(b)}`;
    };
    fc.assert(
      fc.property(fc.array(span, { minLength: 7, maxLength: 7 }), fc.nat(1e10), (days, late) => {
        const texts = days.map(write);
        const hours = openingHours(texts);
        if (hours === null) return;
        const zone = 'Europe/Lisbon';
        const notBeforeMs = Date.UTC(2026, 9, 20) + late;
        const lengthMs = 45 * 60_000;
        const atMs = firstOpenStart(notBeforeMs, { hours, zone, lengthMs });
        expect(atMs).toBeGreaterThanOrEqual(notBeforeMs);
        const longest = Math.max(...hours.flat().map((s) => s.toMinutes - s.fromMinutes));
        if (longest < 60) return;
        // Read by the clock on the wall that Node's Intl carries.
        const shown = new Intl.DateTimeFormat('en-GB', {
          timeZone: zone,
          weekday: 'short',
          hour: '2-digit',
          minute: '2-digit',
        }).format(atMs);
        const [day = '', clockText = ''] = shown.split(/,? /);
        const [h = 0, m = 0] = clockText.split(':').map(Number);
        const weekdays = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'];
        const open = hours[weekdays.indexOf(day)] ?? [];
        const at = h * 60 + m;
        expect(
          open.some((s) => s.fromMinutes <= at && at + 45 <= s.toMinutes),
          shown,
        ).toBe(true);
      }),
      { numRuns: 200 },
    );
  });
});

describe('ids from hashes', () => {
  it('follow RFC 9562, appendix B.2', () => {
    // RFC 9562 (2024), appendix B.2: name space of DNS, "www.example.com", SHA-256.
    expect(hashUuid('6ba7b810-9dad-11d1-80b4-00c04fd430c8', 'www.example.com')).toBe(
      '5c146b14-3c52-8afd-938a-375d0df1fbf6',
    );
  });
});
