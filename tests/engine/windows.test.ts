/** Windows between two moments: judged when they close, by lo or hi, recorded and never blocking. */
import { describe, expect, it } from 'vitest';
import { Chair } from './chair.ts';
import {
  confirm,
  dwell,
  expose,
  protocolOf,
  SMALL_WHOLE,
  settingOf,
  step,
  window,
} from './fixture.ts';

const pair = protocolOf(
  [
    step('dry', 'tooth', confirm),
    step('coat', 'tooth', confirm, { after: ['dry/same'] }),
    step('seat', 'unit', confirm, { after: ['coat/linked'] }),
  ],
  {
    windows: [
      window('surface', 'dry/end -> coat/start', { minS: 10, maxS: 60 }),
      window('wet', 'coat/end -> seat/end', { maxS: 90, match: 'linked', protects: 'wet' }),
    ],
  },
);

describe('a window', () => {
  it.each([
    { coat: '9999 ms', breaches: ['early surface tooth:11 by 1'] },
    { coat: '10 s', breaches: [] },
    { coat: '60 s', breaches: [] },
    { coat: '60001 ms', breaches: ['late surface tooth:11 by 1'] },
    { coat: '2:00', breaches: ['late surface tooth:11 by 60000'] },
  ])('closed after $coat breaks $breaches', ({ coat, breaches }) => {
    const chair = new Chair(settingOf(pair, ['11', '21'])).rows(`
      at 0 s     confirm dry 11
      at ${coat} confirm coat 11
    `);
    expect(chair.breaches).toEqual(breaches);
    expect(chair.status('coat@tooth:11')).toBe('done');
  });

  it('joins linked subjects and names the one that closes it', () => {
    const chair = new Chair(settingOf(pair, ['11', '21'])).rows(`
      at 0 s   confirm dry 11
      at 20 s  confirm coat 11
      at 25 s  confirm dry 21
      at 40 s  confirm coat 21
      at 2:00  confirm seat 11 21
    `);
    expect(chair.breaches).toEqual(['late wet unit:11 by 10000']);
  });

  it('gives one breach for every pair that it joins', () => {
    const protocol = protocolOf(
      [step('mixed', 'case', confirm), step('coat', 'tooth', confirm, { after: ['mixed'] })],
      { windows: [window('open', 'mixed/end -> coat/start', { maxS: 30, match: 'linked' })] },
    );
    const chair = new Chair(settingOf(protocol, ['11', '21'])).rows(`
      at 0 s   confirm mixed case
      at 31 s  confirm coat 11 21
    `);
    expect(chair.breaches).toEqual(['late open tooth:11 by 1000', 'late open tooth:21 by 1000']);
  });

  it('a step that is begun and ended by one press closes windows on both of its edges', () => {
    const protocol = protocolOf(
      [step('a', 'case', confirm), step('b', 'case', confirm, { after: ['a'] })],
      {
        windows: [
          window('to-start', 'a/end -> b/start', { maxS: 10 }),
          window('to-end', 'a/end -> b/end', { maxS: 20 }),
        ],
      },
    );
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 0 s   confirm a case
      at 25 s  confirm b case
    `);
    expect(chair.breaches).toEqual(['late to-start case by 15000', 'late to-end case by 5000']);
  });

  it('with an uncertain length breaks its minimum by the shortest and its maximum by the longest', () => {
    const chair = new Chair(settingOf(pair, ['11'])).rows(`
      at 0 s  confirm dry 11
      at 5 s  sleep 70 s
              confirm coat 11
    `);
    // 5 s on the monotonic clock, 75 s on the wall clock.
    expect(chair.breaches).toEqual([
      'early surface tooth:11 by 5000',
      'late surface tooth:11 by 15000',
    ]);
  });

  it('is dropped when the step that would close it is skipped', () => {
    const chair = new Chair(settingOf(pair, ['11'])).rows(`
      at 0 s   confirm dry 11
      at 5 s   skip coat 11 because shown for a test
    `);
    expect(chair.clocks).toEqual([]);
    expect(chair.at(300_000).breaches).toEqual([]);
  });

  it('shows one clock for all that started together, until each has closed it', () => {
    const chair = new Chair(settingOf(pair, ['11', '21'])).rows('at 0 s confirm dry 11 21');
    expect(chair.at(3000).clocks).toEqual(['surface tooth:11 tooth:21 [3000, 3000]']);
    chair.rows('at 20 s confirm coat 11');
    expect(chair.clocks).toEqual(['surface tooth:21 [20000, 20000]', 'wet unit:11 [0, 0]']);
  });

  it('turns the screen amber while uncured resin is exposed, and only then', () => {
    const chair = new Chair(settingOf(SMALL_WHOLE, ['11'])).rows(`
      at 0 s   confirm ready case
      at 0 s   confirm fit 11
      at 0 s   choose shade case accepted
      at 0 s   start etch 11
      at 20 s  end etch 11
      at 35 s  end rinse 11
    `);
    expect(chair.view.amber).toBe(false);
    expect(chair.rows('at 40 s confirm dry 11').view.amber).toBe(true);
    expect(chair.rows('at 45 s coat coats 11').view.amber).toBe(false);
  });

  it('from a running dwell or to an exposure is a window like any other', () => {
    const protocol = protocolOf(
      [
        step('stand', 'tooth', dwell(5, 10)),
        step('light', 'unit', expose({ surfaces: ['facial'], seconds: 10 }), {
          after: ['stand/linked'],
        }),
      ],
      { windows: [window('held', 'stand/start -> light/start', { maxS: 20, match: 'linked' })] },
    );
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 0 s   start stand 11
      at 12 s  end stand 11
      at 23 s  light-on light 11 facial
    `);
    expect(chair.breaches).toEqual(['late held unit:11 by 3000']);
  });
});

describe('a window that has closed', () => {
  it('no longer presses for the work that goes on', () => {
    const protocol = protocolOf(
      [
        step('seat', 'unit', confirm),
        step('expose', 'unit', expose({ surfaces: ['facial', 'lingual'], seconds: 10 }), {
          after: ['seat/same'],
        }),
      ],
      { windows: [window('seated', 'seat/end -> expose/start', { maxS: 60 })] },
    );
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 0 s   confirm seat 11
      at 20 s  light-on expose 11 facial
      at 2:00  light-off expose 11
    `);
    const next = chair.view.offers.find((o) => o.kind === 'light-on');
    expect(next).toMatchObject({ surface: 'lingual', slackMs: null, boundBy: null });
  });
});
