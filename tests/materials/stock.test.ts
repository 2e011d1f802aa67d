/**
 * The stock list: what is said about a lot, what a typing scanner is, what a label of two codes says,
 * and how a light stands against its own baseline.
 */
import { describe, expect, it } from 'vitest';
import { GROUP_SEPARATOR, type TypedKey, Wedge } from '../../src/runtime/scanner/scanner.ts';
import { readScans } from '../../src/runtime/scanner/scanner-label.ts';
import { lastDayOpen } from '../../src/runtime/stock/last-day.ts';
import { Stock } from '../../src/runtime/stock/stock.ts';
import { lightTrends } from '../../src/runtime/stock/stock-light.ts';
import {
  type LightReading,
  type Material,
  parseLightReading,
  parseMaterial,
} from '../../src/runtime/stock/stock-types.ts';
import { lotOf, materialWarnings } from '../../src/runtime/stock/stock-warnings.ts';

import {
  draftProblems,
  EMPTY_DRAFT,
  type MaterialFields,
  materialOf,
} from '../../src/ui/materials/stock/material-draft.ts';
import { emptyJournal, must } from '../backup/filled-journal.ts';
import { HERE } from '../tools/here.ts';

const at = (iso: string): number => new Date(iso).getTime();
const plain: Material = {
  id: 'm1',
  materialClass: 'light-cured resin cement',
  label: 'Cement, shelf 2',
  lot: 'AB12',
  refrigerated: false,
};
const codes = (material: Material, iso: string) =>
  materialWarnings(material, at(iso), HERE).map((w) => w.code);

describe('what is said about a lot', () => {
  it('is nothing on its last day, and that it is expired from the day after', () => {
    const material = { ...plain, expiry: '2026-11-30' };
    expect(codes(material, '2026-11-30T23:59:59')).toEqual([]);
    expect(materialWarnings(material, at('2026-12-01T00:00:01'), HERE)).toEqual([
      { code: 'expired', days: 1 },
    ]);
  });

  it('counts days after opening by the calendar, over a change of clocks and a leap day', () => {
    const material = { ...plain, openedOn: '2028-02-01', useWithinDays: 60 };
    // 29 days of a leap February from the 1st: 28 left after it, 31 of March, 1 of April.
    expect(lastDayOpen(material)).toBe('2028-04-01');
    expect(codes(material, '2028-04-01T23:00:00')).toEqual([]);
    expect(codes(material, '2028-04-02T00:30:00')).toEqual(['opened-too-long']);
  });

  it('does not limit what was never opened or has no limit', () => {
    expect(lastDayOpen({ ...plain, useWithinDays: 60 })).toBeNull();
    expect(lastDayOpen({ ...plain, openedOn: '2026-01-01' })).toBeNull();
    expect(codes({ ...plain, openedOn: '2020-01-01' }, '2026-11-25T09:00:00')).toEqual([]);
  });

  const cold: Material = { ...plain, refrigerated: true, warmUpMinutes: 60 };
  const rows: readonly [string, number | undefined, number | null | undefined][] = [
    ['never taken out', undefined, null],
    ['taken out just now', 0, 60],
    ['taken out 59 min ago', 59, 1],
    ['taken out 60 min ago', 60, undefined],
    ['taken out 12 h ago', 720, undefined],
    ['taken out yesterday', 1440, null],
    ['taken out in the future, after the clock was moved', -5, null],
  ];
  it.each(rows)('%s: says how long it is still cold', (_, minutesAgo, minutes) => {
    const now = at('2026-11-25T09:00:00');
    const material =
      minutesAgo === undefined ? cold : { ...cold, takenOutWallMs: now - minutesAgo * 60_000 };
    const expected = minutes === undefined ? [] : [{ code: 'still-cold', minutes }];
    expect(materialWarnings(material, now, HERE)).toEqual(expected);
  });

  it('names everything, the gravest first, and the record keeps what was said', () => {
    const now = at('2026-11-25T09:00:00');
    const material: Material = {
      ...cold,
      expiry: '2026-10-31',
      openedOn: '2026-01-01',
      useWithinDays: 90,
      recalled: { onWallMs: now, reason: 'letter of 20 November' },
    };
    const lot = lotOf(material, now, HERE);
    expect(lot.warnings).toEqual(['recalled', 'expired', 'opened-too-long', 'still-cold']);
    expect(lot).toMatchObject({ lot: 'AB12', expiry: '2026-10-31', openedOn: '2026-01-01' });
    expect(Object.values(lot).every((value) => value !== undefined)).toBe(true);
  });

  it('reads back what was stored and refuses what is damaged', () => {
    const full = { ...plain, expiry: '2027-01-31', useWithinDays: 30, note: 'left drawer' };
    expect(parseMaterial(JSON.parse(JSON.stringify(full)))).toEqual(full);
    expect(parseMaterial({ ...full, lot: 7 })).toBeNull();
    expect(parseMaterial(null)).toBeNull();
    expect(parseMaterial({ ...full, expiry: 'soon' })?.expiry).toBeUndefined();
    expect(parseLightReading({ id: 'r', light: 'A', instrument: 'B', onWallMs: 1 })).toBeNull();
  });
});

