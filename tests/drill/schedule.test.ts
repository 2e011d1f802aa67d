/** When a kind of mishap is practised again. The days are a rule of this project, no source. */
import { expect, test } from 'vitest';
import { standingOf } from '../../src/drill/schedule.ts';

/** Drills as [day, right and in time], what is due and how it stands on the day of the last one. */
test.each([
  [[], 0, 'not-practised'],
  [[[0, true]], 7, 'practising'],
  [
    [
      [0, true],
      [7, true],
    ],
    97,
    'ready',
  ],
  [
    [
      [0, false],
      [7, true],
    ],
    37,
    'practising',
  ],
  [
    [
      [0, false],
      [7, true],
      [37, true],
    ],
    127,
    'ready',
  ],
  [
    [
      [0, true],
      [7, true],
      [97, false],
    ],
    127,
    'practising',
  ],
  [
    [
      [0, true],
      [3, true],
    ],
    33,
    'practising',
  ],
] as const)('%j: due on day %d, %s', (drills, dueDay, state) => {
  const done = drills.map(([day, isRight]) => ({ day, isRight }));
  const today = done.at(-1)?.day ?? 0;
  expect(standingOf(done, today)).toEqual({ dueDay, state });
  expect(standingOf(done.toReversed(), today)).toEqual({ dueDay, state });
});

test('due on its day, and lapsed thirty days later', () => {
  const done = [0, 7].map((day) => ({ day, isRight: true }));
  expect(standingOf(done, 96).state).toBe('ready');
  expect(standingOf(done, 97).state).toBe('due');
  expect(standingOf(done, 126).state).toBe('due');
  expect(standingOf(done, 127).state).toBe('lapsed');
});
