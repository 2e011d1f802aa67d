/** How answers are told: drills that are put together by hand. Rules of this project, no source. */
import { expect, test } from 'vitest';
import { wasAnswered } from '../../src/drill/account.ts';
import { lastPressMs } from '../../src/drill/course.ts';
import { drillPlan } from '../../src/drill/draw.ts';
import type { DrillCard, DrillPlan, MishapCard } from '../../src/drill/drill-types.ts';
import { Hands } from '../../src/drill/hands.ts';
import { idealRun } from '../../src/drill/ideal.ts';
import { scoreDrill } from '../../src/drill/score.ts';
import { drillCaseOf } from './drill-case.ts';

const two = drillCaseOf('two-veneers');

const saliva = (tooth: string, afterMs: number): MishapCard => ({
  id: `wet-${tooth}`,
  kind: 'mishap',
  mishap: 'saliva',
  wayBack: 'etched-saliva',
  sight: 'tooth-shines',
  subjects: [`tooth:${tooth}`],
  from: { key: `etch-rinse@tooth:${tooth}`, edge: 'end' },
  afterMs,
});
const foil: DrillCard = {
  id: 'lip',
  kind: 'foil',
  sight: 'lip-wet',
  subjects: ['case'],
  from: { key: 'etch-rinse@tooth:11', edge: 'end' },
  afterMs: 1000,
};

/** After the etch is rinsed off, with nothing pressed any more: what is done then, in s after the first card. */
function scored(
  cards: readonly DrillCard[],
  acts: readonly (readonly [atS: number, act: (hands: Hands) => unknown])[],
) {
  const hands = new Hands(two);
  const isRinsed = () => hands.log.state.runs['etch-rinse@tooth:21']?.status === 'done';
  let pressesBefore = 1;
  while (!isRinsed()) {
    expect(hands.next()).toBe('pressed');
    pressesBefore += 1;
  }
  const beginsAtMs = hands.atMs;
  const plan: DrillPlan = {
    seed: 0,
    toward: [],
    beginsAtMs,
    pressesBefore,
    lastsMs: 300_000,
    cards,
  };
  const ideal = idealRun(two, plan);
  for (const [atS, act] of acts) {
    hands.atMs = beginsAtMs + atS * 1000;
    act(hands);
  }
  hands.atMs = beginsAtMs + 120_000;
  return scoreDrill({ plan, log: hands.log, ideal, nowMs: hands.atMs });
}
const take =
  (teeth: readonly string[], wayBack = 'etched-saliva', mishap: 'saliva' | 'blood' = 'saliva') =>
  (hands: Hands) =>
    expect(
      hands.do({
        do: 'take-way-back',
        wayBack,
        mishap,
        subjects: teeth.map((tooth) => `tooth:${tooth}`),
        reason: 'seen',
      }),
    ).toBe(true);
const none = { takenBack: 0, wrongWay: 0, wrongSubject: 0 };

test('two teeth one after the other, each answered in its turn', () => {
  const score = scored(
    [saliva('11', 1000), saliva('21', 1000)],
    [
      [24, take(['11'])],
      [28, take(['21'])],
    ],
  );
  expect(score.cards.map((c) => [c.isRightFirst, c.firstRightMs])).toEqual([
    [true, 23_000],
    [true, 7000],
  ]);
  expect(score.wasted).toEqual(none);
});

test('one press for both', () => {
  const score = scored([saliva('11', 1000), saliva('21', 1000)], [[24, take(['11', '21'])]]);
  expect(score.cards.map(({ isRightFirst }) => isRightFirst)).toEqual([true, true]);
  expect(score.wasted).toEqual(none);
});

test('one press counts for one card only where the other had not come yet', () => {
  const score = scored([saliva('11', 1000), saliva('21', 1000)], [[5, take(['11', '21'])]]);
  expect(score.cards[0]?.isRightFirst).toBe(false);
  expect(score.wasted.wrongSubject).toBe(1);
});

test('what was taken back answers nothing, until it is taken again', () => {
  const undone = (hands: Hands) => hands.do({ do: 'undo' });
  const left = scored(
    [saliva('11', 1000)],
    [
      [5, take(['11'])],
      [8, undone],
    ],
  );
  expect(left.cards[0]).toMatchObject({ firstRightMs: null, isRightFirst: false });
  const again = scored(
    [saliva('11', 1000)],
    [
      [5, take(['11'])],
      [8, undone],
      [12, take(['11'])],
    ],
  );
  expect(again.cards[0]).toMatchObject({ firstRightMs: 11_000, isRightFirst: true });
});