describe('an entry that is typed', () => {
  const now = at('2026-11-25T09:00:00');
  const draft = {
    ...EMPTY_DRAFT,
    materialClass: 'c',
    label: 'l',
    lot: 'AB12',
    refrigerated: false,
  };

  // "?" is what a date field answers while half of a date stands in it.
  it.each(['?', '0027-05-01', '20270-05-01', '2027-02-30'])('has no expiry %s', (expiry) => {
    expect(draftProblems({ ...draft, expiry }, now, HERE)).toHaveProperty('expiry');
  });
  it.each(['', '2027-05-31', '2024-02-29'])('may have the expiry "%s"', (expiry) => {
    expect(draftProblems({ ...draft, expiry }, now, HERE)).toEqual({});
  });

  const scanned = { text: ']d2x', issuer: 'GS1' };
  it.each<readonly [string, Partial<MaterialFields>, boolean]>([
    ['as the code says', { lot: 'AB12', expiry: '2027-05-31' }, true],
    ['but for the lot', { lot: 'AB13', expiry: '2027-05-31' }, false],
    ['but for the expiry', { lot: 'AB12', expiry: '2028-05-31' }, false],
    ['but for an expiry taken out', { lot: 'AB12', expiry: '' }, false],
    ['but for the device', { lot: 'AB12', expiry: '2027-05-31', deviceIdentifier: 'e' }, false],
  ])('is from its code %s', (_, typed, isFromCode) => {
    const before = { id: 'm', lot: 'AB12', expiry: '2027-05-31', scanned, deviceIdentifier: 'd' };
    const kept = materialOf({ ...draft, deviceIdentifier: 'd', ...typed }, before);
    expect(kept.scanned).toEqual(isFromCode ? scanned : undefined);
    // The form shows it: it stands as whoever typed the rest left it.
    expect(kept.deviceIdentifier).toBe(typed.deviceIdentifier ?? 'd');
  });
  it('may add the expiry that its code does not hold', () => {
    const kept = materialOf({ ...draft, expiry: '2027-05-31' }, { id: 'm', lot: 'AB12', scanned });
    expect(kept).toMatchObject({ scanned, expiry: '2027-05-31' });
  });
});

describe('a recall', () => {
  it('is of the lot: a box entered after it is marked too, until the mark is taken away', async () => {
    const { journal, epoch } = await emptyJournal();
    const stock = new Stock({
      journal,
      epoch: () => epoch,
      tablet: () => 'one',
      nowWallMs: () => 5,
    });
    const reason = 'letter of 20 November';
    must(await stock.receive(plain));
    must(await stock.recallLot({ lot: plain.lot, reason }));
    must(await stock.receive({ ...plain, id: 'm2', lot: ' ab 12' }));
    must(await stock.receive({ ...plain, id: 'm3', lot: 'AB13' }));
    const marks = () => stock.state.getState().materials.map((m) => m.recalled?.reason ?? null);
    expect(marks()).toEqual([reason, reason, null]);
    must(await stock.liftRecall(plain.lot));
    expect(marks()).toEqual([null, null, null]);
  });
});

/** Keys that come `gapMs` apart, and Enter at the end. */
function typed(text: string, gapMs: number, from = 0): TypedKey[] {
  const keys = [...text, 'Enter'];
  return keys.map((key, i) => ({ key, ctrlKey: false, isRepeat: false, atMs: from + i * gapMs }));
}

function labelOf(wedge: Wedge, keys: readonly TypedKey[]): string | null {
  const outcomes = keys.map((key) => wedge.take(key));
  return outcomes.flatMap((o) => (o.kind === 'label' ? [o.text] : []))[0] ?? null;
}

