import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { problemLine } from '../../src/base/problem.ts';
import { isCalendarDate } from '../../src/protocol/calendar-date.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { parseCaseText } from '../../src/protocol/parse-text.ts';
import { caseText, drop, type Json, json, mutationsOf, put } from './documents.ts';

const file = json(caseText('eight-upper-veneers'));

/** Of other teeth, nothing is known. */
const bare = drop(file, ['teeth']);

const share = { kind: 'measured', share: 0.5, atThicknessMm: 0.5, basis: 'meter of the clinic' };

const linesOf = (value: unknown): readonly string[] => {
  const parsed = parseCase(value);
  return parsed.ok ? [] : parsed.error.map(problemLine);
};

describe('parseCase', () => {
  it.each(['eight-upper-veneers', 'two-veneers'])('reads the prepared case %s', (name) => {
    const parsed = parseCaseText(caseText(name));
    expect(parsed.ok && parsed.value.id).toBe(name);
    expect(parsed.ok && parsed.value.note).toContain('Invented');
  });

  it.each<[string, Json, string]>([
    [
      'a tooth in another notation',
      put(file, ['units', 2, 'teeth', 0], '19'),
      'case.units[2].teeth[0]: expected an FDI tooth number such as "11", got "19"',
    ],
    [
      'a tooth written as a number',
      put(file, ['units', 2, 'teeth', 0], 12),
      'case.units[2].teeth[0]: expected an FDI tooth number such as "11", got 12',
    ],
    [
      'a unit on no tooth',
      put(file, ['units', 2, 'teeth'], []),
      'case.units[2].teeth: expected at least one FDI tooth number, got an empty list',
    ],
    [
      'a tooth that two units claim',
      put(file, ['units', 2, 'teeth', 0], '21'),
      'case.units[2].teeth[0]: expected a tooth other than in case.units[1].teeth[0], got "21"',
    ],
    [
      'a unit id used twice',
      put(file, ['units', 2, 'id'], '21'),
      'case.units[2].id: expected a unit id other than in case.units[1].id, got "21"',
    ],
    [
      'a person named twice',
      put(file, ['people', 1, 'id'], 'dentist-a'),
      'case.people[1].id: expected a person id other than in case.people[0].id, got "dentist-a"',
    ],
    [
      'no unit at all',
      put(file, ['units'], []),
      'case.units: expected at least one unit, got an empty list',
    ],
    [
      'a room in Fahrenheit',
      put(file, ['room', 'temperatureC'], 72),
      'case.room.temperatureC: expected a number from 5 to 45 (degrees Celsius), got 72',
    ],
    [
      'a light in W/cm2',
      put(file, ['light', 'irradianceMwPerCm2'], 0.9),
      'case.light.irradianceMwPerCm2: expected a number from 1 to 10000 (mW/cm2), got 0.9',
    ],
    [
      'a tip wider than any',
      put(file, ['light', 'tipDiameterMm'], 21),
      'case.light.tipDiameterMm: expected a number from 1 to 20 (mm), got 21',
    ],
    [
      'a missing light',
      drop(file, ['light']),
      'case.light: expected a light { label, irradianceMwPerCm2, tipDiameterMm, … }, got nothing',
    ],
    [
      'a time without its offset',
      put(file, ['scheduledFor'], '2026-11-26T09:00:00'),
      'case.scheduledFor: expected a date and time with its offset such as "2026-11-25T09:00:00+01:00", got "2026-11-26T09:00:00"',
    ],
    [
      'a day that no calendar has',
      put(file, ['scheduledFor'], '2027-02-29T09:00:00+01:00'),
      'case.scheduledFor: expected a day of the calendar, got "2027-02-29T09:00:00+01:00"',
    ],
    [
      'a share in percent',
      put(file, ['units', 0, 'transmittance'], { ...share, share: 50 }),
      'case.units[0].transmittance.share: expected a number from 0.001 to 1 (share of the light that passes), got 50',
    ],
    [
      'a meter that was at its floor',
      put(file, ['units', 0, 'transmittance'], { ...share, share: 0 }),
      'case.units[0].transmittance.share: expected a number from 0.001 to 1 (share of the light that passes), got 0',
    ],
    [
      'a share without the thickness it was read at',
      put(file, ['units', 0, 'transmittance'], drop(share, ['atThicknessMm'])),
      'case.units[0].transmittance.atThicknessMm: expected a number from 0.1 to 20 (mm), got nothing',
    ],
    [
      'a share of unknown origin',
      put(file, ['units', 0, 'transmittance'], { ...share, basis: '' }),
      'case.units[0].transmittance.basis: expected how it was measured, or where it is published, got ""',
    ],
    [
      'mixes that leave a unit out',
      put(file, ['groups'], { mixes: [1] }),
      'case.groups.mixes: expected sizes that add up to 8, one for each unit, got 1',
    ],
    [
      'a round of nobody',
      put(file, ['groups'], { rounds: { etch: [2, 0] } }),
      'case.groups.rounds.etch[1]: expected a whole number from 1 to 32, got 0',
    ],
    [
      'a patient name where none belongs',
      put(file, ['patient'], 'x'),
      'case.patient: expected no such key, got "x"',
    ],
  ])('names the place of %s', (_, value, line) => {
    expect(linesOf(value)[0]).toBe(line);
  });

  it('knows the 32 permanent teeth of ISO 3950 and no other number', () => {
    const accepted = Array.from({ length: 100 }, (_, n) => String(n).padStart(2, '0')).filter(
      (tooth) =>
        linesOf(
          put(bare, ['units'], [{ id: 'u', teeth: [tooth], restoration: 'veneer', material: 'm' }]),
        ).length === 0,
    );
    const quadrants = [1, 2, 3, 4];
    const positions = [1, 2, 3, 4, 5, 6, 7, 8];
    expect(accepted).toEqual(quadrants.flatMap((q) => positions.map((p) => `${q}${p}`)));
  });

  it('accepts a bridge on several teeth', () => {
    expect(linesOf(put(bare, ['units', 0, 'teeth'], ['15', '16', '17']))).toEqual([]);
  });

  it('accepts a share of light that was measured for a unit', () => {
    expect(linesOf(put(file, ['units', 0, 'transmittance'], share))).toEqual([]);
  });

  it('survives 2,000 changed files with a named place each', () => {
    fc.assert(
      fc.property(mutationsOf(file), (changed) => {
        for (const line of linesOf(changed)) expect(line).toMatch(/^case(\.|\[|:)/);
      }),
      { numRuns: 2000 },
    );
  }, 60_000);

  it('tells line and column of a broken file', () => {
    const parsed = parseCaseText('{"format": "lutewatch-case",');
    expect(parsed.ok ? [] : parsed.error.map(problemLine)).toEqual([
      'case, line 1, column 29: expected a key in double quotes, got the end of the file',
    ]);
  });
});

describe('isCalendarDate', () => {
  it('agrees with the Gregorian calendar of the JavaScript engine from 1896 to 2104', () => {
    // Outside reference: ECMA-262 Date, proleptic Gregorian calendar.
    for (let year = 1896; year <= 2104; year++) {
      for (let month = 1; month <= 12; month++) {
        for (let day = 0; day <= 32; day++) {
          const date = new Date(Date.UTC(year, month - 1, day));
          const isReal = date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
          const text = [year, month, day].map((n) => String(n).padStart(2, '0')).join('-');
          if (isCalendarDate(text) !== isReal) expect.fail(text);
        }
      }
    }
    expect(isCalendarDate('2028-13-01')).toBe(false);
  });
});