test('a wrong way back is an answer, however soon the drill was ended after it', () => {
  const [wrong] = scored([saliva('11', 1000)], [[5, take(['21'])]]).cards;
  const [open] = scored([saliva('11', 1000)], []).cards;
  if (wrong === undefined || open === undefined) throw new Error('no card came');
  const soonMs = wrong.shown.shownAtMs + 20_000;
  expect([wrong.isMissed, open.isMissed]).toEqual([true, false]);
  expect([wasAnswered(wrong, soonMs), wasAnswered(open, soonMs)]).toEqual([true, false]);
});

test('a limit that is over when the drill ends counts, although nobody had pressed its end', () => {
  const gelOn = (hands: Hands) => {
    while (hands.log.state.runs['etch@tooth:11']?.status !== 'running') hands.next();
  };
  const over = (endS: number) => {
    const hands = new Hands(two);
    gelOn(hands);
    const beginsAtMs = hands.atMs;
    const base = { seed: 0, toward: [], beginsAtMs, pressesBefore: hands.presses + 1 };
    const plan: DrillPlan = { ...base, lastsMs: 300_000, cards: [] };
    const ideal = idealRun(two, plan);
    const nowMs = beginsAtMs + endS * 1000;
    const { breaches } = scoreDrill({ plan, log: hands.log, ideal, nowMs });
    return breaches.filter(({ of, subject }) => of === 'etch' && subject === 'tooth:11');
  };
  expect(over(10)).toEqual([]);
  // The etch of enamel is at most 60 s in the shipped protocol.
  expect(over(120)).toMatchObject([{ kind: 'over', what: 'step' }]);
  expect(over(120)[0]?.by).toBeGreaterThan(40_000);
});

test('what calls for nothing is left alone, or not', () => {
  expect(scored([foil], []).cards[0]).toMatchObject({ isRightFirst: true });
  const sent = scored([foil], [[9, take(['11', '21'])]]);
  expect(sent.cards[0]).toMatchObject({ isRightFirst: false });
  expect(sent.wasted.wrongWay).toBe(1);
  // A late answer to what came before it says nothing of it.
  const late = scored([saliva('11', 1000), { ...foil, afterMs: 25_000 }], [[30, take(['11'])]]);
  expect(late.cards.map(({ isRightFirst }) => isRightFirst)).toEqual([true, true]);
});

test('the room is that of windows of the tooth, its unit and its portion', () => {
  const seeds = Array.from({ length: 30 }, (_, seed) => drillPlan({ ...two, seed }));
  const film = seeds.flatMap(({ cards }) => cards).filter((c) => c.sight === 'tooth-brown-film');
  // Nobody brought an astringent in this case.
  expect(film).toEqual([]);
  const score = scored([saliva('11', 1000)], [[5, take(['11'])]]);
  expect(score.cards[0]?.roomMs ?? 0).toBeGreaterThan(0);
});

test('nothing is shown while light is given, and nothing on a tooth while something runs over it', () => {
  const running: DrillCard = {
    ...saliva('11', 1000),
    from: { key: 'etch-rinse@tooth:11', edge: 'start' },
  };
  const hands = new Hands(two);
  while (hands.log.state.runs['etch-rinse@tooth:11']?.status !== 'running') hands.next();
  const plan: DrillPlan = {
    seed: 0,
    toward: [],
    beginsAtMs: hands.atMs,
    pressesBefore: hands.presses + 1,
    lastsMs: 120_000,
    cards: [running],
  };
  const [shown] = idealRun(two, plan).shown;
  while (hands.log.state.runs['etch-rinse@tooth:11']?.status === 'running') hands.next();
  expect(shown?.shownAtMs).toBeGreaterThanOrEqual(hands.atMs);
});

test('what the app notes by itself is no press: a card that came stays up', () => {
  const hands = new Hands(two);
  hands.next();
  const pressedMs = hands.atMs;
  hands.atMs += 30_000;
  expect(hands.do({ do: 'note-tones', heard: false })).toBe(true);
  expect(lastPressMs(hands.log)).toBe(pressedMs);
  hands.next();
  expect(lastPressMs(hands.log)).toBe(hands.atMs);
});
