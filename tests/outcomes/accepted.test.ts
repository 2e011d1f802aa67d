/** The accepted yearly rate: of the question that holds, of those before it, and what the early flags make of it. */
import { describe, expect, test } from 'vitest';
import { acceptedWith, rateInForce, rateOfQuestion } from '../../src/outcomes/model/accepted.ts';
import { outcomesModel } from '../../src/outcomes/model/outcomes-model.ts';
import { NO_REVIEWS, type Question, type Reviews } from '../../src/outcomes/review-types.ts';
import { readReviewSaid } from '../../src/outcomes/schema-follow-up.ts';
import { ASKED, inputOf, type SmallUnit } from '../outcomes-ui/small-clinic.ts';

const asked = (onDay: string, change: Partial<Question> = {}) => ({
  endPoint: 'success' as const,
  limits: [],
  onDay,
  ...change,
  id: onDay,
  by: null,
  atWallMs: 0,
});

const reviewsOf = (...questions: readonly ReturnType<typeof asked>[]): Reviews => ({
  ...NO_REVIEWS,
  question: questions.at(-1) ?? null,
  earlier: questions.slice(0, -1),
});

describe('the rate in force', () => {
  test('is 2 % where no question was fixed, and of a question from before that carries none', () => {
    const app = { endPoint: 'success', yearlyRate: 0.02, fixedOn: null, before: null };
    expect(rateInForce(NO_REVIEWS, 'success')).toEqual(app);
    expect(rateInForce(reviewsOf(asked('2026-01-02')), 'success')).toEqual(app);
    expect(rateOfQuestion(asked('2026-01-02'))).toMatchObject({ yearlyRate: 0.02, fixedOn: null });
  });

  test('is that of the question, and says since when and what it was before', () => {
    const own = asked('2027-03-01', { accepted: { success: 0.08 } });
    const again = asked('2027-09-01', { limits: ['window/open'], accepted: { success: 0.08 } });
    const other = asked('2028-01-01', { accepted: { success: 0.1 } });
    const of = (...all: readonly ReturnType<typeof asked>[]) =>
      rateInForce(reviewsOf(...all), 'success');
    expect(of(asked('2026-01-02'), own)).toMatchObject({
      yearlyRate: 0.08,
      fixedOn: '2027-03-01',
      before: 0.02,
    });
    // Another question with the same rate changes nothing of it.
    expect(of(own, again)).toMatchObject({ fixedOn: '2027-03-01', before: 0.02 });
    expect(of(own, again, other)).toMatchObject({ fixedOn: '2028-01-01', before: 0.08 });
    expect(of(asked('2027-01-01', { accepted: { success: 0.02 } }))).toMatchObject({
      fixedOn: '2027-01-01',
      before: null,
    });
  });

  test('of the other end points stays what it was when another question is fixed', () => {
    const reviews = reviewsOf(asked('2027-03-01', { accepted: { success: 0.08 } }));
    const accepted = acceptedWith(reviews, { endPoint: 'retention', yearlyRate: 0.015 });
    expect(accepted).toEqual({ retention: 0.015, success: 0.08 });
    const next = reviewsOf(
      asked('2027-03-01', { accepted: { success: 0.08 } }),
      asked('2028-01-01', { endPoint: 'retention', accepted }),
    );
    expect(rateInForce(next, 'success')).toMatchObject({ yearlyRate: 0.08, fixedOn: '2027-03-01' });
    expect(rateInForce(next, 'survival')).toMatchObject({ yearlyRate: 0.02, fixedOn: null });
  });

  test('is the lowest while tablets differ', () => {
    const sides = [0.08, 0.05, 0.1].map((success, n) =>
      asked(`2027-03-0${n + 1}`, { accepted: { success } }),
    );
    const reviews = { ...NO_REVIEWS, question: sides[0] ?? null, differing: sides };
    expect(rateInForce(reviews, 'success')).toMatchObject({
      yearlyRate: 0.05,
      fixedOn: '2027-03-02',
    });
  });

  test.each([0, -0.01, 0.201, Number.NaN, '0.02'])('is never %s', (success) => {
    const question = { endPoint: 'success', limits: [], onDay: '2027-03-01' };
    const said = { what: 'question-fixed', question };
    expect(readReviewSaid(said)).not.toBeNull();
    expect(
      readReviewSaid({ ...said, question: { ...question, accepted: { success: 0.2 } } }),
    ).not.toBeNull();
    expect(
      readReviewSaid({ ...said, question: { ...question, accepted: { success } } }),
    ).toBeNull();
  });
});

