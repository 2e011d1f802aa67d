/** Who agreed to be shown by name: withdrawn at once, and on every tablet that hears of it. */
import { expect, test } from 'vitest';
import { foldAgreements } from '../../src/outcomes/agreements.ts';
import { asFact, type Fact } from '../../src/runtime/facts/fact.ts';
import { FactHistory } from '../../src/runtime/facts/fact-history.ts';
import { agreementItem, readAgreed, sayAgreed } from '../../src/runtime/outcomes/agreements.ts';
import { must } from '../backup/filled-journal.ts';
import { factsOf } from '../facts/tablets.ts';
import { meet, type WithFollowUps, withFollowUps } from './clinic.ts';

const TO = 'own-figures';
const ON_DAY = '2026-12-01';

const said = (
  isAgreed: boolean,
  after: readonly Fact[],
  o: { tablet?: string; at?: number } = {},
) =>
  asFact({
    kind: 'outcome-review',
    item: agreementItem({ to: TO, person: 'RS' }),
    said: {
      what: isAgreed ? 'person-agreed' : 'person-withdrew',
      person: 'RS',
      to: TO,
      onDay: ON_DAY,
    },
    after: after.map(({ id }) => id),
    tablet: o.tablet ?? 'a',
    by: 'RS',
    atWallMs: o.at ?? 0,
  });

const standing = (...facts: readonly Fact[]) =>
  foldAgreements([new FactHistory(facts)]).map(({ person }) => person);

/** Each order of a few things. */
const orders = <T>(all: readonly T[]): readonly (readonly T[])[] =>
  all.length < 2
    ? [all]
    : all.flatMap((one) =>
        orders(all.filter((other) => other !== one)).map((rest) => [one, ...rest]),
      );

test('a withdrawal counts against what it knew and what it did not know; agreed anew, it counts', () => {
  const first = said(true, []);
  const withdrawn = said(false, [first]);
  // Agreed on another tablet, whose clock is ahead, without knowing of the withdrawal.
  const beside = said(true, [first], { tablet: 'b', at: 9 });
  const anew = said(true, [withdrawn, beside], { at: 1 });
  for (const order of orders([first, withdrawn, beside])) expect(standing(...order)).toEqual([]);
  for (const order of orders([first, withdrawn, beside, anew])) {
    expect(standing(...order)).toEqual(['RS']);
  }
  expect(standing(first)).toEqual(['RS']);
  expect(standing(first, beside)).toEqual(['RS']);
  expect(standing(withdrawn)).toEqual([]);
});

test('of two tablets: agreed on one, seen by both; withdrawn on one, withdrawn on both', async () => {
  const tablets = [await withFollowUps('a'), await withFollowUps('b')] as const;
  const [a, b] = tablets;
  let windows = tablets.map(({ followUps }) => followUps);
  for (const one of windows) must(await one.open());
  const agree = (at: 0 | 1, isAgreed: boolean, person = 'RS') =>
    windows[at]?.agree({ person, to: TO, isAgreed });
  const shown = () => windows.map(({ state }) => state.getState().reviews.agreed);
  // What a backup brought is read when the window opens.
  const together = async (one: WithFollowUps, other: WithFollowUps): Promise<void> => {
    await meet(one, other);
    windows = tablets.map(({ anew }) => anew());
    for (const each of windows) must(await each.open());
  };
  const stands = [{ person: 'RS', to: TO, onDay: ON_DAY }];
  await agree(0, true);
  await together(a, b);
  expect(shown()).toEqual([stands, stands]);
  // At once here; the other hears of it when they meet, and what it said meanwhile does not count.
  await agree(0, false);
  expect(shown()).toEqual([[], stands]);
  await agree(1, true, 'R.S.');
  await together(a, b);
  expect(shown()).toEqual([[], []]);
  await agree(1, true);
  await together(b, a);
  expect(shown()).toEqual([stands, stands]);
  expect(await factsOf(a)).toEqual(await factsOf(b));
  expect(windows[0]?.state.getState().unread).toBe(0);
  expect(await agree(0, true, ' . ')).toMatchObject({ ok: false, error: { code: 'empty' } });
  must(await sayAgreed(a.facts, { person: 'R. S.', to: TO, isAgreed: false, onDay: ON_DAY }));
  expect(must(await readAgreed(a.journal))).toEqual([]);
});

test('what a person agreed to says nothing of the other thing, and is no person of the clinic', async () => {
  const a = await withFollowUps('a');
  must(await sayAgreed(a.facts, { person: 'TK', to: 'drills', isAgreed: true, onDay: ON_DAY }));
  must(await sayAgreed(a.facts, { person: 'TK', to: TO, isAgreed: true, onDay: ON_DAY }));
  must(await sayAgreed(a.facts, { person: 'TK', to: TO, isAgreed: false, onDay: ON_DAY }));
  expect(must(await readAgreed(a.journal))).toEqual([
    { person: 'TK', to: 'drills', onDay: ON_DAY },
  ]);
  expect((await factsOf(a)).map(({ item }) => item).toSorted()).toEqual([
    agreementItem({ to: 'drills', person: 't.k.' }),
    'own-figures-tk',
    'own-figures-tk',
  ]);
});
