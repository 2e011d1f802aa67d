/**
 * What is known of elapsed time when the device's clocks disagree, sleep, jump or start again.
 * Each table gives what both clocks did; the true time is in the row itself.
 */
import { describe, expect, it } from 'vitest';
import { monoMs, wallMs } from '../../src/base/units.ts';
import { AXIS_START, place } from '../../src/engine/axis.ts';
import type { AxisAnchor, Stamp } from '../../src/engine/types.ts';
import { Chair } from './chair.ts';
import { dwell, ETCH_ROUND, protocolOf, settingOf, step } from './fixture.ts';

const long = protocolOf([step('wait', 'case', dwell(60, 600, 3600))]);

/** One dwell that starts at 0 s and is looked at after the rows. */
function waited(rows: string): Chair {
  return new Chair(settingOf(long, ['11'])).rows(`
    at 0 s  start wait case
    ${rows}
  `);
}

const elapsedOf = (chair: Chair) => {
  const { loMs, hiMs } = chair.view.clocks[0]?.elapsed ?? { loMs: -1, hiMs: -1 };
  return [loMs, hiMs];
};

describe('elapsed time in one run', () => {
  it.each([
    { what: 'the clocks agree', rows: 'at 60 s note hello', known: [60_000, 60_000] },
    { what: 'the wall clock gained 250 ms', rows: 'wall 250 ms', known: [0, 0] },
    { what: 'the wall clock gained 251 ms', rows: 'wall 251 ms', known: [0, 251] },
    { what: 'the wall clock lost 250 ms', rows: 'wall -250 ms', known: [0, 0] },
    { what: 'the device slept', rows: 'at 10 s sleep 5 min', known: [10_000, 310_000] },
    { what: 'the wall clock was moved on', rows: 'at 10 s wall 1 h', known: [10_000, 3_610_000] },
    { what: 'the wall clock went back', rows: 'at 10 s wall -1 h', known: [10_000, 10_000] },
  ])('is $known when $what', ({ rows, known }) => {
    expect(elapsedOf(waited(rows))).toEqual(known);
  });

  it('goes on exactly after a disagreement: only the gap stays uncertain', () => {
    const chair = waited(`
      at 10 s  sleep 60 s
               note awake
    `);
    expect(elapsedOf(chair.at(100_000))).toEqual([40_000, 100_000]);
    // What begins after the gap is exact.
    expect(chair.log.state.gaps).toMatchObject([
      { cause: 'asleep-or-moved', loMs: 0, hiMs: 60_000, untrusted: false, settled: false },
    ]);
  });

  it('adds the uncertainty of two sleeps', () => {
    const chair = waited(`
      at 10 s  sleep 60 s
               note awake
      at 80 s  sleep 30 s
    `);
    expect(elapsedOf(chair)).toEqual([20_000, 110_000]);
  });

  it('is exact for what begins and ends after the gap', () => {
    const chair = new Chair(settingOf(ETCH_ROUND, ['11'])).rows(`
      at 0 s    confirm ready case
      at 5 s    sleep 90 s
                start etch 11
      at 1:56   end etch 11
    `);
    expect(chair.breaches).toEqual([]);
    expect(chair.log.state.runs['etch@tooth:11']?.startedAt).toEqual({ loMs: 5000, hiMs: 95_000 });
    expect(chair.log.state.runs['etch@tooth:11']?.endedAt).toEqual({ loMs: 26_000, hiMs: 116_000 });
  });
});

