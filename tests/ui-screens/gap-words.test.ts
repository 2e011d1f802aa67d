/** How long nobody watched the clocks, in words. */
import { expect, test } from 'vitest';
import { gapWords } from '../../src/words/clock-words.ts';

test.each([
  [0, 999, 'less than 1\u00a0s'],
  [0, 1000, '0\u00a0s to 1\u00a0s'],
  [5000, 5900, '5\u00a0s'],
  [42_000, 70_000, '42\u00a0s to 1\u00a0min 10\u00a0s'],
])('%d to %d ms', (loMs, hiMs, words) => {
  const gap = { cause: 'closed', untrusted: false, loMs, hiMs } as const;
  expect(gapWords(gap)).toBe(`The app was closed for ${words}`);
});
