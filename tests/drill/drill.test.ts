/** Drills of the shipped families: what seeds draw, the ideal run, what is measured. Rules of this project, no source. */
import { describe, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { type Stretch, stretchesOf, waysFor } from '../../src/drill/cards.ts';
import { APART_MS, drillPlan } from '../../src/drill/draw.ts';
import type { DrillPlan, MishapCard } from '../../src/drill/drill-types.ts';
import { type DrillCase, Hands } from '../../src/drill/hands.ts';
import { idealRun } from '../../src/drill/ideal.ts';
import { scoreDrill } from '../../src/drill/score.ts';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { hashText } from '../../src/storage/hash-chain.ts';
import { isLong } from '../tools/run-size.ts';
import { drillCaseOf } from './drill-case.ts';

const CASES = [
  'two-veneers',
  'four-veneers-universal',
  'onlay-and-crown',
  'zirconia-crown-and-wing-bridge',
  'two-composite-inlays',
  'eight-upper-veneers',
] as const;
const SEEDS = Array.from({ length: isLong ? 60 : 4 }, (_, i) => i + 1);

const cases = new Map<string, DrillCase>(CASES.map((name) => [name, drillCaseOf(name)]));
const caseOf = (name: string): DrillCase => {
  const found = cases.get(name);
  if (found === undefined) throw new Error(name);
  return found;
};
const stateAt = (stretches: readonly Stretch[], atMs: number) =>
  stretches.findLast(({ fromMs, untilMs }) => fromMs <= atMs && atMs <= untilMs && fromMs < atMs)
    ?.state;

describe.each(CASES)('drills of %s', (name) => {
  const drilled = caseOf(name);

  test.each(SEEDS)(
    'seed %d: cards fit when they come, and the ideal run breaks nothing more',
    (seed) => {
      const drawn = Array.from({ length: 400 }, (_, seed) => drillPlan({ ...two, seed }));
  const plan: DrillPlan = present(drawn.find(isOneMishap), 'a drill of one mishap');
  const [card] = plan.cards as readonly [MishapCard];
  const ideal = idealRun(two, plan);
  const shownAtMs = ideal.shown[0]?.shownAtMs ?? 0;

  /** Plays on to `atMs`, does something, and goes on for a minute. */
  function played(atMs: number, act: (hands: Hands) => void): ReturnType<typeof scoreDrill> {
    const hands = new Hands(two);
    for (let n = 1; n < plan.pressesBefore; n += 1) hands.next();
    hands.next(plan.beginsAtMs);
    while (hands.next(atMs) === 'pressed');
    act(hands);
    const untilMs = hands.atMs + 60_000;
    while (hands.next(untilMs) === 'pressed');
    return scoreDrill({ plan, log: hands.log, ideal, nowMs: hands.atMs });
  }
  const take = (hands: Hands, subjects: readonly string[], wayBack = card.wayBack): boolean => {
    const found = two.protocol.waysBack.find(({ id }) => id === wayBack);
    return hands.do({
      do: 'take-way-back',
      wayBack,
      mishap: found?.mishap ?? card.mishap,
      subjects,
      reason: 'seen',
    });
  };

  test('the right way back nine seconds later', () => {
    const score = played(shownAtMs + 9000, (hands) => take(hands, card.subjects));
    expect(score.cards[0]).toMatchObject({
      firstRightMs: 9000,
      isRightFirst: true,
      isInTime: true,
    });
    expect(score.wasted).toEqual({ takenBack: 0, wrongWay: 0, wrongSubject: 0 });
  });

  test('the wrong tooth first', () => {
    const other = card.subjects[0] === 'tooth:11' ? 'tooth:21' : 'tooth:11';
    const score = played(shownAtMs + 5000, (hands) => {
      expect(take(hands, [other])).toBe(true);
      hands.do({ do: 'undo' });
      hands.atMs += 4000;
      take(hands, card.subjects);
    });
    expect(score.cards[0]).toMatchObject({ firstRightMs: 9000, isRightFirst: false });
    expect(score.wasted).toEqual({ takenBack: 1, wrongWay: 0, wrongSubject: 1 });
  });

  test('nothing at all', () => {
    const score = played(shownAtMs + 5000, () => undefined);
    expect(score.cards[0]).toMatchObject({
      firstRightMs: null,
      isRightFirst: false,
      isInTime: false,
    });
  });

  test('too late: a window that was open has closed', () => {
    const room = played(shownAtMs + 1000, (hands) => take(hands, card.subjects)).cards[0]?.roomMs;
    expect(room).not.toBeNull();
    const score = played(shownAtMs + (room ?? 0) + 1000, (hands) => take(hands, card.subjects));
    expect(score.cards[0]?.isInTime).toBe(false);
  });
});
