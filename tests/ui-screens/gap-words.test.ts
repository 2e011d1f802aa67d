/** How long nobody watched the clocks, in words. */
import { expect, test } from 'vitest';
import { gapInDoubt } from '../../src/engine/gap-in-doubt.ts';
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

test('of a gap whose length nobody knows no figure is made up', () => {
  const gap = { cause: 'closed', untrusted: true, loMs: 0, hiMs: Infinity } as const;
  expect(gapWords(gap)).toBe(
    'The app was closed for an unknown time: the tablet’s clock does not tell',
  );
  expect(gapWords({ ...gap, hiMs: null })).toBe(gapWords(gap));
});

test.each([
  [300, 'less than 1\u00a0s'],
  [5200, '0\u00a0s to 5\u00a0s'],
])('a clock that fell behind by %d ms leaves so much in doubt', (hiMs, words) => {
  const gap = { cause: 'moved-back', untrusted: false, loMs: 0, hiMs } as const;
  expect(gapWords(gap)).toBe(
    `The tablet’s clock was set back or runs slow: ${words} may have passed`,
  );
});

const gap = (seq: number, loMs: number, hiMs: number) => ({
  seq,
  cause: 'closed' as const,
  at: { loMs: 0, hiMs: 0 } as never,
  loMs,
  hiMs,
  settled: false,
  untrusted: false,
});

test.each([
  ['of less than a second', [gap(1, 0, 999)], undefined],
  ['of a second', [gap(1, 0, 1000)], 1],
  ['of two that do not make a second', [gap(1, 0, 400), gap(2, 0, 500)], undefined],
  ['of two that make a second', [gap(1, 0, 600), gap(2, 0, 500)], 2],
  ['of a long one before a short one', [gap(1, 0, 20_000), gap(2, 0, 300)], 1],
  ['of one that is known exactly', [gap(1, 5000, 5000)], undefined],
] as const)('whether it is asked about: %s', (_, gaps, asked) => {
  expect(gapInDoubt(gaps)?.seq).toBe(asked);
});
