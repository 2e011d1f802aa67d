/** Own paces taken over into a protocol: each press counts once, and the basis says what stands behind it. */
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import type { CaseLog } from '../../src/engine/log.ts';
import { ownTimesFrom } from '../../src/runtime/lead/lead-own-times.ts';
import { paced, withPaces } from '../../src/ui/lead/own-times-model.ts';
import { Chair } from '../engine/chair.ts';
import { confirm, dwell, ETCH_ROUND, protocolOf, settingOf, step } from '../engine/fixture.ts';

const DAY_MS = 86_400_000;
const FIRST_MS = Date.UTC(2026, 10, 2, 9);

const protocol = protocolOf([
  step('ready', 'case', confirm),
  step('fit', 'unit', confirm, { after: ['ready'] }),
  step('dry', 'unit', confirm, { after: ['fit/same'] }),
  step('etch', 'tooth', dwell(15, 20), { after: ['dry/linked'] }),
]);

/** Both units fitted with one press after so many seconds, dried with one press each. */
function caseOf(fitS: number, day: number): CaseLog {
  const chair = new Chair(settingOf(protocol, ['11', '21']), { wallMs: FIRST_MS + day * DAY_MS });
  chair.rows(`
    at 10 s              confirm ready case
    at ${10 + fitS} s    confirm fit 11 21
    at ${18 + fitS} s    confirm dry 11
    at ${24 + fitS} s    confirm dry 21
  `);
  return chair.log;
}

const NOTED = { zone: 'Europe/Lisbon', on: '2026-11-20' };
const logs = [30, 20, 50, 40, 60].map((fitS, i) => caseOf(fitS, i === 4 ? 3 : i));
const times = ownTimesFrom(protocol, logs);
const paceOf = (id: string) => times.steps.find(({ step: { id: of } }) => of === id)?.pace ?? null;

describe('own paces', () => {
  // By hand: five cases, one press for two units each, after 20, 30, 40, 50 and 60 s; the median is
  // 40 s, and the 90th percentile by linear interpolation (Hyndman and Fan 1996, type 7) 56 s.
  it('count one press for two units once', () => {
    expect(paceOf('fit')).toMatchObject({
      count: 5,
      medianMs: 40_000,
      p90Ms: 56_000,
      leastMs: 20_000,
      mostMs: 60_000,
    });
  });

  // By hand: 8 s from the fit to the first, 6 s more to the second, in each of five cases.
  it('count one press for each unit as it was pressed', () => {
    expect(paceOf('dry')).toMatchObject({ count: 10, medianMs: 7_000, leastMs: 6_000 });
  });

  it('say when each of the cases was', () => {
    expect(paceOf('fit')?.openedAtMs).toEqual(
      [0, 1, 2, 3, 3].map((day) => FIRST_MS + day * DAY_MS),
    );
  });

  it('that few presses stand behind are not among those taken over', () => {
    const few = ownTimesFrom(protocol, logs.slice(0, 4));
    expect(paced(few.steps).map((s) => s.step.id)).toEqual(['dry']);
    expect(paced(times.steps).map((s) => s.step.id)).toContain('fit');
  });
});

describe('a press that ends a step for two teeth', () => {
  const chair = new Chair(settingOf(ETCH_ROUND, ['11', '21']));
  // By hand: etched from 10 s and 16 s, off at 30 s and 36 s; rinsed for both until 50 s.
  chair.rows(`
    at 5 s    confirm ready case
    at 10 s   start etch 11
    at 16 s   start etch 21
    at 30 s   end etch 11
    at 36 s   end etch 21
    at 50 s   end rinse 11 21
  `);
  const of = (id: string) =>
    ownTimesFrom(ETCH_ROUND, [chair.log]).steps.find((s) => s.step.id === id);

  it('is one time of that step, and each tooth has its own where it had a press of its own', () => {
    expect(of('etch')?.took).toMatchObject({ count: 2, medianMs: 20_000 });
    expect(of('rinse')?.took).toMatchObject({ count: 1 });
  });

  it('teaches no pace of hands where the clock began with the press of another step', () => {
    expect(of('rinse')?.hands).toBeNull();
    expect(of('rinse')?.pace).toBeNull();
    expect(of('etch')?.hands).toMatchObject({ count: 2, medianMs: 5_500 });
  });
});

describe('a protocol with own paces', () => {
  const next = present(withPaces(protocol, paced(times.steps), NOTED), 'a protocol');
  const of = (id: string) =>
    present(
      next.steps.find((s) => s.id === id),
      id,
    ).pace;
  const was = (id: string) =>
    present(
      protocol.steps.find((s) => s.id === id),
      id,
    ).pace;

  it('has the median, and its own slow time from ten presses on', () => {
    expect(of('fit').medianMs.value).toBe(40_000);
    const { medianMs, p90Ms } = was('fit');
    expect(of('fit').p90Ms.value).toBe(Math.round(40_000 * (p90Ms.value / medianMs.value)));
    expect(of('dry').medianMs.value).toBe(7_000);
    expect(of('dry').p90Ms.value).toBe(8_000);
  });

  it('tells how many presses, in how many cases, on which days, and how far apart', () => {
    expect(of('dry').medianMs.basis).toEqual({
      kind: 'practice',
      note: 'own records: 10 presses in 5 cases on 4 days, 2026-11-02 to 2026-11-05; median 7 s, 90th percentile 8 s, from 6 s to 8 s; taken over 2026-11-20',
    });
    expect(JSON.stringify(of('fit').p90Ms.basis)).toContain('the earlier spread is kept');
  });

  it('is otherwise as it was', () => {
    const plain = (p: typeof protocol) => p.steps.map(({ pace, ...rest }) => rest);
    expect(plain(next)).toEqual(plain(protocol));
    expect(of('etch')).toEqual(was('etch'));
  });
});
