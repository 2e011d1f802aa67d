/**
 * Local time against published rules: the files of the IANA time zone database (2025b), read there
 * and written down here by hand. Each row names the rule it comes from.
 */
import fc from 'fast-check';
import { afterEach, describe, expect, it } from 'vitest';
import {
  dayIn,
  instantIn,
  isZone,
  localText,
  offsetText,
  zoneChanges,
  zonedIso,
} from '../../src/words/zone.ts';

const at = (utc: string): number => Date.parse(utc);

describe('an instant in a zone', () => {
  it.each([
    // europe: Rule EU, last Sunday of March and of October, 1:00u. Portugal WET/WEST.
    ['2026-03-29T00:59:59Z', 'Europe/Lisbon', '2026-03-29T00:59:59+00:00'],
    ['2026-03-29T01:00:00Z', 'Europe/Lisbon', '2026-03-29T02:00:00+01:00'],
    ['2026-10-25T00:59:59Z', 'Europe/Lisbon', '2026-10-25T01:59:59+01:00'],
    ['2026-10-25T01:00:00Z', 'Europe/Lisbon', '2026-10-25T01:00:00+00:00'],
    // northamerica: Rule US, second Sunday of March and first of November, 2:00 on the wall.
    ['2026-03-08T06:59:59Z', 'America/New_York', '2026-03-08T01:59:59-05:00'],
    ['2026-03-08T07:00:00Z', 'America/New_York', '2026-03-08T03:00:00-04:00'],
    ['2026-11-01T05:59:59Z', 'America/New_York', '2026-11-01T01:59:59-04:00'],
    ['2026-11-01T06:00:00Z', 'America/New_York', '2026-11-01T01:00:00-05:00'],
    // australasia: Rule LH, first Sunday of April and of October, 2:00 on the wall, by half an hour.
    ['2026-04-04T14:59:59Z', 'Australia/Lord_Howe', '2026-04-05T01:59:59+11:00'],
    ['2026-04-04T15:00:00Z', 'Australia/Lord_Howe', '2026-04-05T01:30:00+10:30'],
    ['2026-10-03T15:29:59Z', 'Australia/Lord_Howe', '2026-10-04T01:59:59+10:30'],
    ['2026-10-03T15:30:00Z', 'Australia/Lord_Howe', '2026-10-04T02:30:00+11:00'],
    // asia: Zone Asia/Kathmandu 5:45 since 1986; its midnight is 18:15 in UTC.
    ['2026-11-27T18:14:59Z', 'Asia/Kathmandu', '2026-11-27T23:59:59+05:45'],
    ['2026-11-27T18:15:00Z', 'Asia/Kathmandu', '2026-11-28T00:00:00+05:45'],
    // australasia: Rule Chatham, first Sunday of April and last of September, 2:45 standard time.
    ['2026-04-04T13:59:59Z', 'Pacific/Chatham', '2026-04-05T03:44:59+13:45'],
    ['2026-04-04T14:00:00Z', 'Pacific/Chatham', '2026-04-05T02:45:00+12:45'],
    // northamerica: Zone America/St_Johns -3:30.
    ['2026-01-15T12:00:00Z', 'America/St_Johns', '2026-01-15T08:30:00-03:30'],
    // southamerica: Rule Chile, the Sunday after the first of September, 4:00u: midnight is left out.
    ['2026-09-06T03:59:59Z', 'America/Santiago', '2026-09-05T23:59:59-04:00'],
    ['2026-09-06T04:00:00Z', 'America/Santiago', '2026-09-06T01:00:00-03:00'],
    ['2026-11-28T09:05:07.25Z', 'UTC', '2026-11-28T09:05:07.250+00:00'],
  ])('%s in %s is %s', (utc, zone, local) => {
    expect(zonedIso(at(utc), zone)).toBe(local);
    expect(at(local)).toBe(at(utc));
    expect(dayIn(at(utc), zone)).toBe(local.slice(0, 10));
  });

  it('is told with an offset that gives the instant back, whatever the zone', () => {
    const zones = fc.constantFrom(...Intl.supportedValuesOf('timeZone'), 'UTC');
    const instants = fc.integer({ min: at('1975-01-01'), max: at('2100-01-01') });
    fc.assert(
      fc.property(instants, zones, (ms, zone) => {
        expect(at(zonedIso(ms, zone))).toBe(ms);
        // What a calendar on the wall of that place shows, by the engine's own formatter.
        const shown = new Intl.DateTimeFormat('sv-SE', {
          timeZone: zone,
          dateStyle: 'short',
          timeStyle: 'medium',
        }).format(ms);
        expect(localText(ms, zone).slice(0, 19).replace('T', ' ')).toBe(shown);
      }),
      { numRuns: 2000 },
    );
  });

  it('that no calendar holds is told as the last one that it holds', () => {
    expect(zonedIso(9e15, 'Asia/Kathmandu')).toMatch(/^\+275760-09-1\dT/);
    expect(zonedIso(-9e15, 'America/New_York')).toMatch(/^-27182\d-04-/);
  });
});

