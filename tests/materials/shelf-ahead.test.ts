/**
 * What the shelf lacks on the days of the prepared cases. Days are worked by hand on the calendar; the
 * last day of use is a day of use.
 */
import { describe, expect, it } from 'vitest';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { casesLacking, shelfAhead } from '../../src/runtime/stock/shelf-ahead.ts';
import type { Material } from '../../src/runtime/stock/stock-types.ts';
import { timesIn } from '../../src/words/date-words.ts';
import { caseNamed, protocolNamed } from '../families/family-chair.ts';
import { HERE } from '../tools/here.ts';

const spec = caseNamed('four-veneers-universal');
const slot = (id: string, materialClass: string, optional = false) => ({
  id,
  materialClass,
  label: id,
  refrigerated: false,
  ...(optional && { optional }),
});
const protocol = {
  ...protocolNamed(spec.protocol),
  slots: [slot('gel', 'acid gel'), slot('resin', 'bonding resin', true)],
};
const box = (lot: string, more: Partial<Material> = {}): Material => ({
  id: lot,
  materialClass: 'Acid gel',
  label: 'Gel',
  lot,
  refrigerated: false,
  ...more,
});
const nowMs = new Date('2026-11-25T09:00:00').getTime();
const on = (scheduledFor: string | undefined, id = 'case'): CaseFile => {
  const { scheduledFor: _, ...rest } = spec;
  return { ...rest, id, title: id, ...(scheduledFor !== undefined && { scheduledFor }) };
};

function told(
  materials: readonly Material[],
  prepared = [on('2026-12-02T09:00:00+00:00')],
  times = HERE,
) {
  return shelfAhead({ prepared, protocols: [protocol], materials, times, nowMs }).map((ahead) => ({
    id: ahead.id,
    day: ahead.day,
    slots: ahead.slots.map(({ label, isMissing, isUnlisted, lots }) => [
      label,
      isUnlisted ? 'unlisted' : isMissing,
      ...lots.map(({ lot, why }) => `${lot} ${why}`),
    ]),
  }));
}

describe('what the shelf lacks before a prepared case', () => {
  it('is nothing where a lot of each class will do on the day, its last day too', () => {
    expect(told([box('A', { expiry: '2026-12-02' })])).toEqual([]);
    expect(told([box('A', { openedOn: '2026-11-02', useWithinDays: 30 })])).toEqual([]);
  });

  it('is a lot that has expired by then, or is opened too long by then, though not today', () => {
    expect(told([box('A', { expiry: '2026-12-01' })])).toEqual([
      { id: 'case', day: '2026-12-02', slots: [['gel', true, 'A expired']] },
    ]);
    // Opened 2 November for 29 days: until 1 December.
    const opened = box('A', { openedOn: '2026-11-02', useWithinDays: 29, expiry: '2028-01-01' });
    expect(told([opened])[0]?.slots).toEqual([['gel', true, 'A opened-too-long']]);
  });

  it('is a recalled lot whatever its days, and a class of which none is there', () => {
    const recalled = box('A', { expiry: '2028-01-01', recalled: { onWallMs: 1, reason: '' } });
    expect(told([recalled])[0]?.slots).toEqual([['gel', true, 'A recalled']]);
    const other = box('B', { materialClass: 'cement' });
    expect(told([other])[0]?.slots).toEqual([['gel', 'unlisted']]);
    expect(told([box('A', { goneOnWallMs: 1 }), other])[0]?.slots).toEqual([['gel', true]]);
  });

  it('is counted where the clinic has or had a lot of the class, not where it never listed one', () => {
    const count = (materials: readonly Material[]) => {
      const prepared = [on('2026-12-02T09:00:00+00:00')];
      const protocols = [protocol];
      return casesLacking(shelfAhead({ prepared, protocols, materials, times: HERE, nowMs }));
    };
    const other = box('B', { materialClass: 'cement' });
    expect(count([other])).toBe(0);
    expect(count([other, box('A', { goneOnWallMs: 1 })])).toBe(1);
    expect(count([box('A', { expiry: '2026-12-01' })])).toBe(1);
    expect(count([box('A', { expiry: '2026-12-01' }), box('C')])).toBe(0);
  });

  it('tells a lot that drops out although another will do, and says that none is missing', () => {
    expect(told([box('A', { expiry: '2026-11-30' }), box('B')])[0]?.slots).toEqual([
      ['gel', false, 'A expired'],
    ]);
  });

  it('does not miss what the protocol does not insist on, but tells when it expires', () => {
    const resin = box('R', { materialClass: 'bonding resin', expiry: '2026-11-30' });
    expect(told([box('A')])).toEqual([]);
    expect(told([box('A'), resin])[0]?.slots).toEqual([['resin', false, 'R expired']]);
    const isAnotherLeft = (materials: readonly Material[]) => {
      const prepared = [on('2026-12-02T09:00:00+00:00')];
      const ahead = shelfAhead({ prepared, protocols: [protocol], materials, times: HERE, nowMs });
      return ahead[0]?.slots.map((one) => one.isAnotherLeft);
    };
    const second = box('S', { materialClass: 'bonding resin' });
    expect(isAnotherLeft([box('A'), resin])).toEqual([false]);
    expect(isAnotherLeft([box('A'), resin, second])).toEqual([true]);
  });

  it('goes by the day in the clinic, the soonest case first; one without a day by today', () => {
    const material = [box('A', { expiry: '2026-12-01' })];
    // 2026-12-01T23:30Z is 2 December in Kathmandu (UTC+5:45), and 1 December in Lisbon.
    const late = [on('2026-12-01T23:30:00+00:00')];
    expect(told(material, late, timesIn({ zone: 'Asia/Kathmandu', language: 'en' }))).toHaveLength(
      1,
    );
    expect(told(material, late, timesIn({ zone: 'Europe/Lisbon', language: 'en' }))).toEqual([]);
    const three = [
      on('2027-02-01T09:00:00+00:00', 'later'),
      on('2026-12-02T09:00:00+00:00', 'sooner'),
      on(undefined, 'undated'),
    ];
    expect(told(material, three).map(({ id }) => id)).toEqual(['sooner', 'later']);
    const gone = [box('A', { expiry: '2026-11-24' })];
    expect(told(gone, three).map(({ id, day }) => `${id} ${day}`)).toEqual([
      'undated null',
      'sooner 2026-12-02',
      'later 2027-02-01',
    ]);
  });

  it('says nothing of what lies in the past, nor where no list is kept', () => {
    const gone = [box('A', { expiry: '2026-10-01' })];
    expect(told(gone, [on('2026-11-24T09:00:00+00:00')])).toEqual([]);
    expect(told([])).toEqual([]);
  });

  it('cannot be told where the protocol of the case is not here', () => {
    const unknown = (day: string) => [{ ...on(`${day}T09:00:00+00:00`), protocol: 'unknown' }];
    const ahead = (day: string) =>
      shelfAhead({
        prepared: unknown(day),
        ...{ protocols: [protocol], materials: [box('A')], times: HERE, nowMs },
      });
    expect(ahead('2026-12-02')).toMatchObject([
      { id: 'case', day: '2026-12-02', isKnown: false, slots: [] },
    ]);
    expect(casesLacking(ahead('2026-12-02'))).toBe(0);
    expect(ahead('2026-11-24')).toEqual([]);
  });
});
