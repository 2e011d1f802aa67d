/** The line of what comes next names no step that another press will say. */
import { expect, it } from 'vitest';
import { nextOffer } from '../../src/ui/chair/chair-model.ts';
import { Chair } from '../engine/chair.ts';
import { confirm, protocolOf, settingOf, step } from '../engine/fixture.ts';

const SEATING = protocolOf([
  step('cement', 'mix', confirm),
  step('load', 'unit', confirm, {
    after: ['cement/linked', 'seat/previous'],
    pressed: { kind: 'implied', by: ['seat'] },
  }),
  step('seat', 'unit', confirm, { after: ['load/same'] }),
]);

it('leaves the step out while the press that says it stands there', () => {
  const chair = new Chair(settingOf(SEATING, ['11'])).rows('at 5 s confirm cement 1');
  const { offers } = chair.view;
  expect(offers.map(({ id }) => id)).toEqual(['confirm seat unit:11', 'confirm load unit:11']);
  expect(offers[0]?.implies).toEqual([{ step: 'load', subjects: ['unit:11'] }]);
  expect(nextOffer(offers)).toBeUndefined();
});

it('has the step itself among the other steps, and its press says nothing of the later one', () => {
  const chair = new Chair(settingOf(SEATING, ['11'])).rows(`
    at 5 s confirm cement 1
    at 9 s confirm load 11
  `);
  expect(chair.status('load@unit:11')).toBe('done');
  expect(chair.status('seat@unit:11')).toBe('none');
  expect(chair.view.offers[0]?.implies).toBeUndefined();
});
