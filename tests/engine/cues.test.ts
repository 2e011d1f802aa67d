/** What people are told and when, and the next instant at which anything changes by itself. */
import { describe, expect, it } from 'vitest';
import { closingLeadMs } from '../../src/engine/cues.ts';
import { Chair } from './chair.ts';
import { confirm, dwell, expose, protocolOf, settingOf, step, window } from './fixture.ts';

const cuesOf = (chair: Chair) =>
  chair.view.cues.map((c) => `${c.kind} ${c.of} ${c.priority} in ${c.dueInMs}`);

describe('the cues of a dwell', () => {
  const etch = protocolOf([step('etch', 'case', dwell(15, 20, 30))]);

  it('are nearing, now and over, each at its instant', () => {
    const chair = new Chair(settingOf(etch, ['11'])).rows('at 0 s start etch case');
    expect(cuesOf(chair)).toEqual([
      'nearing etch low in 15000',
      'now etch medium in 20000',
      'over etch high in 30000',
    ]);
    expect(cuesOf(chair.at(22_000))).toEqual([
      'nearing etch low in -7000',
      'now etch medium in -2000',
      'over etch high in 8000',
    ]);
  });

  it('end with the press that ends it', () => {
    const chair = new Chair(settingOf(etch, ['11'])).rows(`
      at 0 s   start etch case
      at 31 s  end etch case
    `);
    expect(cuesOf(chair)).toEqual([]);
  });

  it('leave out the warning when the dwell is too short for one', () => {
    const air = protocolOf([step('air', 'case', dwell(5, 14))]);
    const chair = new Chair(settingOf(air, ['11'])).rows('at 0 s start air case');
    expect(cuesOf(chair)).toEqual(['now air medium in 14000']);
  });

  it('judge the target by the shortest and the maximum by the longest time', () => {
    const chair = new Chair(settingOf(etch, ['11'])).rows(`
      at 0 s  start etch case
      at 5 s  sleep 15 s
    `);
    expect(cuesOf(chair)).toEqual([
      'nearing etch low in 10000',
      // 20 s may have passed: the maximum is near before the target is certain.
      'over etch high in 10000',
      'now etch medium in 15000',
    ]);
  });

  it('are acknowledged one by one, by their id', () => {
    const chair = new Chair(settingOf(etch, ['11'])).rows('at 0 s start etch case');
    const id = chair.at(21_000).view.cues.find((c) => c.kind === 'now')?.id;
    chair.rows(`acknowledge ${id}`);
    expect(chair.view.cues.map((c) => [c.kind, c.acknowledged])).toEqual([
      ['nearing', false],
      ['now', true],
      ['over', false],
    ]);
  });
});

describe('the cues of a window', () => {
  it.each([
    { severity: 'note', closing: 'low', broken: 'medium' },
    { severity: 'warning', closing: 'medium', broken: 'medium' },
    { severity: 'serious', closing: 'medium', broken: 'high' },
  ] as const)('of severity $severity are $closing when closing and $broken when broken', (row) => {
    const protocol = protocolOf(
      [step('a', 'case', confirm), step('b', 'case', confirm, { after: ['a'] })],
      { windows: [window('w', 'a/end -> b/start', { maxS: 100, severity: row.severity })] },
    );
    const chair = new Chair(settingOf(protocol, ['11'])).rows('at 0 s confirm a case');
    expect(cuesOf(chair)).toEqual([
      `window-closing w ${row.closing} in 80000`,
      `window-broken w ${row.broken} in 100000`,
    ]);
  });

  it('warn a fifth of the window before its end, at most two minutes', () => {
    expect(closingLeadMs(100_000)).toBe(20_000);
    expect(closingLeadMs(600_000)).toBe(120_000);
    expect(closingLeadMs(3_600_000)).toBe(120_000);
  });

  it('tell the end of a hold', () => {
    const protocol = protocolOf(
      [step('a', 'case', confirm), step('b', 'case', confirm, { after: ['a'] })],
      { windows: [window('hold', 'a/end -> b/start', { minS: 86_400, protects: 'hold' })] },
    );
    const chair = new Chair(settingOf(protocol, ['11'])).rows('at 0 s confirm a case');
    expect(cuesOf(chair)).toEqual(['now hold low in 86400000']);
    expect(chair.view.clocks[0]).toMatchObject({ kind: 'hold', targetMs: 86_400_000 });
  });
});

describe('the cues of the light', () => {
  it('say when its set time is over', () => {
    const protocol = protocolOf([step('x', 'unit', expose({ surfaces: ['facial'], seconds: 10 }))]);
    const chair = new Chair(settingOf(protocol, ['11'])).rows('at 0 s light-on x 11 facial');
    expect(cuesOf(chair)).toEqual(['now x low in 10000']);
  });
});

describe('the next change', () => {
  const pressing = (chair: Chair) => chair.view.offers.map((o) => o.id).join(', ');

  it('is null while nothing runs', () => {
    const chair = new Chair(settingOf(protocolOf([step('a', 'case', confirm)]), ['11']));
    expect(chair.view.nextChangeInMs).toBeNull();
  });

  it('goes from cue to cue, and to the millisecond after the maximum', () => {
    const etch = protocolOf([step('etch', 'case', dwell(15, 20, 30))]);
    const chair = new Chair(settingOf(etch, ['11'])).rows('at 0 s start etch case');
    const instants = [];
    for (let next = chair.view.nextChangeInMs; next !== null; next = chair.view.nextChangeInMs) {
      instants.push(chair.at(chair.trueMs + next).trueMs / 1000);
    }
    expect(instants).toEqual([15, 20, 30, 30.001]);
  });

  it('knows when the hands would no longer be back in time, so that the bar turns over', () => {
    const protocol = protocolOf([
      step('stand', 'case', dwell(10, 20, 25)),
      step('brief', 'case', confirm, { paceSeconds: 8 }),
    ]);
    const chair = new Chair(settingOf(protocol, ['11'])).rows('at 0 s start stand case');
    const before = pressing(chair);
    // From 12 s on, eight seconds of work would end after the target of 20 s.
    expect(pressing(chair.at(10_000))).toBe(before);
    expect(chair.view.nextChangeInMs).toBeLessThanOrEqual(2001);
    expect(pressing(chair.at(12_001))).not.toBe(before);
  });

  it('knows when a tooth has rested, so that the light can move on', () => {
    const protocol = protocolOf([
      step('x', 'unit', expose({ surfaces: ['facial', 'lingual'], seconds: 10, restSeconds: 15 })),
    ]);
    const chair = new Chair(settingOf(protocol, ['11', '21'])).rows(`
      at 0 s   light-on x 11 facial
      at 10 s  light-move x 21 facial
    `);
    expect(chair.at(20_000).view.offers.map((o) => o.kind)).toEqual(['light-off']);
    // The step says 15 s; the plan lets a tooth rest 20 s between two exposures (derived from the slope
    // of Zarpellon et al. and 140 s of cooling).
    expect(chair.view.nextChangeInMs).toBe(10_000);
    expect(chair.at(30_000).view.offers.map((o) => o.kind)).toEqual(['light-move', 'light-off']);
  });
});
