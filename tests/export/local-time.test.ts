/** Local time with its offset in every form of a record; the calendar as ical.js reads it. */
import { parse } from 'csv-parse/sync';
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { type CaseLog, replay } from '../../src/engine/log.ts';
import { preparedCalendar } from '../../src/export/case-calendar.ts';
import { EXPORT_FORMS, exportFile } from '../../src/export/export-forms.ts';
import type { RecordSource } from '../../src/export/export-source.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import type { FormId } from '../../src/words/codes.ts';
import { finished, sourceOf, templateSetting } from './journals.ts';

const small = finished().log;

/** The same case as if it had been opened at another instant, in a clinic of this zone. */
function openedIn(o: { readonly utc: string; readonly zone?: string }): CaseLog {
  const byMs = Date.parse(o.utc) - present(small.records[0], 'opening').stamp.wallMs;
  return replay(
    small.records.map((r): typeof r => {
      const stamp = { ...r.stamp, wallMs: (r.stamp.wallMs + byMs) as typeof r.stamp.wallMs };
      const event =
        r.event.type === 'case-opened' && o.zone !== undefined
          ? { ...r.event, zone: o.zone }
          : r.event;
      return { ...r, stamp, event };
    }),
  );
}

const source = (o: {
  readonly utc: string;
  readonly zone?: string;
  readonly clinicZone?: string;
}): RecordSource => ({
  ...sourceOf(openedIn(o)),
  ...(o.clinicZone === undefined ? {} : { clinicZone: o.clinicZone }),
});
const made = (form: FormId, o: Parameters<typeof source>[0]): string =>
  exportFile(source(o), form).text;

const KATHMANDU = { utc: '2026-11-27T03:20:07Z', zone: 'Asia/Kathmandu' };

/** Every pair of an instant in UTC and the same with its offset, wherever it stands. */
function pairs(value: unknown): [string, string][] {
  if (typeof value !== 'object' || value === null) return [];
  const own = Object.entries(value).flatMap(([key, utc]): [string, string][] => {
    if (!/Utc$/.test(key) || typeof utc !== 'string') return [];
    const local = Reflect.get(value, key.replace(/Utc$/, 'Local'));
    return [[utc, String(local)]];
  });
  return [...own, ...Object.values(value).flatMap(pairs)];
}

/** What says how a moment is known: as an interval, and by which way of pressing. */
const NEWEST_OF_STEPS = [
  'start_latest_case_ms',
  'end_latest_case_ms',
  'pressed',
  'pressed_with',
  'paced_ms',
  'limits',
  'asked_between_min_ms',
  'between_short_by_ms',
  'lots_use_by',
  'protocol_hash',
  'presses_kept_apart',
  'second_end_tablets',
  'second_end_entries',
  'second_end_since_utc',
  'second_end_since_local',
];
const NEWEST_OF_WINDOWS = [
  'opened_case_ms',
  'opened_latest_case_ms',
  'closed_case_ms',
  'closed_latest_case_ms',
  'opened_pressed',
  'closed_pressed',
  'protocol',
  'protocol_revision',
  'protocol_hash',
  'presses_kept_apart',
  'second_end_tablets',
  'second_end_entries',
  'second_end_since_utc',
  'second_end_since_local',
];

