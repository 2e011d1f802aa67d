import { expect, test } from 'vitest';
import { GOLDEN_RISK, goldenRisk } from './golden-risk.ts';

test('a seed gives the same risk in the browser as on Node, to the last digit', () => {
  expect(goldenRisk()).toEqual(GOLDEN_RISK);
});
