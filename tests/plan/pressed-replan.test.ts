/** The plan from the middle of a case in which one press stands for more than one thing. */
import { describe, expect, it } from 'vitest';
import { openingEnd, replan } from '../../src/plan/replan.ts';
import type { Chair } from '../engine/chair.ts';
import { followPressed, pressedChair, untilOffer } from '../export/pressed-journals.ts';

const SECOND = 1000;

const planned = (chair: Chair) => {
  const { state } = chair.log;
  const { endMs } = openingEnd(state);
  return replan({ state, nowMs: chair.trueMs, openingEndMs: endMs, risk: { samples: 50 } });
};

describe('the plan in the middle of a pass of light', () => {
  const chair = followPressed(pressedChair(), { until: untilOffer('pass-begin', 'expose') });
  const before = planned(chair);
  chair.next();
  const stop = chair.view.offers.find((o) => o.kind === 'pass-stop');
  const leftMs = stop?.dueInMs ?? 0;
  chair.at(chair.trueMs + leftMs - SECOND);
  const during = planned(chair);
  chair.at(chair.trueMs + SECOND);
  const after = planned(chair);

  it('counts what the tones have led through as given, so that nobody is told to be behind', () => {
    // Two places of 10 s: were they owed again, the end would come 20 s later.
    expect(leftMs).toBeGreaterThan(20 * SECOND);
    // The tones move on after 3 s where the pace plans 10 s for a tip that is moved: two moves are saved.
    for (const now of [during, after]) {
      const laterMs = now.timeline.endMs - before.timeline.endMs;
      expect(laterMs).toBeLessThanOrEqual(SECOND);
      expect(laterMs).toBeGreaterThanOrEqual(-20 * SECOND);
    }
  });

  it('owes again what nobody confirms', () => {
    const offer = chair.view.offers.find((o) => o.kind === 'pass-confirm');
    chair.do({ do: 'press', offer: { ...(offer as NonNullable<typeof offer>), places: [] } });
    expect(planned(chair).timeline.endMs - after.timeline.endMs).toBeGreaterThan(15 * SECOND);
  });
});

it('the plan holds at every press of a case with lists, sweeps and implied steps', () => {
  const chair = pressedChair();
  let presses = 0;
  while (!chair.view.finished && presses < 120) {
    followPressed(chair, { presses: 10 });
    presses += 10;
    const { timeline, behindMs } = planned(chair);
    expect(Number.isFinite(timeline.endMs) && Number.isFinite(behindMs)).toBe(true);
    expect(timeline.endMs).toBeGreaterThanOrEqual(chair.trueMs);
    for (const band of timeline.bands) expect(Number.isFinite(band.slackMs)).toBe(true);
  }
});

describe('the plan of a list that was half taken', () => {
  it('is shorter by the lines that were taken, and by no more', () => {
    const chair = followPressed(pressedChair(), { until: untilOffer('list') });
    const before = planned(chair).timeline.endMs;
    const [offer] = chair.view.offers;
    if (offer === undefined) throw new Error('no offer');
    const taken = (offer.lines ?? []).slice(0, 3).map(({ step, subjects }) => ({ step, subjects }));
    expect(chair.do({ do: 'press', offer: { ...offer, taken } })).toBeNull();
    const after = planned(chair).timeline.endMs;
    const { steps } = chair.log.state.opened.protocol;
    const sumMs = taken.reduce(
      (ms, { step }) => ms + (steps.find((s) => s.id === step)?.pace.medianMs.value ?? 0),
      0,
    );
    // No time passed at the press, so the end comes earlier by what those lines were planned to take; the plan
    // lets two people do lines that wait for no other at the same time.
    expect(before - after).toBeGreaterThan(0);
    expect(before - after).toBeLessThanOrEqual(sumMs);
  });
});
