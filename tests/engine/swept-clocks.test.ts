/** The clock of a round that one press began: known as an interval that holds each of its subjects. */
import { expect, it } from 'vitest';
import { intervalReason } from '../../src/words/clock-words.ts';
import { Chair } from './chair.ts';
import { dwell, protocolOf, secondsFigure, settingOf, step } from './fixture.ts';

const SWEPT = protocolOf([
  step('etch', 'tooth', dwell(15, 20, 60), {
    together: true,
    hands: [2, 2],
    pressed: {
      kind: 'sweep',
      start: { shortestMs: secondsFigure(2), longestMs: secondsFigure(4) },
    },
  }),
]);

it('is one clock, from the last subject at the latest to the first at the earliest', () => {
  const chair = new Chair(settingOf(SWEPT, ['11', '12', '21']));
  chair.at(0).next();
  chair.at(20_000);
  // Worked out by hand: begun at 0 to 4 s, 2 to 8 s and 4 to 12 s, which at 20 s is 16 to 20,
  // 12 to 18 and 8 to 16 s.
  expect(chair.clocks).toHaveLength(1);
  expect(chair.clocks[0]).toMatch(/ \[8000, 20000\]$/);
  const [clock] = chair.view.clocks;
  expect(clock && intervalReason(clock, [])).toBe('One press stands for several moments');
});