describe('the facts', () => {
  it('tell every instant in UTC and beside it in the zone of the case', () => {
    const facts = recordFacts(source(KATHMANDU));
    expect(facts.zone).toEqual({
      name: 'Asia/Kathmandu',
      from: 'case',
      ofCase: 'Asia/Kathmandu',
    });
    expect(facts.openedUtc).toBe('2026-11-27T03:20:07.000Z');
    expect(facts.openedLocal).toBe('2026-11-27T09:05:07+05:45');
    const all = pairs(JSON.parse(JSON.stringify(facts)));
    expect(all.length).toBeGreaterThan(50);
    for (const [utc, local] of all) {
      expect(local).toMatch(/^2026-11-27T09:\d\d:\d\d(\.\d{3})?\+05:45$/);
      expect(Date.parse(local)).toBe(Date.parse(utc));
    }
  });

  it('of a case that names no zone are told in the clinic’s, and say so', () => {
    const o = { utc: KATHMANDU.utc, clinicZone: 'Europe/Lisbon' };
    const { zone, openedLocal } = recordFacts(source(o));
    expect(zone).toEqual({ name: 'Europe/Lisbon', from: 'clinic', ofCase: null });
    expect(openedLocal).toBe('2026-11-27T03:20:07+00:00');
  });

  it('of a case whose zone has no rules here are told in the clinic’s, and name it', () => {
    const o = { ...KATHMANDU, zone: 'Europe/Newtown', clinicZone: 'Europe/Lisbon' };
    expect(recordFacts(source(o)).zone).toEqual({
      name: 'Europe/Lisbon',
      from: 'clinic',
      ofCase: 'Europe/Newtown',
    });
  });

  it('are told in UTC where nobody names a zone', () => {
    const { zone, openedLocal } = recordFacts(source({ utc: KATHMANDU.utc }));
    expect(zone).toEqual({ name: 'UTC', from: 'utc', ofCase: null });
    expect(openedLocal).toBe('2026-11-27T03:20:07+00:00');
  });
});

describe('the tables', () => {
  it.each(['csv-steps', 'csv-windows'] as const)('%s have local columns after the old', (form) => {
    const utc = parse(made(form, KATHMANDU), { columns: true, bom: true }) as Record<
      string,
      string
    >[];
    const names = Object.keys(present(utc[0], 'row'));
    const isOfEnd = (n: string): boolean => n.startsWith('second_end_');
    const ofUtc = names.filter((n) => n.endsWith('_utc') && !isOfEnd(n));
    const firstLocal = names.findIndex((n) => n.endsWith('_local'));
    expect(ofUtc.length).toBe(4);
    // What a reader counts off by its place stays where it was.
    expect(names.slice(firstLocal)).toEqual([
      ...ofUtc.map((n) => n.replace('_utc', '_local')),
      'zone',
      // Newer columns stand after all of these.
      ...(form === 'csv-steps' ? ['pressed_by', 'done_by', 'done_by_role'] : []),
      'said',
      ...(form === 'csv-steps' ? NEWEST_OF_STEPS : NEWEST_OF_WINDOWS),
    ]);
    for (const row of utc) {
      expect(row['zone']).toBe('Asia/Kathmandu');
      for (const name of ofUtc) {
        const local = row[name.replace('_utc', '_local')] ?? '';
        if (row[name] === '') expect(local).toBe('');
        else expect(Date.parse(local)).toBe(Date.parse(row[name] ?? ''));
        if (local !== '') expect(local).toMatch(/\+05:45$/);
      }
    }
  });
});

describe('the text', () => {
  it('names the zone once and tells its times in words', () => {
    const text = made('text', KATHMANDU);
    expect(text.match(/Asia\/Kathmandu/g)).toHaveLength(1);
    expect(text).toContain('Times: Local time of the clinic, Asia/Kathmandu (UTC+05:45)');
    expect(text).toContain('Opened: 27 Nov 2026, 09:05:07\n');
    expect(text).toContain('press 8 of 27 Nov 2026, 09:06:25 taken back');
    expect(text).not.toMatch(/\d UTC/);
  });

  it('says that an older case names no zone', () => {
    expect(made('text', { utc: KATHMANDU.utc, clinicZone: 'Europe/Lisbon' })).toContain(
      'Times: In the clinic’s zone, Europe/Lisbon; the case itself names none (UTC+00:00)',
    );
    expect(made('text', { utc: KATHMANDU.utc })).toContain(
      'Times: In UTC; the case itself names no zone (UTC+00:00)',
    );
  });

  // europe: Rule EU, the clocks go back at 1:00 UTC on 25 October 2026.
  it('gives the offset where it is another one than at the opening', () => {
    const text = made('text', { utc: '2026-10-25T00:59:00Z', zone: 'Europe/Lisbon' });
    expect(text).toContain('Opened: 25 Oct 2026, 01:59:00\n');
    expect(text).toContain('25 Oct 2026, 01:00:18 (UTC+00:00)');
  });
});

describe('the names of files', () => {
  it('carry the day of the clinic', () => {
    const late = { utc: '2026-11-27T23:30:00Z', zone: 'Asia/Kathmandu' };
    for (const { id } of EXPORT_FORMS) {
      expect(exportFile(source(late), id).name).toContain('2026-11-28');
    }
  });
});

