/** Anaesthesia and rests: in a running case and in a plan. Minutes as published, see calc/anaesthesia. */
import { describe, expect, it } from 'vitest';
import { anaesthesiaTable } from '../../src/plan/anaesthesia-table.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { numbRows } from '../../src/plan/numb-rows.ts';
import { plannedNumbness } from '../../src/plan/planned-numbness.ts';
import { openingTimeline, replan } from '../../src/plan/replan.ts';
import { REST_MS, restMoments, restStretches } from '../../src/plan/rest-moments.ts';
import type { Band, Bar } from '../../src/plan/timeline.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { Chair } from '../engine/chair.ts';
import { confirm, dwell, protocolOf, settingOf, step, window } from '../engine/fixture.ts';

const MINUTE_MS = 60_000;
const HURTING = protocolOf([
  step('ready', 'case', confirm),
  step('etch', 'tooth', dwell(15, 20, 30), { after: ['ready'], hands: [4, 4] }),
  step('rinse', 'tooth', confirm, { after: ['etch/same'], mayHurt: true }),
  step('done', 'case', confirm, { after: ['rinse'] }),
]);

describe('the anaesthesia of a running case', () => {
  const given = { agent: 'lidocaine-100', technique: 'upper-infiltration', teeth: ['11', '12'] };
  const rows = (chair: Chair) => numbRows(chair.log.state, chair.view.at, anaesthesiaTable());

  it('warns from 0.8 of the pulpal time on, while something may still hurt', () => {
    const chair = new Chair(settingOf(HURTING, ['11', '12']));
    expect(rows(chair)).toEqual([]);
    chair.do({ do: 'give-anaesthesia', given });
    // 39 min by Quintessence Int 2005;36:197, so 31.2 min.
    chair.at(31.2 * MINUTE_MS - 1);
    expect(rows(chair)[0]?.isWarning).toBe(false);
    chair.at(31.2 * MINUTE_MS);
    expect(rows(chair)[0]).toMatchObject({ isWarning: true, toCome: [{ id: 'rinse' }] });
  });

  it('no longer warns of teeth that a top-up names; both rows stay', () => {
    const chair = new Chair(settingOf(HURTING, ['11', '12']));
    chair.do({ do: 'give-anaesthesia', given });
    chair.at(32 * MINUTE_MS);
    chair.do({ do: 'give-anaesthesia', given: { ...given, teeth: ['11'] } });
    expect(rows(chair).map((r) => [r.isWarning, r.toCome.length])).toEqual([
      [true, 1],
      [false, 1],
    ]);
    chair.do({ do: 'give-anaesthesia', given: { ...given, teeth: ['12'] } });
    expect(rows(chair).map((r) => r.isWarning)).toEqual([false, false, false]);
  });

  it('is quiet once nothing may hurt any more, or the teeth are others', () => {
    const chair = new Chair(settingOf(HURTING, ['11']));
    chair.do({ do: 'give-anaesthesia', given: { ...given, teeth: ['46'] } });
    chair.do({ do: 'give-anaesthesia', given: { ...given, teeth: ['11'] } });
    chair.at(40 * MINUTE_MS);
    expect(rows(chair).map((r) => r.isWarning)).toEqual([false, true]);
    chair.rows('next');
    chair.rows('start etch 11');
    chair.at(40.4 * MINUTE_MS);
    chair.rows('end etch 11');
    chair.rows('next');
    expect(rows(chair).map((r) => r.isWarning)).toEqual([false, false]);
  });
});

describe('the anaesthesia of a plan', () => {
  const bar = (name: string, startMin: number, endMin: number): Bar => ({
    id: name,
    step: name,
    subjects: ['tooth:11'],
    round: 0,
    part: 'hands',
    by: 'dentist',
    usesLight: false,
    because: { kind: 'opening', step: null, subjects: [], plusMs: 0 },
    startMs: startMin * MINUTE_MS,
    endMs: endMin * MINUTE_MS,
    slackMs: 0,
  });
  const spec: CaseFile = {
    ...settingOf(HURTING, ['11']).spec,
    anaesthesia: { agent: 'lidocaine-100', technique: 'upper-infiltration' },
  };
  const planned = (bars: readonly Bar[]) =>
    plannedNumbness({
      spec,
      protocol: HURTING,
      timeline: { bars, startMs: 0 },
      table: anaesthesiaTable(),
    });

  it('is given so that it has set in before the first step that may hurt', () => {
    const found = planned([bar('etch', 5, 6), bar('rinse', 10, 11)]);
    // Onset 2.8 min, pulp 39 min.
    expect(found?.givenAtMs).toBe(7.2 * MINUTE_MS);
    expect(found?.endsAtMs).toBe(46.2 * MINUTE_MS);
    expect(found?.late).toEqual([]);
  });

  it('names what may hurt and lies behind the warning', () => {
    const found = planned([bar('rinse', 10, 11), bar('etch', 50, 51), bar('rinse', 60, 61)]);
    expect(found?.late).toEqual([{ step: 'rinse', subjects: ['tooth:11'], atMs: 60 * MINUTE_MS }]);
  });

  it('is not told where nothing is to be injected or nothing may hurt', () => {
    expect(planned([bar('etch', 5, 6)])).toBeNull();
    const { anaesthesia: _, ...without } = spec;
    const timeline = { bars: [bar('rinse', 1, 2)], startMs: 0 };
    const table = anaesthesiaTable();
    expect(plannedNumbness({ spec: without, protocol: HURTING, timeline, table })).toBeNull();
  });
});

