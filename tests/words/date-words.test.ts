/** Moments as people read them, in a zone that is not the machine's. */
import { tz } from '@date-fns/tz';
import { format } from 'date-fns';
import { enGB } from 'date-fns/locale/en-GB';
import { enUS } from 'date-fns/locale/en-US';
import fc from 'fast-check';
import { afterEach, describe, expect, it } from 'vitest';
import { dayAfter, instantOf, type Times, timesIn } from '../../src/words/date-words.ts';

const at = (utc: string): number => Date.parse(utc);
const times = (zone: string): Times => timesIn({ zone, language: 'en' });

const device = process.env['TZ'];
afterEach(() => {
  if (device === undefined) delete process.env['TZ'];
  else process.env['TZ'] = device;
});

// The library's own full formatter with its English names is the outside word for every form.
const FORMS: readonly (readonly [keyof Times & string, string])[] = [
  ['day', 'EEE d MMM yyyy'],
  ['date', 'd MMM yyyy'],
  ['dayAndMonth', 'd MMM'],
  ['time', 'HH:mm'],
  ['second', 'HH:mm:ss'],
  ['moment', 'd MMM yyyy, HH:mm'],
  ['momentToTheSecond', 'd MMM yyyy, HH:mm:ss'],
  ['isoDay', 'yyyy-MM-dd'],
  ['fileStamp', 'yyyy-MM-dd-HHmm'],
];

it('writes what the full formatter of date-fns writes, in any zone', () => {
  const instants = fc.integer({ min: at('1975-01-01'), max: at('2100-01-01') });
  const zones = fc.constantFrom(...Intl.supportedValuesOf('timeZone'));
  fc.assert(
    fc.property(instants, zones, fc.constantFrom(...FORMS), (ms, zone, [form, pattern]) => {
      const write = times(zone)[form] as (ms: number) => string;
      expect(write(ms)).toBe(format(ms, pattern, { in: tz(zone), locale: enUS }));
    }),
    { numRuns: 1000 },
  );
});

it('has the short names of British use as well', () => {
  const differing = Array.from({ length: 12 }, (_, month) => Date.UTC(2026, month, 15)).filter(
    (ms) => times('UTC').dayAndMonth(ms) !== format(ms, 'd MMM', { in: tz('UTC'), locale: enGB }),
  );
  expect(differing).toEqual([]);
});

it('takes the names of another language from the engine, in the form of a date', () => {
  const { day, moment } = timesIn({ zone: 'Europe/Warsaw', language: 'pl' });
  // Unicode CLDR, pl: abbreviated weekdays and months in the form of a date.
  expect(day(at('2026-11-26T08:00:00Z'))).toBe('czw. 26 lis 2026');
  expect(moment(at('2026-05-26T08:00:00Z'))).toBe('26 maj 2026, 10:00');
});

it('refuses what is no instant', () => {
  expect(() => times('Europe/Lisbon').moment(Number.NaN)).toThrow(RangeError);
});

describe('a day as seen from now', () => {
  // northamerica: Rule US, the clocks go back at 2:00 on 1 November 2026, a day of 25 hours.
  const { dayKind, when, whenInLine } = times('America/New_York');
  it.each([
    ['2026-11-01T03:59:59Z', 'past'],
    ['2026-11-01T04:00:00Z', 'today'],
    ['2026-11-02T04:59:59Z', 'today'],
    ['2026-11-02T05:00:00Z', 'tomorrow'],
    ['2026-11-03T04:59:59Z', 'tomorrow'],
    ['2026-11-03T05:00:00Z', 'later'],
  ])('%s is %s on the day of the change, which lasts 25 hours', (utc, kind) => {
    for (const now of ['2026-11-01T04:00:00Z', '2026-11-02T04:59:00Z']) {
      expect(dayKind(at(utc), { nowMs: at(now) })).toBe(kind);
    }
  });

  it('is a word for today and tomorrow, else the date', () => {
    const nowMs = at('2026-11-01T12:00:00Z');
    expect(when(at('2026-11-01T14:30:00Z'), { nowMs })).toBe('Today 09:30');
    expect(whenInLine(at('2026-11-02T14:30:00Z'), { nowMs })).toBe('tomorrow 09:30');
    expect(whenInLine(at('2026-11-05T14:30:00Z'), { nowMs })).toBe('Thu 5 Nov, 09:30');
  });
});

describe('what is typed in a form', () => {
  it('is in the clinic’s zone, wherever the tablet’s own clock stands', () => {
    for (const tablet of ['Europe/Lisbon', 'Asia/Kathmandu', 'America/New_York']) {
      process.env['TZ'] = tablet;
      const { isoOf, typed } = times('Asia/Kathmandu');
      expect(isoOf({ date: '2026-11-28', time: '09:05' })).toBe('2026-11-28T09:05:00+05:45');
      expect(typed('2026-11-28T03:20:00Z')).toEqual({ date: '2026-11-28', time: '09:05' });
      expect(typed('2026-11-28T09:05:00-05:00')).toEqual({ date: '2026-11-28', time: '19:50' });
    }
  });

  it('stays as typed while it is half a moment', () => {
    const { isoOf, typed } = times('UTC');
    expect(isoOf({ date: '2026-11-28', time: '' })).toBe('2026-11-28T');
    expect(isoOf({ date: '', time: '09:05' })).toBe('T09:05');
    expect(typed(undefined)).toEqual({ date: '', time: '' });
  });
});

describe('days', () => {
  it('are counted on the calendar, over a change of the clocks too', () => {
    process.env['TZ'] = 'America/New_York';
    expect(dayAfter('2026-03-07', 1)).toBe('2026-03-08');
    expect(dayAfter('2026-03-08', 1)).toBe('2026-03-09');
    expect(dayAfter('2026-12-31', 30)).toBe('2027-01-30');
    const { daysFrom } = times('America/New_York');
    expect(daysFrom('2026-03-07', at('2026-03-09T03:59:00Z'))).toBe(1);
    expect(daysFrom('2026-03-07', at('2026-03-09T04:00:00Z'))).toBe(2);
    expect(daysFrom('2026-03-10', at('2026-03-09T04:00:00Z'))).toBe(-1);
  });

  it('of a label are told as they stand there', () => {
    expect(times('Pacific/Kiritimati').dateOf('2028-11-30')).toBe('30 Nov 2028');
    expect(times('Pacific/Pago_Pago').dateOf('2028-11-30')).toBe('30 Nov 2028');
    expect(times('UTC').dateOf('soon')).toBe('soon');
  });
});

it('an instant needs its offset: without one nobody knows whose time it is', () => {
  expect(instantOf('2026-11-28T09:05:00Z')).toBe(at('2026-11-28T09:05:00Z'));
  expect(instantOf('2026-11-28T09:05:00+05:45')).toBe(at('2026-11-28T03:20:00Z'));
  expect(instantOf('2026-11-28T09:05:00')).toBeNull();
  expect(instantOf('2026-11-28')).toBeNull();
  expect(instantOf(undefined)).toBeNull();
});
