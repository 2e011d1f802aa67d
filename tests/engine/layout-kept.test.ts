/** A layout is made once for its plan and its documents. */
import { expect, it } from 'vitest';
import { layoutOf } from '../../src/engine/layout.ts';
import { FamilyChair } from '../families/family-chair.ts';

it('is the same while told and stored protocol take turns, and another for another plan', () => {
  const { state } = FamilyChair.of('veneers, universal').log;
  const protocol = { ...state.opened.protocol, title: 'told' };
  const told = { ...state, opened: { ...state.opened, protocol } };
  const first = layoutOf(state);
  const ofTold = layoutOf(told);
  expect(ofTold).not.toBe(first);
  expect(ofTold.protocol.title).toBe('told');
  expect(layoutOf(state)).toBe(first);
  expect(layoutOf(told)).toBe(ofTold);
  expect(layoutOf({ ...state, plan: { ...state.plan } })).not.toBe(first);
});
