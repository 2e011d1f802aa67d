/** What set-up asks about although the file could be kept. */
import { describe, expect, it } from 'vitest';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { checksOf } from '../../src/ui/set-up/set-up-checks.ts';
import { caseOf } from '../engine/fixture.ts';
import { HERE } from '../tools/here.ts';

/** Noon of 25 November 2026 there. */
const NOW_MS = new Date(2026, 10, 25, 12, 0).getTime();
const at = (ms: number): string => new Date(ms).toISOString();

const asked = (change: Partial<CaseFile>, base?: CaseFile) =>
  Object.fromEntries(
    checksOf({ ...caseOf(['11', '21']), ...change }, { times: HERE, nowMs: NOW_MS, base }),
  );

const units = (restoration: string, thicknessMm: number) =>
  caseOf(['11', '21']).units.map((u, i) => (i === 1 ? { ...u, restoration, thicknessMm } : u));

const light = (readOn: string) => ({ ...caseOf(['11']).light, readOn });

describe('set-up asks about', () => {
  it('a veneer of 5 mm, and says what a veneer may be', () => {
    expect(asked({ units: units('veneer', 5) })).toEqual({
      'case.units[1].thicknessMm': '5 mm is too thick for a veneer. Enter at most 2 mm.',
    });
    expect(asked({ units: units('veneer', 0.5) })).toEqual({});
    expect(asked({ units: units('onlay', 5) })).toEqual({});
    expect(asked({ units: units('crown', 15) })).toHaveProperty(['case.units[1].thicknessMm']);
  });

  it('an appointment that is over, unless it was kept so before', () => {
    const scheduledFor = at(NOW_MS - 60_000);
    expect(asked({ scheduledFor })).toEqual({
      'case.scheduledFor': 'This time is over. Enter one that is to come.',
    });
    expect(asked({ scheduledFor: at(NOW_MS + 60_000) })).toEqual({});
    expect(asked({ scheduledFor }, { ...caseOf(['11']), scheduledFor })).toEqual({});
  });

  it('a light that was measured on a day to come', () => {
    expect(asked({ light: light('2027-11-25') })).toEqual({
      'case.light.readOn': 'This day is to come. Enter the day of the reading.',
    });
    expect(asked({ light: light('2026-11-25') })).toEqual({});
    expect(asked({ light: light('2025-01-07') })).toEqual({});
  });

  it('two people of one name, whatever their letters', () => {
    const [first] = caseOf(['11']).people;
    if (first === undefined) throw new Error('nobody');
    const people = [first, { ...first, id: 'other', label: ` ${first.label.toUpperCase()} ` }];
    expect(asked({ people })).toEqual({
      'case.people[1].label': 'Somebody has this name already. Name them apart.',
    });
  });
});
