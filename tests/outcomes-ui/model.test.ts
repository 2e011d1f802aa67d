/** The page's figures from what was noted: against the vectors, at the edges of each gate, and where nothing may be told. */
import { describe, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { livesOf } from '../../src/outcomes/lives.ts';
import { ACCEPTED_A_YEAR, rateInForce } from '../../src/outcomes/model/accepted.ts';
import { chartShown } from '../../src/outcomes/model/flags.ts';
import { inventedClinic } from '../../src/outcomes/model/invented-clinic.ts';
import { outcomesModel } from '../../src/outcomes/model/outcomes-model.ts';
import { reviewWork } from '../../src/outcomes/model/review.ts';
import { type Columns, expectClose, vector } from '../outcomes/vectors.ts';
import { ASKED, inputOf, type SmallUnit, TODAY, unitsOf } from './small-clinic.ts';

interface PrintedStep {
  readonly t: number;
  readonly atRisk: number;
  readonly events: number;
  readonly survival: number;
}

/** `n` units of as many patients, the first `failed` of which were lost after 100 days and more. */
const units = (n: number, failed: number, change: Partial<SmallUnit> = {}): SmallUnit[] =>
  Array.from({ length: n }, (_, at) => ({
    patient: `patient ${change.lot ?? ''} ${change.limit ?? ''} ${at}`,
    day: at < failed ? 100 + at : 3900,
    end: at < failed ? 'event' : 'none',
    ...change,
  }));

describe('the curve of the page', () => {
  // Freireich et al., Blood 1963;21:699, as R with survival computes it.
  test('is that of the 6-MP trial, step by step', () => {
    const { input, expected, tolerance } = vector<Columns, readonly PrintedStep[]>('km-6mp');
    const { curve, showing } = outcomesModel(inputOf(unitsOf(input)));
    expect(showing).toBe('curve');
    expectClose(
      curve?.steps.map(({ day, atRisk, failures, survival }) => ({
        t: day,
        atRisk,
        events: failures,
        survival,
      })),
      expected.map(({ t, atRisk, events, survival }) => ({ t, atRisk, events, survival })),
      tolerance,
    );
  });

  test('leads from each step to the cases that were lost on that day', () => {
    const { curve, cases } = outcomesModel(inputOf(units(30, 3)));
    expect(curve?.steps.map((step) => step.cases.map(({ caseId }) => caseId))).toEqual([
      ['case-0'],
      ['case-1'],
      ['case-2'],
    ]);
    expect(cases).toHaveLength(3);
  });

  test('is not drawn below 20 lives that were looked at; the counts have exact limits', () => {
    const few = outcomesModel(inputOf([...units(19, 0), ...unitsOf({ times: [0], events: [0] })]));
    expect([few.counts.lives, few.counts.seen, few.showing]).toEqual([20, 19, 'counts']);
    expect(few.curve).toBeNull();
    // Clopper & Pearson, none of 19: 1 - 0.025^(1/19).
    expectClose(few.limits, { low: 0, high: 1 - 0.025 ** (1 / 19) }, 1e-8);
    expect(outcomesModel(inputOf(units(20, 0))).showing).toBe('curve');
  });

  test('has an interval also where nothing failed: never 100 to 100', () => {
    const [year] = outcomesModel(inputOf(units(40, 0))).rows;
    expect(year?.point?.by).toEqual(['none-failed']);
    expectClose(year?.point?.low, 0.025 ** (1 / 40), 1e-12);
  });

  test('says nothing of years that nobody was followed for', () => {
    const rows = outcomesModel(inputOf(unitsOf({ times: Array(25).fill(800), events: [] }))).rows;
    expect(rows.map(({ point }) => point !== null)).toEqual([true, false, false, false]);
  });

  test('stands beside shares that add up to 1 where events compete', () => {
    const competing = unitsOf({
      times: Array.from({ length: 40 }, (_, at) => 100 + at * 40),
      events: Array.from({ length: 40 }, (_, at) => at % 3),
    });
    for (const { incidence } of outcomesModel(inputOf(competing)).rows) {
      if (incidence === null) continue;
      const { failed, competingFirst, eventFree } = incidence;
      expect(failed + competingFirst + eventFree).toBeCloseTo(1, 12);
    }
  });

  test('lies between both extremes of the unseen, whose share is told', () => {
    const half = units(60, 6).map((one, at) => (at % 2 === 0 ? one : { ...one, day: 400 }));
    const { rows, followed, counts } = outcomesModel(inputOf(half));
    expect(counts.unseen).toBe(27);
    expect(followed.says).toBe('no-comparison');
    for (const { point, ifAllFailed, ifNoneFailed } of rows.slice(1)) {
      expect(ifAllFailed).toBeLessThan(point?.survival ?? 0);
      expect(ifNoneFailed).toBeGreaterThanOrEqual(point?.survival ?? 1);
    }
  });

  test('does not depend on the order of what was noted', () => {
    const input = inputOf([...units(70, 8, { limit: 'broken' }), ...units(70, 6)]);
    const turned = { ...input, followUps: input.followUps.toReversed() };
    const bare = ({ counts, rows, groupings }: ReturnType<typeof outcomesModel>) =>
      JSON.stringify({ counts, rows, groupings }, (_, value: unknown) =>
        typeof value === 'number' ? Number(value.toPrecision(9)) : value,
      );
    expect(bare(outcomesModel(turned))).toBe(bare(outcomesModel(input)));
  });
});

describe('groups', () => {
  const limitsOf = (all: readonly SmallUnit[]) =>
    outcomesModel(inputOf(all)).groupings.find(({ kind }) => kind === 'limit')?.comparisons[0];
  const missing = (all: readonly SmallUnit[]) => limitsOf(all)?.missing.map(({ gate }) => gate);

  test('are compared from 100 lives on, and below that it says what is missing', () => {
    const at = (lives: number) => [...units(50, 10, { limit: 'broken' }), ...units(lives - 50, 10)];
    expect(missing(at(99))).toEqual(['lives']);
    expect(missing(at(100))).toEqual([]);
  });

  test('ask for 10 patients with a failure, 5 failures expected in each, 10 patients in each', () => {
    const patients = (n: number) => [
      ...units(60, n, { limit: 'broken' }),
      ...units(60, n === 9 ? 0 : 5),
    ];
    expect(missing(patients(9))).toContain('patientsWithFailure');
    expect(missing(patients(10))).toEqual([]);
    const nine = [...units(9, 5, { limit: 'broken' }), ...units(200, 60)];
    expect(limitsOf(nine)?.missing).toMatchObject([
      { gate: 'expected', group: 'broken' },
      { gate: 'patients', group: 'broken', has: 9, needs: 10 },
    ]);
  });

  test('that were followed unequally are not compared', () => {
    const shorter = units(60, 6, { limit: 'broken' }).map((one) =>
      one.end === 'none' ? { ...one, day: 3300 } : one,
    );
    expect(missing([...shorter, ...units(60, 6)])).toEqual(['completenessApart']);
  });

  test('of which a limit cannot be told are counted, and stand in no comparison', () => {
    const all = [
      ...units(60, 6, { limit: 'broken' }),
      ...units(60, 6),
      ...units(30, 20, { limit: 'cannot-tell' }),
    ];
    const [grouping] = outcomesModel(inputOf(all)).groupings;
    expect(grouping?.groups.map(({ name, lives }) => [name, lives])).toEqual([
      ['broken', 60],
      ['cannot-tell', 30],
      ['kept', 60],
    ]);
    expect(limitsOf(all)?.first.lives).toBe(60);
    expect(limitsOf(all)?.rest.lives).toBe(60);
  });

  test('by limit do not exist before somebody has fixed which limits count', () => {
    const open = inputOf(units(120, 20), { reviews: { ...ASKED, question: null } });
    expect(outcomesModel(open).groupings).toEqual([]);
  });

  test('carry no p: between two reviews there is none anywhere', () => {
    const told = JSON.stringify(
      outcomesModel(inputOf([...units(60, 9, { limit: 'broken' }), ...units(60, 4)])),
    );
    expect(told).toContain('"curves":[{');
    expect(told).not.toMatch(/"(p|adjusted|permuted|chiSquare|t)":/);
  });
});

describe('a yearly review', () => {
  const clinic = [...units(60, 20, { limit: 'broken', lot: 'L-2' }), ...units(60, 4)];
  const worked = (all: readonly SmallUnit[]) => {
    const work = reviewWork(inputOf(all), 1);
    for (let n = 0; n < work.portions; n += 1) work.portion(n);
    return work.compared();
  };

  test('has a p for what is enough, adjusted over all groups, and codes for the rest', () => {
    const [limit, lot] = worked(clinic);
    expect(limit?.grouping).toBe('limit window/open broken');
    expect(lot?.grouping).toBe('lot cement L-1');
    expect(limit?.p).toBeLessThan(0.01);
    // The same split twice: the adjusted p is twice the p (Holm, Scand J Stat 1979;6:65).
    expectClose(limit?.adjusted, 2 * (limit?.p ?? 0), 1e-9);
    expect(worked(units(99, 9))).toMatchObject([{ p: null, adjusted: null }]);
    expect(worked(units(99, 9))[0]?.refused).toContain('lives');
  });

  test('permutes labels only where units of one patient differ', () => {
    expect(worked(clinic)[0]).not.toHaveProperty('permuted');
    const mixed = units(60, 12).flatMap((one, at): SmallUnit[] => [
      { ...one, limit: 'broken' },
      { ...one, day: 3900, end: 'none', limit: at < 50 ? 'kept' : 'broken' },
    ]);
    const [limit] = worked(mixed);
    expect(limit?.patients).toBe(60);
    expect(limit?.permuted).toBeGreaterThan(0);
    expect(limit?.permuted).toBeLessThan(0.05);
  });

  test('is made once a year', () => {
    const on = (onDay: string) => {
      const review = {
        onDay,
        question: { endPoint: 'retention', limits: [], onDay },
        compared: [],
        id: 'r',
        by: null,
        atWallMs: 0,
      } as const;
      return outcomesModel(inputOf(units(20, 1), { reviews: { ...ASKED, reviews: [review] } }))
        .review.notBefore;
    };
    expect(on('2025-11-30')).toBeNull();
    expect(on('2025-12-01')).toBe('2026-12-01');
  });
});

describe('early flags', () => {
  const followUps = inventedClinic({
    patients: 250,
    unitsEach: 4,
    years: 6,
    everyMonths: 6,
    lostShare: 0.1,
    seed: 7,
    today: TODAY,
  });
  const base = inputOf([], { followUps });
  const model = outcomesModel(base);
  const [chart] = model.charts;
  const poor = model.lots.find(({ isOpen }) => isOpen);

  test('rise where one lot loses six times as many, and name its cases', () => {
    expect(chart?.flaggedOn).not.toBeNull();
    expect(chart?.flagged.length).toBeGreaterThan(3);
    expect(poor?.lot).toBe('INV-C4');
    expect(poor?.cases).toHaveLength(poor?.failures ?? 0);
  });

  test('begin again once somebody has noted what was looked at', () => {
    const of = `${poor?.materialClass} ${poor?.lot}`;
    const flag = (kind: 'cusum' | 'lot', what: string) => ({
      chart: kind,
      of: what,
      flaggedOn: TODAY,
      lookedOn: TODAY,
      note: 'Lots',
      id: what,
      by: null,
      atWallMs: 0,
    });
    const looked = [flag('cusum', 'retention'), flag('lot', of)];
    const after = outcomesModel({ ...base, reviews: { ...ASKED, looked } });
    expect(after.charts[0]?.flaggedOn).toBeNull();
    expect(after.charts[0]?.now).toBe(0);
    // The charts of the other end points go on.
    expect(after.charts[2]?.now).toBe(model.charts[2]?.now);
    expect(after.lots.find(({ lot }) => lot === 'INV-C4')).toMatchObject({
      isOpen: false,
      lookedOn: TODAY,
    });
  });
});

describe('persons', () => {
  const two = [...units(30, 3, { person: 'RS' }), ...units(25, 1, { person: 'TK', lot: 'L-2' })];

  test('are off until somebody asks for the own units, and then see those alone', () => {
    expect(outcomesModel(inputOf(two)).own).toBeNull();
    const { own } = outcomesModel(inputOf(two, { person: 'TK' }));
    expect([own?.counts.lives, own?.counts.failures]).toEqual([25, 1]);
    // Nothing else of the page depends on who asks.
    const without = (person: string | null) => ({
      ...outcomesModel(inputOf(two, { person })),
      own: null,
    });
    expect(without('TK')).toEqual(without(null));
  });
});

test('on the first day it says how many lives it takes: the sizes of the vector', () => {
  const { firstDay } = outcomesModel(inputOf([]));
  // Schoenfeld, Biometrics 1983;39:499: 66 failures; lives by 1 - exp(-rate x years), computed by two programs.
  expect(firstDay.failures).toBe(66);
  expect(firstDay.rates[0]?.needed.map(({ independent }) => independent)).toEqual([
    2215, 763, 473, 256,
  ]);
  expect(firstDay).toMatchObject({
    acceptedYears: 10,
    debondYears: null,
    against: { unitYears: 455, flagAt: 15 },
    ruledOutAfter: 150,
  });
});

test('a unit counts as in place until its next recall is due, in the chart alone', () => {
  const [first] = livesOf(inputOf(units(1, 0, { day: 100 })).followUps, TODAY);
  const life = present(first, 'a life');
  const chartOf = (recallDays: number) =>
    chartShown({
      lives: [life],
      accepted: rateInForce(ASKED, 'retention'),
      looked: [],
      today: TODAY,
      recallDays,
      nameOf: () => {
        throw new Error('nothing failed');
      },
    }).expected;
  const perDay = ACCEPTED_A_YEAR / 365.25;
  const seen = present(life.ends.retention, 'an end').afterDay;
  expect(chartOf(0)).toBeCloseTo(seen * perDay, 9);
  expect(chartOf(50)).toBeCloseTo((seen + 50) * perDay, 9);
  // Never behind today.
  expect(chartOf(100_000)).toBeCloseTo(life.possibleDays * perDay, 9);
});
