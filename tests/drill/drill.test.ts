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

const SHORT = ['two-veneers', 'zirconia-crown-and-wing-bridge'];
const ALL = [
  ...SHORT,
  'four-veneers-universal',
  'onlay-and-crown',
  'two-composite-inlays',
  'eight-upper-veneers',
];
const CASES = isLong ? ALL : SHORT;
const SEEDS = Array.from({ length: isLong ? 60 : 2 }, (_, i) => i + 1);

const cases = new Map<string, DrillCase>(CASES.map((name) => [name, drillCaseOf(name)]));
const caseOf = (name: string): DrillCase => {
  const found = cases.get(name);
  if (found === undefined) throw new Error(name);
  return found;
};
/** What stood at an instant; two where something was pressed in it. */
const statesAt = (stretches: readonly Stretch[], atMs: number) =>
  stretches.flatMap(({ fromMs, untilMs, state }) =>
    fromMs <= atMs && atMs <= untilMs ? [state] : [],
  );

describe.each(CASES)('drills of %s', (name) => {
  const drilled = caseOf(name);

  test.each(SEEDS)(
    'seed %d: cards fit when they come, and the ideal run breaks nothing more',
    (seed) => {
      const plan = drillPlan({ ...drilled, seed });
      expect(plan.cards.filter(({ kind }) => kind === 'mishap').length).toBeLessThanOrEqual(3);
      const ideal = idealRun(drilled, plan);
      // Hands that are kept away at the end stay away so long.
      expect(ideal.endedAtMs - ideal.beganAtMs).toBeLessThanOrEqual(600_000 + 60_000);
      const stretches = stretchesOf(ideal.log);
      const came = ideal.shown.flatMap(({ card, shownAtMs }) =>
        shownAtMs === null ? [] : [{ card, shownAtMs }],
      );
      for (const [i, { card, shownAtMs }] of came.entries()) {
        expect(shownAtMs - (came[i - 1]?.shownAtMs ?? -APART_MS)).toBeGreaterThanOrEqual(APART_MS);
        expect(shownAtMs).toBeGreaterThanOrEqual(plan.beginsAtMs);
        if (card.kind !== 'mishap') continue;
        const ways = statesAt(stretches, shownAtMs).map((state) => waysFor(state, card).length);
        expect(Math.max(...ways), card.sight).toBeGreaterThan(0);
      }
      const score = scoreDrill({ plan, log: ideal.log, ideal, nowMs: ideal.endedAtMs });
      expect(score.breaches).toEqual([]);
      expect(score.wasted).toEqual({ takenBack: 0, wrongWay: 0, wrongSubject: 0 });
      expect(score.cards.map((c) => [c.isRightFirst, c.isInTime])).toEqual(
        came.map(() => [true, true]),
      );
    },
  );
});

describe('what a seed draws', () => {
  const two = caseOf('two-veneers');

  test('is the same each time, and the same on every machine', () => {
    const plans = [1, 2, 3].map((seed) => drillPlan({ ...two, seed }));
    // Another plan of the same content is played anew.
    const again = { ...two, plan: { ...two.plan } };
    expect([1, 2, 3].map((seed) => drillPlan({ ...again, seed }))).toEqual(plans);
    // Seen here first; a change of the protocol, of the plan or of the draws changes it.
    expect(hashText(canonicalText(plans)).slice(0, 16)).toBe('9dab1f242c56f074');
  });

  test('has no mishap in one drill of six', () => {
    const none = Array.from({ length: 600 }, (_, seed) => drillPlan({ ...two, seed })).filter(
      ({ cards }) => !cards.some(({ kind }) => kind === 'mishap'),
    );
    // Binomial, 600 draws of 1/6: 100, standard deviation 9.1; four of them either way.
    expect(none.length).toBeGreaterThan(63);
    expect(none.length).toBeLessThan(137);
  });

  test('goes toward what is asked for', () => {
    const share = (toward: readonly 'unit-dropped'[]): number =>
      Array.from({ length: 200 }, (_, seed) => drillPlan({ ...two, seed, toward })).filter(
        ({ cards }) => cards.some((c) => c.kind === 'mishap' && c.mishap === 'unit-dropped'),
      ).length;
    expect(share(['unit-dropped'])).toBeGreaterThan(2 * share([]));
  });
});

describe('what is measured', () => {
  const two = caseOf('two-veneers');
  const isOneMishap = ({ cards }: DrillPlan): boolean =>
    cards.length === 1 && cards[0]?.kind === 'mishap' && cards[0].mishap === 'saliva';
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