describe('a time that was typed', () => {
  const device = process.env['TZ'];
  afterEach(() => {
    if (device === undefined) delete process.env['TZ'];
    else process.env['TZ'] = device;
  });

  const ROWS = [
    ['2026-11-28T09:05', 'Europe/Lisbon', '2026-11-28T09:05:00Z'],
    ['2026-07-01T09:05', 'Europe/Lisbon', '2026-07-01T08:05:00Z'],
    ['2026-11-28T00:00', 'Asia/Kathmandu', '2026-11-27T18:15:00Z'],
    ['2026-11-28T09:05:07.5', 'America/St_Johns', '2026-11-28T12:35:07.5Z'],
    // RFC 5545, section 3.3.5: a time that comes twice is the first; one that does not come is read
    // with the offset before the gap.
    ['2026-10-25T01:30', 'Europe/Lisbon', '2026-10-25T00:30:00Z'],
    ['2026-03-29T01:30', 'Europe/Lisbon', '2026-03-29T01:30:00Z'],
    ['2026-11-01T01:30', 'America/New_York', '2026-11-01T05:30:00Z'],
    ['2026-03-08T02:30', 'America/New_York', '2026-03-08T07:30:00Z'],
    ['2026-04-05T01:45', 'Australia/Lord_Howe', '2026-04-04T14:45:00Z'],
    ['2026-10-04T02:15', 'Australia/Lord_Howe', '2026-10-03T15:45:00Z'],
    ['2026-09-06T00:00', 'America/Santiago', '2026-09-06T04:00:00Z'],
  ] as const;

  it.each(['UTC', 'Europe/Lisbon', 'America/New_York', 'Australia/Lord_Howe'])(
    'is the same instant on a tablet whose own clock stands in %s',
    (tablet) => {
      process.env['TZ'] = tablet;
      for (const [typed, zone, utc] of ROWS) {
        expect(`${typed} ${instantIn(typed, zone)}`).toBe(`${typed} ${at(utc)}`);
      }
    },
  );

  it('is none when it is no date', () => {
    expect(instantIn('2026-02-30T09:00', 'Europe/Lisbon')).toBeNull();
    expect(instantIn('T09:00', 'Europe/Lisbon')).toBeNull();
    expect(instantIn('', 'Europe/Lisbon')).toBeNull();
  });

  it('comes back as it was typed, wherever it exists', () => {
    const zones = fc.constantFrom(...Intl.supportedValuesOf('timeZone'));
    const instants = fc.integer({ min: at('1975-01-01'), max: at('2100-01-01') });
    fc.assert(
      fc.property(instants, zones, (ms, zone) => {
        const typed = localText(ms, zone);
        const read = instantIn(typed, zone) ?? Number.NaN;
        expect(localText(read, zone)).toBe(typed);
        expect(read).toBeLessThanOrEqual(ms);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('the changes of a zone', () => {
  const changes = (zone: string, from: string, to: string) =>
    zoneChanges(zone, { fromMs: at(from), toMs: at(to) }).map(
      ({ atMs, before, after }) =>
        `${new Date(atMs).toISOString().slice(0, 16)} ${offsetText(before)} ${offsetText(after)}`,
    );

  // The same rules as above.
  it.each([
    ['Europe/Lisbon', ['2026-03-29T01:00 +00:00 +01:00', '2026-10-25T01:00 +01:00 +00:00']],
    ['America/New_York', ['2026-03-08T07:00 -05:00 -04:00', '2026-11-01T06:00 -04:00 -05:00']],
    ['Australia/Lord_Howe', ['2026-04-04T15:00 +11:00 +10:30', '2026-10-03T15:30 +10:30 +11:00']],
    ['Asia/Kathmandu', []],
    // africa: Rule Morocco, around Ramadan, 15 February and 22 March 2026.
    ['Africa/Casablanca', ['2026-02-15T02:00 +01:00 +00:00', '2026-03-22T02:00 +00:00 +01:00']],
  ])('%s in 2026: %j', (zone, expected) => {
    expect(changes(zone, '2026-01-01', '2027-01-01')).toEqual(expected);
  });
});

describe('a name of a zone', () => {
  it('is one that this engine has rules for', () => {
    expect(['Europe/Lisbon', 'UTC', 'Australia/Lord_Howe'].every(isZone)).toBe(true);
    expect(['', 'Mars/Olympus', '+05:45', 'Europe/Lisbon ', '../x'].some(isZone)).toBe(false);
  });
});