describe('a scanner that types', () => {
  it('is told from a person by its speed and the length of what it sends', () => {
    expect(labelOf(new Wedge(), typed('0104012345678901', 10))).toBe('0104012345678901');
    expect(labelOf(new Wedge(), typed('0104012345678901', 120))).toBeNull();
    expect(labelOf(new Wedge(), typed('ab', 10))).toBeNull();
  });

  it('is not a key that is held down', () => {
    const held = typed('aaaaaaaaaa', 30).map((key, i) => ({ ...key, isRepeat: i > 0 && i < 10 }));
    expect(labelOf(new Wedge(), held)).toBeNull();
  });

  it('starts afresh after a pause', () => {
    const wedge = new Wedge();
    for (const key of typed('garbage', 10).slice(0, -1)) wedge.take(key);
    expect(labelOf(wedge, typed('+A99912345', 10, 5000))).toBe('+A99912345');
  });

  it('sends the separator as ASCII 29, as Control and ], as F8, or as what was set', () => {
    const keys = (middle: Partial<TypedKey>): TypedKey[] =>
      ['1', '0', 'A', 'B', 'X', '2', '1', '7', 'Enter'].map((key, i) => ({
        key,
        ctrlKey: false,
        isRepeat: false,
        atMs: i * 10,
        ...(key === 'X' ? middle : {}),
      }));
    const expected = `10AB${GROUP_SEPARATOR}217`;
    expect(labelOf(new Wedge(), keys({ key: GROUP_SEPARATOR }))).toBe(expected);
    expect(labelOf(new Wedge(), keys({ key: ']', ctrlKey: true }))).toBe(expected);
    expect(labelOf(new Wedge(), keys({ key: 'F8' }))).toBe(expected);
    expect(labelOf(new Wedge({ replacement: '^' }), keys({ key: '^' }))).toBe(expected);
    expect(labelOf(new Wedge(), keys({ key: '^' }))).toBe('10AB^217');
  });

  it('may press Shift in between', () => {
    const keys = typed('AbCdEfGh', 10).flatMap((key) => [
      { ...key, key: 'Shift', atMs: key.atMs - 3 },
      key,
    ]);
    expect(labelOf(new Wedge(), keys)).toBe('AbCdEfGh');
  });
});

describe('a label of two codes', () => {
  const presentYear = 2026;
  // With its check character as the barcode writer BWIPP draws it for A99912345.
  const primary = '+A999123457';

  it('joins an HIBC pair whose link character fits, and refuses one that does not', () => {
    const secondary = (link: string): string => {
      const body = `+$$7LOT5${link}`;
      const alphabet = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-. $/+%';
      const sum = [...body].reduce((s, c) => s + alphabet.indexOf(c), 0);
      return `${body}${alphabet[sum % 43]}`;
    };
    const right = readScans([primary, secondary('7')], { presentYear });
    expect(right.label).toMatchObject({ deviceIdentifier: 'A99912345', lot: 'LOT5', faults: [] });
    expect(right.isWhole).toBe(true);
    const wrong = readScans([primary, secondary('8')], { presentYear });
    expect(wrong.label.faults).toEqual([{ code: 'codes-apart' }]);
  });

  it('never takes a wrong check digit without a word', () => {
    const { label } = readScans(['(01)04012345678902(10)AB'], { presentYear });
    expect(label.faults).toMatchObject([{ code: 'check-digit' }]);
    const hibc = readScans(['+A999123458'], { presentYear }).label;
    expect(hibc.faults).toMatchObject([{ code: 'check-character' }]);
  });

  it('says when a scanner seems to leave separators out', () => {
    const { label } = readScans(['01040123456789011017281130AB'], { presentYear });
    expect(label.faults).toContainEqual({ code: 'separators-left-out' });
  });
});

describe('a light against its own baseline', () => {
  const reading = (day: number, value: number, isBaseline = false): LightReading => ({
    id: `r${day}`,
    light: 'Light A',
    instrument: 'Radiometer 1',
    onWallMs: at(`2026-11-${String(day).padStart(2, '0')}T08:00:00`),
    irradianceMwPerCm2: value,
    isBaseline,
  });

  it('drifts by the change of reading over baseline, in percent', () => {
    const [trend] = lightTrends([reading(20, 900), reading(1, 1200, true), reading(10, 1080)]);
    // 1080 / 1200 = 0.90 and 900 / 1200 = 0.75: by hand.
    expect(trend?.points.map((p) => Math.round(p.changePercent * 10) / 10)).toEqual([0, -10, -25]);
    expect(trend?.last.reading.id).toBe('r20');
  });

  it('begins anew at a new baseline and takes the first reading where none is marked', () => {
    const [trend] = lightTrends([
      reading(1, 1000),
      reading(5, 900),
      reading(9, 800, true),
      reading(12, 760),
    ]);
    expect(trend?.points.map((p) => Math.round(p.changePercent))).toEqual([0, -10, 0, -5]);
    expect(trend?.baseline.id).toBe('r9');
  });

  it('keeps two lights apart', () => {
    const other = { ...reading(3, 500), light: 'Light B' };
    expect(lightTrends([reading(1, 1000), other]).map((t) => t.light)).toEqual([
      'Light A',
      'Light B',
    ]);
  });
});
