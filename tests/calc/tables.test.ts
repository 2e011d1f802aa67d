import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  isSmallSource,
  radianceLimitSeconds,
  smallSourceLimitSeconds,
} from '../../src/calc/blue-light.ts';
import { dayLimitSeconds } from '../../src/calc/blue-light-day.ts';
import {
  COOLING_FAST_SECONDS,
  COOLING_SLOW_SECONDS,
  RISE_MARKER_C,
  RISE_PER_J_IN_VITRO_HIGH,
  RISE_PER_J_IN_VITRO_LOW,
  RISE_PER_J_IN_VIVO,
} from '../../src/calc/heat.ts';
import { alarmPattern } from '../../src/calc/sound.ts';
import { parseCalcTables } from '../../src/calc/tables.ts';

type Row = Readonly<Record<string, unknown>>;
const folder = new URL('../../shared/tables/', import.meta.url);

function readTable(file: string): { readonly title: string; readonly rows: readonly Row[] } {
  return JSON.parse(readFileSync(new URL(file, folder), 'utf8'));
}

const STANDINGS = ['found', 'from memory', 'derived', 'common practice'];

describe('shared tables', () => {
  test.each(readdirSync(folder))(
    '%s: a title, and a source and its standing in every row',
    (file) => {
      const { title, rows } = readTable(file);
      expect(title.length).toBeGreaterThan(10);
      expect(rows.length).toBeGreaterThan(0);
      for (const row of rows) {
        expect(String(row['source']).length).toBeGreaterThan(15);
        expect(STANDINGS).toContain(row['standing']);
      }
    },
  );

  test('limits in the program are the ones in the table', () => {
    const { rows } = readTable('blue-light-limits.json');
    const limit = (name: string): number => {
      const row = rows.find((each) => String(each['name']).startsWith(name));
      return Number(row?.['limit']);
    };
    const threshold = limit('radiance, beyond');
    expect(radianceLimitSeconds(threshold)).toBe(limit('radiance dose') / threshold);
    expect(radianceLimitSeconds(threshold * 0.999)).toBeNull();
    expect(smallSourceLimitSeconds(2, 'iec')).toBe(limit('small source, dose up to 100 s') / 2);
    expect(smallSourceLimitSeconds(limit('small source, beyond 100 s') * 0.999, 'iec')).toBeNull();
    expect(smallSourceLimitSeconds(limit('small source, beyond 10^4 s') * 0.999)).toBeNull();
    const edgeMm = 8 / limit('small source below');
    expect(isSmallSource({ diameterMm: 8, distanceMm: edgeMm * 1.001 })).toBe(true);
    expect(isSmallSource({ diameterMm: 8, distanceMm: edgeMm * 0.999 })).toBe(false);
    expect(dayLimitSeconds({ route: 'direct', distanceCm: 10 })).toBe(limit('direct view'));
    expect(dayLimitSeconds({ route: 'reflected', distanceCm: 40 })).toBe(limit('light reflected'));
  });

  test('heat slopes and marker are the ones in the table', () => {
    const { rows } = readTable('pulp-heat.json');
    const slope = (at: number): number =>
      Number(rows[at]?.['riseC']) / Number(rows[at]?.['radiantExposureJPerCm2']);
    expect(RISE_PER_J_IN_VITRO_LOW).toBe(slope(0));
    expect(RISE_PER_J_IN_VITRO_HIGH).toBe(slope(1));
    expect(RISE_PER_J_IN_VIVO).toBe(slope(2));
    expect(RISE_MARKER_C).toBe(rows[3]?.['riseC']);
    expect(COOLING_FAST_SECONDS).toBeCloseTo(Number(rows[4]?.['coolingSeconds']), 2);
    expect(COOLING_SLOW_SECONDS).toBe(rows[5]?.['coolingSeconds']);
  });

  test('alarm pulses keep the limits in the table', () => {
    const { rows } = readTable('alarm-signals.json');
    for (const priority of ['high', 'medium', 'low'] as const) {
      const row: Row = rows.find((each) => each['priority'] === priority && 'pulses' in each) ?? {};
      const { pulses } = alarmPattern(priority);
      const within = (value: number, range: unknown): boolean =>
        Array.isArray(range) && value >= range[0] && value <= range[1];
      expect(within(pulses.length, row['pulses'])).toBe(true);
      for (const { durationMs } of pulses) expect(within(durationMs, row['pulseMs'])).toBe(true);
    }
  });

  test('a damaged table is refused with the place of the fault', () => {
    const good = readTable('blue-light-hazard.json');
    const crowns = readTable('crown-dimensions.json');
    const rows = good.rows.map((row, at) => (at === 3 ? { ...row, weight: 1.5 } : row));
    const parsed = parseCalcTables({ blueLight: { ...good, rows }, crowns });
    expect(parsed).toMatchObject({
      ok: false,
      error: { place: 'tables.blueLight.rows[3].weight' },
    });
    const short = { ...crowns, rows: crowns.rows.slice(1) };
    expect(parseCalcTables({ blueLight: good, crowns: short })).toMatchObject({
      ok: false,
      error: { place: 'tables.crowns.rows', came: '15 entries' },
    });
  });
});
