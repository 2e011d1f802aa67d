/** A visit that goes on from an earlier one: what it still waits for is counted from the last exposure. */
import { describe, expect, test } from 'vitest';
import { makePlan } from '../../src/plan/make-plan.ts';
import { openingKey, openingTimeline, replan } from '../../src/plan/replan.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { parseCaseText, parseProtocolText } from '../../src/protocol/parse-text.ts';
import { Chair } from '../engine/chair.ts';
import { textOf } from './documents.ts';

const HOUR_MS = 3_600_000;

function shipped() {
  const spec = parseCaseText(textOf('demo-data/cases/finish-two-veneers.json'));
  const protocol = parseProtocolText(textOf('shared/protocols/finishing-visit.json'));
  if (!spec.ok || !protocol.ok) throw new Error('the shipped finishing visit');
  return { spec: spec.value, protocol: protocol.value };
}

const { spec, protocol } = shipped();
const lastMs = spec.follows?.lastExposureWallMs ?? 0;
/** The case with its appointment so many hours after the last exposure. */
const hoursOn = (hours: number): CaseFile => ({
  ...spec,
  scheduledFor: new Date(lastMs + hours * HOUR_MS).toISOString(),
});
const planOf = (own: CaseFile) =>
  makePlan({ spec: own, protocol, tables: null, risk: { samples: 100 } });

describe('the plan of a finishing visit', () => {
  // Finishing at least 24 h after the last exposure: ISO/TS 11405 stores bonds for 24 h; the window
  // of the shipped protocol says so.
  test('is as long as its work when the day is over', () => {
    const chairMs = planOf(hoursOn(24)).timeline.chairMs;
    expect(chairMs).toBeLessThan(HOUR_MS);
    expect(planOf(hoursOn(72)).timeline.chairMs).toBe(chairMs);
    expect(planOf(spec).timeline.chairMs).toBe(chairMs);
  });

  test('waits for what is left of the day when it is too early', () => {
    const { chairMs } = planOf(hoursOn(10)).timeline;
    expect(chairMs).toBeGreaterThan(14 * HOUR_MS);
    expect(chairMs).toBeLessThan(15 * HOUR_MS);
  });

  test('without an appointment it is planned for when every wait is over', () => {
    const { scheduledFor: _, ...open } = spec;
    expect(planOf(open).timeline.chairMs).toBe(planOf(hoursOn(24)).timeline.chairMs);
  });
});

describe('a finishing visit in the chair', () => {
  test('is held against its plan from when it was really opened', () => {
    const { plan } = planOf(spec);
    const chair = new Chair({ spec, protocol, plan }, { wallMs: lastMs + 30 * HOUR_MS });
    const opening = openingTimeline(chair.log.state);
    expect(opening.chairMs).toBeLessThan(HOUR_MS);
    chair.at(60_000);
    const { state } = chair.log;
    const seen = replan({ state, nowMs: chair.trueMs, openingEndMs: opening.endMs });
    expect(seen.behindMs).toBe(60_000);
  });

  test('opened again on another day, or at other paces, it is another opening', () => {
    const { plan } = planOf(spec);
    const openedOn = (hours: number, own = spec) =>
      openingKey(
        new Chair({ spec: own, protocol, plan }, { wallMs: lastMs + hours * HOUR_MS }).log.state,
      );
    const key = openedOn(10);
    expect(openedOn(10)).toBe(key);
    expect(openedOn(30)).not.toBe(key);
    const paces = [{ step: 'polish', medianMs: 90_000, p90Ms: 120_000, count: 9 }];
    expect(openedOn(10, { ...spec, paces })).not.toBe(key);
  });
});
