/**
 * The sample bead narrows the working time of its mix and never lengthens it. That a bead on the
 * bench flatters: J Orthop Surg Res 2021, doi 10.1186/s13018-021-02790-y (left-over cement and
 * cement in the body set minutes apart). The halving after a stringy bead is common practice, no
 * source.
 */
import { describe, expect, it } from 'vitest';
import { Chair } from './chair.ts';
import { confirm, protocolOf, settingOf, step, window } from './fixture.ts';

const working = protocolOf(
  [step('cement', 'mix', confirm), step('seat', 'unit', confirm, { after: ['cement/linked'] })],
  {
    windows: [
      window('working', 'cement/end -> seat/end', {
        maxS: 240,
        match: 'linked',
        protects: 'working',
        severity: 'serious',
      }),
    ],
  },
);

const run = (rows: string): Chair => new Chair(settingOf(working, ['11'])).rows(rows);

describe('the working time of a mix', () => {
  it.each([
    { probes: '', maxMs: 240_000 },
    { probes: 'at 40 s probe 1 soft', maxMs: 240_000 },
    { probes: 'at 40 s probe 1 stringy', maxMs: 140_000 },
    { probes: 'at 40 s probe 1 stringy\n at 1:00 probe 1 stringy', maxMs: 100_000 },
    { probes: 'at 0 s probe 1 stringy', maxMs: 120_000 },
    { probes: 'at 50 s probe 1 firm', maxMs: 50_000 },
    { probes: 'at 50 s probe 1 firm\n at 55 s probe 1 soft', maxMs: 50_000 },
    { probes: 'at 5:00 probe 1 stringy', maxMs: 240_000 },
  ])('is $maxMs ms after "$probes"', ({ probes, maxMs }) => {
    const chair = run(`at 0 s confirm cement 1\n${probes}`);
    const clock = chair.view.clocks.find((c) => c.of === 'working');
    expect(clock?.maxMs).toBe(maxMs);
  });

  it('is judged, and pressed for, by what the bead left', () => {
    const chair = run(`
      at 0 s   confirm cement 1
      at 50 s  probe 1 firm
      at 1:20  note late
    `);
    const seat = chair.view.offers.find((o) => o.step === 'seat');
    expect(seat).toMatchObject({ slackMs: -30_000, boundBy: 'working' });
    chair.rows('at 1:20 confirm seat 11');
    expect(chair.breaches).toEqual(['late working unit:11 by 30000']);
  });

  it('is left alone by a bead that was probed before this cement was started', () => {
    const chair = run('at 5 s probe 1 firm\nat 10 s confirm cement 1');
    expect(chair.view.clocks.find((c) => c.of === 'working')?.maxMs).toBe(240_000);
  });

  it('is left alone by that bead also after the tablet was off for longer than both', () => {
    const chair = run(`
      reload 10 min
      probe 1 firm
      at 10:10 confirm cement 1
    `);
    const clock = chair.view.clocks.find((c) => c.of === 'working');
    expect([clock?.maxMs, clock?.elapsed.hiMs]).toEqual([240_000, 0]);
  });

  it('comes back when the probe is taken back', () => {
    const chair = run(`
      at 0 s   confirm cement 1
      at 50 s  probe 1 firm
      at 55 s  undo
    `);
    expect(chair.view.clocks.find((c) => c.of === 'working')?.maxMs).toBe(240_000);
  });
});
