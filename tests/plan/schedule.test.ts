import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ORIGIN, type ScheduleArc, type ScheduleProblem } from '../../src/plan/schedule-problem.ts';
import { schedule } from '../../src/plan/schedule-search.ts';
import { assertKept } from './assert-kept.ts';
import { FISHER_THOMPSON_6X6, jobShop } from './job-shop.ts';

const EXACT = { nodesMax: 20_000, gapShare: 0 };

function solved(problem: ScheduleProblem, limits = EXACT) {
  const found = schedule(problem, limits);
  if (found === null) throw new Error('no schedule');
  assertKept(problem, found);
  return found;
}

describe('published instances', () => {
  // Optimum 55: Carlier & Pinson, "An algorithm for solving the job-shop problem", Management
  // Science 35:164-176, 1989 (value as commonly tabulated).
  test('reaches and proves the optimum 55 of the 6x6 instance of Fisher & Thompson 1963', () => {
    const found = solved(jobShop(FISHER_THOMPSON_6X6));
    expect(found.makespanMs).toBe(55);
    expect(found.lowerBoundMs).toBeCloseTo(55, 3);
  });

  test('gives the same schedule every time', () => {
    const problem = jobShop(FISHER_THOMPSON_6X6);
    expect(solved(problem)).toEqual(solved(problem));
  });

  // Johnson, Naval Research Logistics Quarterly 1:61-68, 1954: the two-machine flow shop is solved
  // by taking jobs with the shorter first operation from the front, the others from the back.
  test('two machines in the same order: as short as Johnson 1954 proves', () => {
    const times = fc.record({
      a: fc.integer({ min: 1, max: 30 }),
      b: fc.integer({ min: 1, max: 30 }),
    });
    fc.assert(
      fc.property(fc.array(times, { minLength: 1, maxLength: 6 }), (jobs) => {
        const front = jobs.filter((j) => j.a <= j.b).sort((x, y) => x.a - y.a);
        const back = jobs.filter((j) => j.a > j.b).sort((x, y) => y.b - x.b);
        let first = 0;
        let second = 0;
        for (const job of [...front, ...back]) {
          first += job.a;
          second = Math.max(second, first) + job.b;
        }
        const problem = jobShop(jobs.map((j) => [0, j.a, 1, j.b]));
        expect(solved(problem).makespanMs).toBe(second);
      }),
      { numRuns: 100, seed: 1954 },
    );
  });
});

describe('bounds', () => {
  const task = (durationMs: number, ...ways: number[]) => ({ durationMs, ways });

  test('a maximum between two tasks puts other work before both', () => {
    // Tasks 0 and 1 need the dentist and may lie 5 apart at most; task 2 needs the dentist for 10.
    const arcs: ScheduleArc[] = [
      { from: 0, to: 1, gainMs: 4 },
      { from: 1, to: 0, gainMs: -5 },
    ];
    const found = solved({ tasks: [task(4, 1), task(3, 1), task(10, 1)], arcs });
    expect(found.makespanMs).toBe(17);
    expect(Math.abs((found.startMs[1] ?? 0) - (found.startMs[0] ?? 0))).toBeLessThanOrEqual(5);
  });

  test('a deadline that leaves no room is answered with null, not with a broken schedule', () => {
    const arcs: ScheduleArc[] = [
      { from: 0, to: ORIGIN, gainMs: -3 },
      { from: 1, to: ORIGIN, gainMs: -3 },
    ];
    expect(schedule({ tasks: [task(4, 1), task(4, 1)], arcs }, EXACT)).toBeNull();
  });

  test('bounds that contradict each other are answered with null', () => {
    const arcs: ScheduleArc[] = [
      { from: 0, to: 1, gainMs: 4 },
      { from: 1, to: 0, gainMs: -3 },
    ];
    expect(schedule({ tasks: [task(4, 1), task(4, 2)], arcs }, EXACT)).toBeNull();
  });

  test('work that either can do goes to whoever is free', () => {
    const found = solved({ tasks: [task(10, 1), task(10, 1, 2), task(4, 2, 1)], arcs: [] });
    expect(found.makespanMs).toBe(14);
    expect(solved({ tasks: [task(10, 1), task(10, 1, 2)], arcs: [] }).makespanMs).toBe(10);
  });

  test('one light is never in two places', () => {
    const found = solved({ tasks: [task(10, 1 | 4), task(10, 2 | 4)], arcs: [] });
    expect(found.makespanMs).toBe(20);
  });

  test('without room for nodes it still gives a schedule that keeps everything', () => {
    const found = solved(jobShop(FISHER_THOMPSON_6X6), { nodesMax: 1, gapShare: 0 });
    expect(found.makespanMs).toBeGreaterThanOrEqual(55);
    expect(found.lowerBoundMs).toBeLessThanOrEqual(55);
  });
});
