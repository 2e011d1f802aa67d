/** Moments that one press stands for: how far they may be moved, and on which side they are judged. */
import { describe, expect, it } from 'vitest';
import { caseMs } from '../../src/base/units.ts';
import {
  AXIS_START,
  firstMs,
  lastMs,
  shift,
  soonestMs,
  spreadOver,
} from '../../src/engine/axis.ts';
import { Chair } from './chair.ts';
import { confirm, dwell, protocolOf, secondsFigure, settingOf, step } from './fixture.ts';

describe('a place that a press stands for', () => {
  const at = shift(AXIS_START, 100_000);
  const swept = spreadOver(at, { fromMs: 2000, toMs: 12_000 });
  const implied = spreadOver(at, { fromMs: -40_000, toMs: 0 });

  it('is not before its press where it is swept, and not after it where a later press says so', () => {
    expect([firstMs(swept), soonestMs(swept), lastMs(swept)]).toEqual([100_000, 102_000, 112_000]);
    expect([firstMs(implied), soonestMs(implied), lastMs(implied)]).toEqual([
      60_000, 100_000, 100_000,
    ]);
    expect(firstMs({ loMs: caseMs(5), hiMs: caseMs(9) })).toBe(5);
  });
});

describe('a press that is moved', () => {
  // The second of a sweep of 2 to 6 s each begins 2 s after the press at the earliest.
  const protocol = protocolOf([
    step('ready', 'case', confirm),
    step('acid', 'unit', dwell(null, 100), {
      hands: [4, 4],
      after: ['ready'],
      pressed: {
        kind: 'sweep',
        start: { shortestMs: secondsFigure(2), longestMs: secondsFigure(6) },
      },
    }),
  ]);
  const ended = (by: string): string[] => {
    const chair = new Chair(settingOf(protocol, ['11', '21']));
    chair.rows(`
      at 5 s   confirm ready case
      at 10 s  start acid 11 21
      at 30 s  end acid 21
    `);
    return chair.refusals(`retime ${by}`);
  };

  it('may come to the earliest beginning of what it ends', () => {
    expect(ended('-18 s')).toEqual([]);
  });

  it('and not before it', () => {
    expect(ended('-19 s')).toEqual(['retime -19 s: moves-before-its-start']);
  });
});
