/**
 * The last day of use: the earlier of the label's expiry and the days after opening, wherever one of
 * them is shown, judged or sorted by. The worked days are those of `datetime.date` of Python 3.
 */
import { describe, expect, it } from 'vitest';
import { readBackLines } from '../../src/engine/read-back.ts';
import { nowOf } from '../../src/engine/view.ts';
import { namedMaterials } from '../../src/export/named-materials.ts';
import { lastDayOf } from '../../src/runtime/stock/last-day.ts';
import type { Material } from '../../src/runtime/stock/stock-types.ts';
import { lotOf, materialWarnings } from '../../src/runtime/stock/stock-warnings.ts';
import { shelfFor } from '../../src/ui/shared/materials-chair-model.ts';
import { stockGroups, stockRow } from '../../src/ui/shared/materials-model.ts';
import { timesIn } from '../../src/words/date-words.ts';
import { Chair } from '../engine/chair.ts';
import { SMALL_WHOLE, settingOf } from '../engine/fixture.ts';
import { HERE } from '../tools/here.ts';

const box: Material = {
  id: 'm1',
  materialClass: 'acid gel',
  label: 'Gel',
  lot: 'G1',
  refrigerated: false,
};
const at = (iso: string): number => new Date(iso).getTime();

/** Opened on, days after opening, the last day: `date.fromisoformat(a) + timedelta(n)` of Python 3. */
const WORKED: readonly (readonly [string, number, string])[] = [
  // A leap day is one of the days: 2028 divides by four.
  ['2028-02-01', 28, '2028-02-29'],
  ['2028-02-28', 2, '2028-03-01'],
  // 2100 divides by a hundred and not by four hundred: no leap day.
  ['2100-02-28', 1, '2100-03-01'],
  ['2026-02-28', 1, '2026-03-01'],
  // Ends of months of 31 and of 30 days, and of a year.
  ['2026-01-31', 30, '2026-03-02'],
  ['2026-04-30', 31, '2026-05-31'],
  ['2026-12-31', 60, '2027-03-01'],
  // Over both changes of clocks of a European year.
  ['2026-03-01', 245, '2026-11-01'],
  ['2026-05-05', 0, '2026-05-05'],
];

describe('the last day of use', () => {
  it.each(WORKED)('of what was opened on %s for %i days is %s', (openedOn, useWithinDays, last) => {
    expect(lastDayOf({ ...box, openedOn, useWithinDays })).toEqual({
      day: last,
      because: 'opened',
    });
    // ECMA-262 days in UTC: a calendar day of the month that rolls over by itself.
    const [y = 0, m = 0, d = 0] = openedOn.split('-').map(Number);
    const rolled = new Date(Date.UTC(y, m - 1, d + useWithinDays)).toISOString().slice(0, 10);
    expect(rolled).toBe(last);
  });

  it('is the earlier of the two, whichever that is; the label where both are the same day', () => {
    const opened = { ...box, openedOn: '2026-11-01', useWithinDays: 30 };
    expect(lastDayOf({ ...opened, expiry: '2026-11-30' })).toEqual({
      day: '2026-11-30',
      because: 'expiry',
    });
    expect(lastDayOf({ ...opened, expiry: '2027-11-30' })).toEqual({
      day: '2026-12-01',
      because: 'opened',
    });
    expect(lastDayOf({ ...opened, expiry: '2026-12-01' })).toEqual({
      day: '2026-12-01',
      because: 'expiry',
    });
    expect(lastDayOf({ ...box, expiry: '2026-12-01' })?.because).toBe('expiry');
    expect(lastDayOf({ ...box, openedOn: '2026-11-01' })).toBeNull();
  });

  it('is not told of days that no calendar holds', () => {
    expect(lastDayOf({ ...box, openedOn: '2026-11-01', useWithinDays: 1e15 })).toBeNull();
    expect(lastDayOf({ ...box, openedOn: '2026-02-31', useWithinDays: 5 })).toBeNull();
    expect(lastDayOf({ ...box, openedOn: '2026-11-01', useWithinDays: 1.5 })?.day).toBe(
      '2026-11-02',
    );
  });

  it('ends with the day in the clinic, not in the zone of the tablet', () => {
    const tokyo = timesIn({ zone: 'Asia/Tokyo', language: 'en' });
    const honolulu = timesIn({ zone: 'Pacific/Honolulu', language: 'en' });
    const material = { ...box, openedOn: '2028-02-01', useWithinDays: 28 };
    // 2028-02-29T15:30Z is 00:30 on 1 March at UTC+9, and 05:30 on 29 February at UTC-10.
    const now = at('2028-02-29T15:30:00Z');
    expect(materialWarnings(material, now, tokyo)).toEqual([{ code: 'opened-too-long', days: 1 }]);
    expect(materialWarnings(material, now, honolulu)).toEqual([]);
  });
});

describe('where the last day of use is told', () => {
  const now = at('2026-11-10T09:00:00');
  const opened = { ...box, openedOn: '2026-11-01', useWithinDays: 30, expiry: '2027-11-30' };
  const sooner = { ...box, id: 'm2', lot: 'G2', expiry: '2027-01-31' };

  it('is the earlier one in the stock list, with the label beside it', () => {
    expect(stockRow(opened, now, HERE)).toMatchObject({ useBy: '1 Dec 2026' });
    expect(stockRow({ ...opened, expiry: '2026-11-20' }, now, HERE)).toMatchObject({
      useBy: '20 Nov 2026',
    });
    // Opened for long: the label ends before, and no later day is told as one to use it by.
    expect(stockRow({ ...opened, expiry: '2026-11-20' }, now, HERE).opened).not.toMatch(/1 Dec/);
  });

  it('decides which lot is used up first: in the list, at the chair and in the set-up', () => {
    const [group] = stockGroups([sooner, opened], {
      nowWallMs: now,
      times: HERE,
      search: '',
      withGone: false,
    });
    expect(group?.rows.map(({ material }) => material.lot)).toEqual(['G1', 'G2']);
    const slots = [{ id: 's', label: 'Gel', materialClass: 'acid gel', refrigerated: false }];
    expect(shelfFor({ slots }, [sooner, opened], now, HERE)[0]?.best?.lot).toBe('G1');
  });

  it('goes with the lot into the record, beside the expiry of the label', () => {
    expect(lotOf(opened, now, HERE)).toMatchObject({ expiry: '2027-11-30', useBy: '2026-12-01' });
    expect(lotOf(sooner, now, HERE)).not.toHaveProperty('useBy');
    const setting = settingOf(SMALL_WHOLE, ['11']);
    const slots = [{ id: 'gel', materialClass: 'acid gel', label: 'Gel', refrigerated: false }];
    const chair = new Chair({ ...setting, protocol: { ...setting.protocol, slots } });
    chair.do({ do: 'name-material', slot: 'gel', material: lotOf(opened, now, HERE) });
    const [use] = namedMaterials(chair.log);
    expect(use).toMatchObject({ expiresOn: '2027-11-30', useBy: '2026-12-01' });
    const read = readBackLines(chair.log.state, 'materials', {
      now: nowOf(chair.log.state, chair.stamp),
      subjects: [],
    });
    expect(read).toMatchObject([{ code: 'slot', lot: 'G1', expiry: '2026-12-01' }]);
  });
});
