/** A pace with a fixed part and a part per subject: one unit and ten differ as they do in life. */
import { describe, expect, test } from 'vitest';
import { activitiesOf } from '../../src/plan/activities.ts';
import { openingState } from '../../src/plan/opening-state.ts';
import { ownPaces } from '../../src/plan/own-paces.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import { paceOf } from '../../src/protocol/pace.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { caseOf, coats, confirm, dwell, protocolOf, step } from '../engine/fixture.ts';

const TEN = ['11', '21', '12', '22', '13', '23', '14', '24', '15', '25'];

/** Hands' time in s of each step when it is done to so many units, and the spread of the first. */
function handsOf(protocol: Protocol, units: number, ownSeconds?: number) {
  const medianMs = (ownSeconds ?? 0) * 1000;
  const own = { step: 'cleaned', count: 9, medianMs, p90Ms: medianMs };
  const spec = { ...caseOf(TEN.slice(0, units)), paces: ownSeconds === undefined ? [] : [own] };
  const state = openingState({ spec, protocol, plan: makeRunPlan(spec, protocol) });
  const { tasks } = activitiesOf({ state, nowMs: 0, paces: ownPaces(spec, protocol) });
  const seconds: Record<string, number> = {};
  for (const task of tasks) seconds[task.step] = (seconds[task.step] ?? 0) + task.handsMs / 1000;
  return { ...seconds, sigma: tasks[0]?.sigma };
}

const together = { together: true, paceSeconds: 30, perSubjectSeconds: 20 } as const;
const PACED = protocolOf([
  step('cleaned', 'tooth', confirm, together),
  step('coats', 'tooth', coats(5), { ...together, after: ['cleaned'] }),
  step('primer', 'tooth', dwell(60, 600), { ...together, after: ['coats'] }),
  step('seat', 'unit', confirm, { paceSeconds: 5, perSubjectSeconds: 25, after: ['primer'] }),
]);

describe('the part per subject', () => {
  // By hand: 30 s and 20 s for each tooth make 50 s for one and 230 s for ten. What is pressed unit
  // by unit takes its fixed part with every press.
  test('one press for all takes the fixed part once and the other part for each', () => {
    expect(handsOf(PACED, 1)).toMatchObject({ cleaned: 50, coats: 50, primer: 50, seat: 30 });
    expect(handsOf(PACED, 10)).toMatchObject({ cleaned: 230, coats: 230, primer: 230, seat: 300 });
  });

  test('without it a press takes as long for one as for ten', () => {
    const plain = protocolOf([
      step('cleaned', 'tooth', confirm, { together: true, paceSeconds: 30 }),
    ]);
    expect([1, 10].map((n) => handsOf(plain, n).sigma)).toEqual([
      handsOf(PACED, 1).sigma,
      handsOf(PACED, 10).sigma,
    ]);
    expect(handsOf(plain, 10)).toMatchObject({ cleaned: 30 });
  });

  test('a slow day is slow in the same ratio', () => {
    const [cleaned] = PACED.steps;
    // The small documents of these tests have a 90th percentile of 1.5 times the median.
    expect(cleaned && paceOf(cleaned, 6)).toEqual({ medianMs: 150_000, p90Ms: 225_000 });
  });

  test('a recorded pace replaces the whole', () => {
    expect(handsOf(PACED, 10, 77)).toMatchObject({ cleaned: 77, coats: 230 });
  });

  test('a document may carry it, and nothing of another name', () => {
    const figure = { value: 20_000, basis: { kind: 'practice' } };
    const stored = (more: object) => ({
      ...PACED,
      steps: PACED.steps.map((each) => ({ ...each, pace: { ...each.pace, ...more } })),
    });
    expect(parseProtocol(stored({ perSubjectMs: figure })).ok).toBe(true);
    expect(parseProtocol(stored({ perSubject: figure })).ok).toBe(false);
  });
});