describe('the early flags', () => {
  const units = (n: number, failed: number, lot: string): SmallUnit[] =>
    Array.from({ length: n }, (_, at) => ({
      patient: `${lot} ${at}`,
      day: at < failed ? 100 + 40 * at : 3900,
      end: at < failed ? 'event' : 'none',
      lot,
    }));
  const clinic = [...units(60, 14, 'L-1'), ...units(40, 0, 'L-2')];
  const at = (accepted?: number) => {
    const question = {
      ...ASKED.question,
      ...asked('2026-06-01', { endPoint: 'retention' }),
      ...(accepted === undefined ? {} : { accepted: { retention: accepted } }),
    };
    const model = outcomesModel(inputOf(clinic, { reviews: { ...ASKED, question } }));
    return { model, chart: model.charts.find(({ endPoint }) => endPoint === 'retention') };
  };

  test('go by the rate in force from the beginning of the chart, and keep every failure', () => {
    const [usual, own] = [at(), at(0.2)];
    expect(usual.chart).toMatchObject({ failures: 14, wasFlagged: null });
    expect(usual.chart?.flaggedOn).not.toBeNull();
    // Ten times the rate: ten times as many are expected, over the same time, of the same failures.
    expect(own.chart?.failures).toBe(14);
    expect(own.chart?.points.map(({ day }) => day)).toEqual(
      usual.chart?.points.map(({ day }) => day),
    );
    expect((own.chart?.expected ?? 0) / (usual.chart?.expected ?? 1)).toBeCloseTo(10, 9);
    expect(own.chart?.limit).toBeGreaterThan(usual.chart?.limit ?? 0);
    expect(own.chart).toMatchObject({
      flaggedOn: null,
      wasFlagged: true,
      accepted: { yearlyRate: 0.2, fixedOn: '2026-06-01', before: 0.02 },
    });
    // The charts of the other end points stay at theirs.
    const survival = (model: typeof own.model) =>
      model.charts.find(({ endPoint }) => endPoint === 'survival');
    expect(survival(own.model)).toEqual(survival(usual.model));
  });

  test('and lots are held against it as well', () => {
    const lot = (o: ReturnType<typeof at>) => o.model.lots.find(({ lot: name }) => name === 'L-1');
    // Beta(50 u + f, 50 (1 - u) + n - f): the mean of a lot of 60 with 7 lost in its first year.
    expect(lot(at())?.says.mean).toBeCloseTo((1 + 7) / 110, 12);
    expect(lot(at(0.1))?.says.mean).toBeCloseTo((5 + 7) / 110, 12);
    expect(lot(at())?.isOpen).toBe(true);
    expect(lot(at(0.1))?.isOpen).toBe(false);
  });

  test('and the first day says how long it takes to see it doubled', () => {
    // Schoenfeld's lives by 1 - exp(-rate x years), as in the vectors, at another rate: ln(20) / rate for none at all.
    const { firstDay, accepted } = at(0.05).model;
    expect(accepted).toMatchObject({ yearlyRate: 0.05, endPoint: 'retention' });
    expect(firstDay.rates[0]).toMatchObject({ of: 'accepted', yearlyRate: 0.05 });
    expect(firstDay.ruledOutAfter).toBe(60);
    const failed = (rate: number) => 1 - Math.exp(-rate * 5);
    const events = (1.959964 + 0.841621) ** 2 / (0.25 * Math.LN2 ** 2);
    expect(firstDay.rates[0]?.needed[2]?.independent).toBe(
      Math.ceil(events / ((failed(0.05) + failed(0.1)) / 2)),
    );
    expect(at(0.001).model.firstDay.acceptedYears).toBeNull();
    expect(firstDay.acceptedYears).toBeLessThan(10);
  });
});
