/** In a real browser: two pages of one origin know of each other's cases. */
import { expect, it } from 'vitest';
import { createCaseSign } from '../../src/runtime/windows/case-sign.ts';

it('nothing is done while any window runs a case, and again once it is over', async () => {
  const [mine, other] = [createCaseSign(navigator.locks), createCaseSign(navigator.locks)];
  other.show(true);
  expect(await mine.whileNone(async () => 'done')).toBeNull();
  other.show(true);
  other.show(false);
  await new Promise((resolve) => setTimeout(resolve, 50));
  expect(await mine.whileNone(async () => 'done')).toBe('done');
  mine.show(true);
  expect(await mine.whileNone(async () => 'done')).toBeNull();
  mine.show(false);
});