describe('the calendar', () => {
  const events = (text: string): ICAL.Event[] =>
    new ICAL.Component(ICAL.parse(text))
      .getAllSubcomponents('vevent')
      .map((c) => new ICAL.Event(c));

  // Rules: europe EU; northamerica US; australasia LH; asia Asia/Kathmandu; africa Morocco.
  it.each([
    ['Europe/Lisbon', '2026-10-25T10:00:00+00:00', '2026-10-25T10:00:00'],
    ['America/New_York', '2026-11-01T00:30:00-04:00', '2026-11-01T00:30:00'],
    ['America/New_York', '2027-03-13T16:00:00-05:00', '2027-03-13T16:00:00'],
    ['Australia/Lord_Howe', '2026-10-03T09:00:00+10:30', '2026-10-03T09:00:00'],
    ['Australia/Lord_Howe', '2027-04-03T16:00:00+11:00', '2027-04-03T16:00:00'],
    ['Asia/Kathmandu', '2026-11-28T09:05:00+05:45', '2026-11-28T09:05:00'],
    ['Africa/Casablanca', '2026-02-14T09:00:00+01:00', '2026-02-14T09:00:00'],
    ['UTC', '2026-11-28T09:05:00+00:00', '2026-11-28T09:05:00'],
  ])('in %s at %s is read by ical.js as that instant and that local time', (zone, at, local) => {
    const { spec, protocol } = templateSetting('two-veneers');
    const stampedAtMs = Date.parse('2026-01-05T08:00:00Z');
    const prepared = (inZone: string) =>
      present(
        preparedCalendar({ ...spec, scheduledFor: at }, { stampedAtMs, protocol, zone: inZone }),
        'calendar',
      );
    const text = prepared(zone);
    const read = events(text);
    const starts = read.map((e) => e.startDate.toUnixTime() * 1000);
    expect(starts).toContain(Date.parse(at));
    const own = present(
      read.find((e) => e.startDate.toUnixTime() * 1000 === Date.parse(at)),
      'appointment',
    );
    expect(own.startDate.toString()).toBe(zone === 'UTC' ? `${local}Z` : local);
    // Whatever the zone it is written in, the events are the same instants.
    const inUtc = events(prepared('UTC')).map((e) => [
      e.uid,
      e.startDate.toUnixTime(),
      e.endDate.toUnixTime(),
    ]);
    expect(read.map((e) => [e.uid, e.startDate.toUnixTime(), e.endDate.toUnixTime()])).toEqual(
      inUtc,
    );
  });

  it('has what RFC 5545 asks of a time zone, section 3.6.5', () => {
    const text = made('ical', { utc: '2026-11-27T09:00:00Z', zone: 'Australia/Lord_Howe' });
    const calendar = new ICAL.Component(ICAL.parse(text));
    const [zone, ...more] = calendar.getAllSubcomponents('vtimezone');
    expect(more).toEqual([]);
    const { component } = { component: present(zone, 'zone') };
    expect(component.getFirstPropertyValue('tzid')).toBe('Australia/Lord_Howe');
    const rules = component.getAllSubcomponents();
    expect(rules.length).toBeGreaterThan(0);
    for (const rule of rules) {
      expect(['standard', 'daylight']).toContain(rule.name);
      for (const name of ['dtstart', 'tzoffsetfrom', 'tzoffsetto']) {
        expect(rule.getAllProperties(name)).toHaveLength(1);
      }
    }
    // One rule holds before the first event begins.
    const first = Math.min(...events(text).map((e) => e.startDate.toUnixTime()));
    const onsets = rules.map((r) => Date.parse(`${r.getFirstPropertyValue('dtstart')}+10:30`));
    expect(Math.min(...onsets)).toBeLessThan(first * 1000);
    // An absolute alarm and the stamp are in UTC, sections 3.8.6.3 and 3.8.7.2.
    expect(text).toMatch(/\r\nDTSTAMP:\d{8}T\d{6}Z\r\n/);
    expect(text).toMatch(/\r\nDTSTART;TZID=Australia\/Lord_Howe:20261127T200000\r\n/);
  });
});
