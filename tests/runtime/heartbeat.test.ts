import { describe, expect, test } from 'vitest';
import { createHeartbeat, type HeartbeatReport } from '../../src/runtime/device/heartbeat.ts';
import { fakeWake } from './fake-page.ts';
import { fakeTime } from './fake-time.ts';

function beating() {
  const time = fakeTime({ wallMs: 1_000_000 });
  const page = fakeWake();
  const reports: HeartbeatReport[] = [];
  const heart = createHeartbeat({
    clock: time.clock,
    timers: time.timers,
    visibility: page,
    onReport: (report) => reports.push(report),
  });
  heart.start();
  return { ...time, page, heart, reports, kinds: () => reports.map(({ kind }) => kind) };
}

describe('heartbeat', () => {
  test('beats each second of real time while the clocks agree', () => {
    const { pass, kinds } = beating();
    pass(3500);
    expect(kinds()).toEqual(['beat', 'beat', 'beat']);
  });

  test.each([
    ['sleep of 8 s', 8000, 'asleep-or-moved'],
    ['wall clock moved an hour forward', 3_600_000, 'asleep-or-moved'],
    ['wall clock moved an hour back', -3_600_000, 'moved-back'],
    ['slip just above the tolerance', 251, 'asleep-or-moved'],
  ])('tells of a %s with both stamps', (_, byMs, cause) => {
    const { clock, pass, reports } = beating();
    pass(1000);
    clock.moveWall(byMs);
    pass(1000);
    const last = reports.at(-1);
    expect(last).toMatchObject({ kind: 'disagree', cause });
    if (last?.kind !== 'disagree') throw new Error('no disagreement');
    expect(last.after.wallMs - last.before.wallMs).toBe(1000 + byMs);
    expect(last.after.monoMs - last.before.monoMs).toBe(1000);
    pass(1000);
    expect(reports.at(-1)?.kind).toBe('beat');
  });

  test('lets a slip of 250 ms pass', () => {
    const { clock, pass, kinds } = beating();
    clock.moveWall(250);
    pass(1000);
    expect(kinds()).toEqual(['beat']);
  });

  test('compares at once when the page wakes, without waiting for its turn', () => {
    const { clock, page, kinds } = beating();
    clock.sleep(60_000);
    page.wake();
    expect(kinds()).toEqual(['disagree']);
  });

  test('goes on after a listener has thrown', () => {
    const time = fakeTime();
    let beats = 0;
    const heart = createHeartbeat({
      clock: time.clock,
      timers: time.timers,
      visibility: fakeWake(),
      onReport: () => {
        beats += 1;
        if (beats === 1) throw new Error('a fault elsewhere');
      },
    });
    heart.start();
    expect(() => time.pass(1000)).toThrow('a fault elsewhere');
    time.pass(2000);
    expect(beats).toBe(3);
  });

  test('is silent when stopped', () => {
    const { heart, page, pass, kinds } = beating();
    heart.stop();
    page.wake();
    pass(5000);
    expect(kinds()).toEqual([]);
  });
});
