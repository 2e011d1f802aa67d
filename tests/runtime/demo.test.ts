/** A fresh tablet begins with nothing overdue and nothing expired, whatever the day. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { datedFrom, demoStock } from '../../src/runtime/library/demo.ts';
import { materialWarnings } from '../../src/runtime/stock/stock-warnings.ts';
import { instantOf, timesIn } from '../../src/words/date-words.ts';

const folder = new URL('../../demo-data/', import.meta.url);
const read = (path: string): unknown => JSON.parse(readFileSync(new URL(path, folder), 'utf8'));
const specs = readdirSync(new URL('cases/', folder)).flatMap((name) => {
  const parsed = parseCase(read(`cases/${name}`));
  return parsed.ok ? [parsed.value] : [];
});
const stock = read('stock.json');

const STARTS = [
  ['2026-11-25T08:00:00Z', 'Europe/Lisbon'],
  ['2027-03-27T23:30:00Z', 'Europe/Berlin'],
  ['2031-07-01T10:00:00Z', 'Australia/Lord_Howe'],
  ['2026-02-28T23:59:00Z', 'Asia/Kathmandu'],
] as const;

describe.each(STARTS)('first started at %s in %s', (iso, zone) => {
  const start = { nowMs: Date.parse(iso), times: timesIn({ zone, language: 'en' }) };
  const dated = datedFrom(specs, start);

  test('the first appointment is tomorrow, at the time of the day that the file has', () => {
    const at = dated.map(({ scheduledFor }) => instantOf(scheduledFor) ?? 0);
    expect(at).toHaveLength(8);
    expect(start.times.dayKind(Math.min(...at), start)).toBe('tomorrow');
    const hours = (list: readonly { readonly scheduledFor?: string }[]) =>
      list.map(({ scheduledFor }) => scheduledFor?.slice(11, 16));
    expect(hours(dated)).toEqual(hours(specs));
  });

  test('cases stay as many days apart as they were, and no reading of a light is of the future', () => {
    const days = (list: typeof specs) =>
      list.map(({ scheduledFor }) => Date.parse(`${scheduledFor?.slice(0, 10)}T00:00:00Z`));
    const apart = (of: readonly number[]) => of.map((day) => day - Math.min(...of));
    expect(apart(days([...dated]))).toEqual(apart(days(specs)));
    const today = start.times.isoDay(start.nowMs);
    for (const { light } of dated) expect((light.readOn ?? '') <= today).toBe(true);
  });

  test('there are lots, and none is expired or opened too long', () => {
    const lots = demoStock(stock, start);
    expect(lots.length).toBeGreaterThanOrEqual(4);
    for (const lot of lots) {
      expect(lot.lot).not.toBe('');
      const codes = materialWarnings(lot, start.nowMs, start.times).map(({ code }) => code);
      expect(codes.filter((code) => code !== 'still-cold')).toEqual([]);
    }
  });
});
