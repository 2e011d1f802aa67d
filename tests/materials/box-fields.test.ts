/** A second box of one device identifier: what is filled in, by what, and what never is. */
import { describe, expect, it } from 'vitest';
import type { Material } from '../../src/runtime/stock/stock-types.ts';
import { boxFields, changed, fillIn } from '../../src/ui/materials/stock/box-fields.ts';
import {
  draftProblems,
  EMPTY_DRAFT,
  materialOf,
} from '../../src/ui/materials/stock/material-draft.ts';
import { HERE } from '../tools/here.ts';

const last: Material = {
  id: 'm1',
  materialClass: 'light-cured resin cement',
  label: 'Cement, shelf 2',
  lot: 'AB12',
  expiry: '2027-05-31',
  openedOn: '2026-10-01',
  useWithinDays: 180,
  refrigerated: true,
  warmUpMinutes: 45,
  note: 'left drawer',
  serial: '77',
  deviceIdentifier: '04012345678901',
  takenOutWallMs: 5,
  recalled: { onWallMs: 5, reason: 'letter' },
};
const empty = { draft: EMPTY_DRAFT, filled: {} };

describe('a second box', () => {
  it('is filled in as the last one was, but for what is of one box', () => {
    const { draft, filled } = fillIn(empty, boxFields(last, null));
    expect(draft).toEqual({
      ...EMPTY_DRAFT,
      materialClass: 'light-cured resin cement',
      label: 'Cement, shelf 2',
      refrigerated: true,
      warmUpMinutes: '45',
      useWithinDays: '180',
      note: 'left drawer',
    });
    expect(Object.keys(filled).toSorted()).toEqual([
      'label',
      'materialClass',
      'note',
      'refrigerated',
      'useWithinDays',
      'warmUpMinutes',
    ]);
    expect(new Set(Object.values(filled))).toEqual(new Set(['box']));
    for (const field of ['lot', 'expiry', 'openedOn'] as const) expect(draft[field]).toBe('');
    const kept = materialOf({ ...draft, lot: 'AB13' }, { id: 'm2' });
    for (const field of ['serial', 'openedOn', 'expiry', 'recalled', 'takenOutWallMs'] as const) {
      expect(kept).not.toHaveProperty(field);
    }
  });

  it('takes what its sheet says before what was entered for the last one', () => {
    const sheet = { materialClass: 'adhesive', refrigerated: false, useWithinDays: 90 };
    const { draft, filled } = fillIn(empty, boxFields(last, sheet));
    expect(draft).toMatchObject({
      materialClass: 'adhesive',
      refrigerated: false,
      useWithinDays: '90',
      label: 'Cement, shelf 2',
    });
    expect(filled).toMatchObject({
      materialClass: 'sheet',
      refrigerated: 'sheet',
      useWithinDays: 'sheet',
      label: 'box',
    });
  });

  it('keeps what somebody typed, and says no longer of it that it is as before', () => {
    const typed = changed(empty, { label: 'Cement, shelf 4' });
    const filling = fillIn(typed, boxFields(last, null));
    expect(filling.draft.label).toBe('Cement, shelf 4');
    expect(filling.filled).not.toHaveProperty('label');
    const after = changed(filling, { useWithinDays: '30' });
    expect(after.draft.useWithinDays).toBe('30');
    expect(after.filled).not.toHaveProperty('useWithinDays');
    expect(after.filled).toHaveProperty('note');
  });

  it('loses what another identifier had filled in, and nothing else', () => {
    const filling = changed(fillIn(empty, boxFields(last, null)), { label: 'Mine', lot: 'X1' });
    const none = fillIn(filling, boxFields(null, null));
    expect(none.draft).toEqual({ ...EMPTY_DRAFT, label: 'Mine', lot: 'X1' });
    expect(none.filled).toEqual({});
  });
});

describe('a device identifier that is typed', () => {
  const draft = { ...EMPTY_DRAFT, materialClass: 'c', label: 'l', lot: 'AB12' };
  const now = new Date('2026-11-25T09:00:00').getTime();

  it('is kept with the box', () => {
    expect(materialOf({ ...draft, deviceIdentifier: ' +A99912345 ' }, { id: 'm' })).toMatchObject({
      deviceIdentifier: '+A99912345',
    });
    expect(materialOf(draft, { id: 'm' })).not.toHaveProperty('deviceIdentifier');
  });

  it.each([
    // The rule of GS1 (General Specifications, section 7.9) by hand, for 401234567890 and its check digit:
    // 4 + 3*0 + 1 + 3*2 + 3 + 3*4 + 5 + 3*6 + 7 + 3*8 + 9 + 3*0 = 89, and 1 is missing to 90.
    ['04012345678901', true],
    ['4012345678901', true],
    ['04012345678902', false],
    ['4012345678902', false],
    ['+A99912345', true],
    ['', true],
  ])('%s: its check digit is right: %s', (deviceIdentifier, isRight) => {
    const problems = draftProblems({ ...draft, deviceIdentifier }, now, HERE);
    expect(problems).toEqual(isRight ? {} : { device: expect.any(String) });
  });
});