/** By hand, to the last millisecond of agreement: 250 ms is a choice of this project, no source. */
describe('a stamp beside the one before it', () => {
  const stampOf = (wall: number, mono: number, runId: string): Stamp => ({
    wallMs: wallMs(wall),
    monoMs: monoMs(mono),
    runId,
  });
  const anchor: AxisAnchor = {
    at: AXIS_START,
    stamp: stampOf(1_000_000, 5000, 'run-1'),
    latest: stampOf(1_040_000, 45_000, 'run-1'),
  };
  const placed = (wall: number, mono: number, runId: string) => {
    const { at, cause, gap } = place(anchor, stampOf(wall, mono, runId));
    return { at: [at.loMs, at.hiMs], cause, untrusted: gap.untrusted };
  };

  it.each([
    { wall: 1_060_000, mono: 65_000, at: [60_000, 60_000], cause: null },
    { wall: 1_060_250, mono: 65_000, at: [60_000, 60_000], cause: null },
    { wall: 1_060_251, mono: 65_000, at: [60_000, 60_251], cause: 'asleep-or-moved' },
    { wall: 1_059_750, mono: 65_000, at: [60_000, 60_000], cause: null },
    { wall: 1_059_749, mono: 65_000, at: [59_749, 60_000], cause: 'moved-back' },
    // Not before the latest reading; behind it the wall clock itself went back, and is wrong.
    { wall: 1_040_000, mono: 65_000, at: [40_000, 60_000], cause: 'moved-back' },
    { wall: 1_039_999, mono: 65_000, at: [60_000, 60_000], cause: 'moved-back' },
  ])('in the same run, at $wall and $mono ms, lies at $at: $cause', ({ wall, mono, at, cause }) => {
    expect(placed(wall, mono, 'run-1')).toEqual({ at, cause, untrusted: false });
  });

  it.each([
    { wall: 1_040_000, at: [40_000, 40_000], untrusted: false },
    { wall: 1_040_001, at: [40_000, 40_001], untrusted: false },
    { wall: 1_039_999, at: [40_000, Infinity], untrusted: true },
  ])(
    'of a later run, at $wall ms, lies at $at, untrusted $untrusted',
    ({ wall, at, untrusted }) => {
      expect(placed(wall, 3, 'run-2')).toEqual({ at, cause: 'closed', untrusted });
    },
  );
});

describe('elapsed time over the end of a run', () => {
  it('is what was known at the last record, up to that plus what the wall clock shows', () => {
    const chair = waited(`
      at 40 s  note still here
      at 45 s  reload 20 s
    `);
    // Known: 40 s. The wall clock shows 25 s more since that record.
    expect(elapsedOf(chair)).toEqual([40_000, 65_000]);
    chair.rows('note back');
    expect(elapsedOf(chair.at(75_000))).toEqual([50_000, 75_000]);
    expect(chair.log.state.gaps).toMatchObject([{ cause: 'closed', loMs: 0, hiMs: 25_000 }]);
  });

  it('is narrowed by a beat that was stored after the last record', () => {
    const chair = waited('at 40 s note still here');
    const before = chair.at(44_000).stamp;
    chair.rows('at 45 s reload 20 s');
    chair.do({ do: 'note-gap', before, after: chair.stamp, cause: 'closed' }, null);
    expect(elapsedOf(chair)).toEqual([44_000, 65_000]);
  });

  it('is not trusted when the wall clock stands before the last record', () => {
    const chair = waited(`
      at 40 s  note still here
      at 45 s  wall -1 h
               reload 20 s
               note back
    `);
    expect(elapsedOf(chair)).toEqual([40_000, Infinity]);
    expect(chair.log.state.gaps).toMatchObject([
      { cause: 'closed', untrusted: true, loMs: 0, hiMs: Infinity },
    ]);
  });

  it('never places a later press before an earlier one', () => {
    const chair = waited(`
      at 40 s  note one
      at 50 s  reload 10 s
               note two
    `);
    const [one, two] = chair.log.state.notes;
    expect(one?.at).toEqual({ loMs: 40_000, hiMs: 40_000 });
    expect(two?.at).toEqual({ loMs: 40_000, hiMs: 60_000 });
  });

  it('adds up over two reloads', () => {
    const chair = waited(`
      at 40 s   note one
      at 50 s   reload 10 s
                note two
      at 1:30   note three
      at 1:40   reload 5 s
    `);
    expect(elapsedOf(chair)).toEqual([70_000, 105_000]);
  });
});