describe('rests of 5 min', () => {
  const protocol = protocolOf(
    [
      step('ready', 'case', confirm),
      step('dam', 'case', confirm, { after: ['ready'], field: 'closes' }),
      step('etch', 'tooth', dwell(15, 20, 30), { after: ['dam'], hands: [4, 4] }),
      step('dry', 'tooth', confirm, { after: ['etch'], together: true }),
      step('cover', 'tooth', confirm, { after: ['dry'], together: true }),
      step('dam-off', 'case', confirm, { after: ['cover'], field: 'opens' }),
      step('polish', 'case', confirm, { after: ['dam-off'] }),
    ],
    { windows: [window('wet', 'dry/end -> cover/start', { maxS: 60 })] },
  );
  const setting = settingOf(protocol, ['11', '12']);
  const { timeline } = makePlan({ ...setting, tables: null, risk: { samples: 10 } });

  it('lie between pieces of work where no limit is open, and say whether the mouth can be rinsed', () => {
    const found = restMoments(timeline, protocol);
    expect(found.map(({ step: name, mayRinse }) => [name, mayRinse])).toEqual([
      ['ready', true],
      ['dam', true],
      ['etch', false],
      ['dam-off', false],
      ['polish', true],
    ]);
  });

  it('in a row are told together, apart where the mouth can be rinsed and where not', () => {
    const told = restStretches(timeline, protocol).map(({ first, last, mayRinse }) => [
      first.step,
      last.step,
      mayRinse,
    ]);
    expect(told).toEqual([
      ['ready', 'dam', true],
      ['etch', 'etch', false],
      ['dam-off', 'dam-off', false],
      ['polish', 'polish', true],
    ]);
  });

  it('are none while something acts by the clock, with a limit or without', () => {
    const acting = protocolOf([
      step('stand', 'tooth', dwell(null, 600), { hands: [4, 4] }),
      step('tidy', 'case', confirm),
      step('air', 'tooth', confirm, { after: ['stand/same'] }),
    ]);
    const plan = makePlan({ ...settingOf(acting, ['11']), tables: null, risk: { samples: 10 } });
    const stand = plan.timeline.bars.filter((bar) => bar.step === 'stand');
    const [fromMs, toMs] = [stand[0]?.startMs ?? 0, stand.at(-1)?.endMs ?? 0];
    expect(toMs - fromMs).toBeGreaterThanOrEqual(600_000);
    const inside = restMoments(plan.timeline, acting).filter(
      (m) => m.atMs > fromMs && m.atMs < toMs,
    );
    expect(inside).toEqual([]);
  });

  it('are none while uncured resin lies open, however long it may', () => {
    const windows = protocol.windows.map((w) => ({
      ...w,
      maxMs: { value: 3_600_000, basis: { kind: 'practice' as const } },
    }));
    const stepsOf = (amber: boolean): readonly string[] => {
      const resin = { ...protocol, windows: windows.map((w) => ({ ...w, amber })) };
      const plan = makePlan({ ...settingOf(resin, ['11']), tables: null, risk: { samples: 10 } });
      return restMoments(plan.timeline, resin).map(({ step: name }) => name);
    };
    expect(stepsOf(false)).toContain('cover');
    expect(stepsOf(true)).not.toContain('cover');
  });

  it('break no limit when the work behind them is put off by 5 min', () => {
    for (const { atMs } of restMoments(timeline, protocol)) {
      // What opens before the pause and closes behind it is longer by the pause.
      const over = timeline.bands.filter((b) => b.fromMs < atMs && b.toMs > atMs);
      expect(over.filter((b: Band) => b.slackMs < REST_MS)).toEqual([]);
    }
    const wet = timeline.bands.find((b) => b.of === 'wet');
    const before = timeline.bars.find((b) => b.step === 'cover')?.startMs;
    expect(before).toBe(wet?.fromMs);
    expect(restMoments(timeline, protocol).some(({ step: name }) => name === 'cover')).toBe(false);
  });

  it('are foretold in the running case, from where the field stands', () => {
    const chair = new Chair(setting);
    chair.rows('at 1 s next\nat 5 s next\nat 10 s start etch 11');
    const { state } = chair.log;
    const openingEndMs = openingTimeline(state).endMs;
    const found = replan({ state, nowMs: 10_000, openingEndMs, risk: { samples: 10 } });
    expect(found.nextRest).toMatchObject({ step: 'dam-off', mayRinse: false });
    expect(found.nextRinse).toMatchObject({ step: 'polish', mayRinse: true });
  });
});
