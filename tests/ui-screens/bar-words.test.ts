/** The bar says what its press records, also what nobody entered. */
import { expect, it } from 'vitest';
import { barModel } from '../../src/ui/chair/chair-model.ts';
import { FamilyChair } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';

const isMaterials = (chair: FamilyChair): boolean => {
  const { protocol } = chair.log.state.opened;
  const step = protocol.steps.find(({ id }) => id === chair.view.offers[0]?.step);
  const evidence = step?.action.kind === 'confirm' ? step.action.evidence : undefined;
  return evidence?.kind === 'read-back' && evidence.of === 'materials';
};

it('counts the materials that are read without a lot, until each has one', () => {
  const chair = FamilyChair.of('veneers, universal');
  for (let i = 0; i < 30 && !isMaterials(chair); i += 1) chair.next();
  expect(isMaterials(chair)).toBe(true);
  const words = () => barModel(runningOf(chair))?.words ?? '';
  const found = /^(.*), (\d+) lots not named$/.exec(words());
  const [, done = '', count = '0'] = found ?? [];
  const { slots } = chair.log.state.opened.protocol;
  expect(Number(count)).toBeGreaterThan(1);
  for (const { id, label, materialClass } of slots) {
    const material = { label, materialClass, lot: 'L 7', expiry: '2027-05-31', warnings: [] };
    expect(chair.do({ do: 'name-material', slot: id, material })).toBeNull();
  }
  expect(words()).toBe(done);
});