describe('a gap that the heartbeat saw', () => {
  it('keeps the time before and after it exact', () => {
    const chair = waited('');
    const before = chair.at(30_000).stamp;
    chair.rows('sleep 90 s');
    const after = chair.at(chair.trueMs + 700).stamp;
    chair.do({ do: 'note-gap', before, after, cause: 'asleep-or-moved' }, null);
    expect(elapsedOf(chair.at(200_700))).toEqual([110_700, 200_700]);
    expect(chair.log.state.gaps).toHaveLength(1);
  });

  it('loses nothing when it is written down some time after it was seen', () => {
    const chair = waited('');
    const before = chair.at(30_000).stamp;
    chair.rows('sleep 90 s');
    const after = chair.stamp;
    chair.at(140_000).do({ do: 'note-gap', before, after, cause: 'asleep-or-moved' }, null);
    expect(elapsedOf(chair)).toEqual([50_000, 140_000]);
  });

  it('is not counted twice when a press was recorded first', () => {
    const chair = waited('');
    const before = chair.at(30_000).stamp;
    chair.rows(`
      sleep 90 s
      note pressed before the beat
    `);
    const after = chair.at(120_400).stamp;
    chair.do({ do: 'note-gap', before, after, cause: 'asleep-or-moved' }, null);
    expect(elapsedOf(chair)).toEqual([30_400, 120_400]);
    expect(chair.log.state.gaps).toHaveLength(1);
  });

  it('of a closed run is not counted twice when a press of the new run was recorded first', () => {
    const chair = waited('at 20 s note last of the old run');
    const before = chair.at(30_000).stamp;
    chair.rows('reload 60 s');
    const after = chair.stamp;
    chair.rows('at 1:40 note first of the new run');
    const [loMs = 0, hiMs = 0] = elapsedOf(chair);
    chair.do({ do: 'note-gap', before, after, cause: 'closed' }, null);
    expect(elapsedOf(chair)).toEqual([loMs, hiMs]);
    expect(elapsedOf(chair.at(110_000))).toEqual([loMs + 10_000, hiMs + 10_000]);
  });

  it('leaves other places alone when nothing was wrong', () => {
    const chair = waited('');
    const before = chair.at(30_000).stamp;
    const after = chair.at(31_000).stamp;
    chair.do({ do: 'note-gap', before, after, cause: 'asleep-or-moved' }, null);
    expect(chair.log.state.gaps).toEqual([]);
    expect(elapsedOf(chair)).toEqual([31_000, 31_000]);
  });
});

describe('settling a gap', () => {
  it('gives it the length that people saw, and every clock over it becomes exact', () => {
    const chair = waited(`
      at 10 s  sleep 60 s
               note awake
      at 1:20  settle last 55 s
    `);
    expect(elapsedOf(chair)).toEqual([75_000, 75_000]);
    expect(chair.log.state.gaps).toMatchObject([
      { settled: true, untrusted: false, loMs: 55_000, hiMs: 55_000 },
    ]);
  });

  it('judges again what was judged by the interval', () => {
    const chair = new Chair(settingOf(ETCH_ROUND, ['11'])).rows(`
      at 0 s   confirm ready case
      at 0 s   start etch 11
      at 5 s   sleep 40 s
               end etch 11
    `);
    expect(chair.breaches).toEqual(['short etch tooth:11 by 10000', 'over etch tooth:11 by 15000']);
    chair.rows('settle last 17 s');
    expect(chair.breaches).toEqual([]);
  });

  it('may be said again; the last word counts, and undo brings back the one before', () => {
    const chair = waited(`
      at 10 s  sleep 60 s
               note awake
      at 1:20  settle last 55 s
      at 1:21  settle last 50 s
    `);
    expect(elapsedOf(chair)).toEqual([71_000, 71_000]);
    chair.rows('undo');
    expect(elapsedOf(chair)).toEqual([76_000, 76_000]);
    chair.rows('undo');
    expect(elapsedOf(chair)).toEqual([21_000, 81_000]);
  });
});
