/** What is followed of a case, over the clinic's store: on every tablet, and gone with the case from all. */
import { afterEach, describe, expect, it } from 'vitest';
import { foldFollowUp } from '../../src/outcomes/follow-up.ts';
import { foldReviews } from '../../src/outcomes/reviews.ts';
import { documentOf, type Fact, listFacts } from '../../src/runtime/facts/fact.ts';
import { FactHistory } from '../../src/runtime/facts/fact-history.ts';
import {
  forgetFollowUp,
  leftFacts,
  livesLeftFact,
} from '../../src/runtime/follow-up/forget-follow-up.ts';
import { readAgreed } from '../../src/runtime/outcomes/agreements.ts';
import { must } from '../backup/filled-journal.ts';
import { clinic, paired, settled, TestTablet, until } from '../sharing/clinic.ts';
import { stampAt } from '../storage/sample-case.ts';
import { bonded, found, visit } from './clinic.ts';

const CASE = 'case-1';

let running: readonly TestTablet[] = [];
afterEach(async () => {
  for (const tablet of running) await tablet.off();
  running = [];
});

/** Two tablets of one clinic, both on. */
async function two() {
  const of = await clinic();
  const a = await new TestTablet(of, await paired(of, 'a')).on();
  const b = await new TestTablet(of, await paired(of, 'b')).on();
  running = [a, b];
  return { of, a, b, on: [a, b] };
}

describe('the follow-up of a case', () => {
  it('is on the other tablet, goes with the case, and does not come back from one that was offline', async () => {
    const { of, a, b, on } = await two();
    await a.press(CASE);
    await a.say('follow-up', CASE, bonded());
    await settled(of.hub, on);
    expect(await b.facts('follow-up')).toHaveLength(1);
    of.hub.cut('b');
    const { journal, epoch } = a;
    const about = { stamp: stampAt(99), by: 'Lead', reason: 'asked for' };
    expect(await journal.deleteCase({ caseId: CASE, epoch, ...about })).toMatchObject({ ok: true });
    expect(await forgetFollowUp(journal, { caseId: CASE, epoch })).toMatchObject({ ok: true });
    const seen = visit('2026-02-01', found('11', 'in-place'));
    await b.say('follow-up', CASE, { what: 'visited', visit: seen });
    expect(await b.facts('follow-up')).toHaveLength(2);
    of.hub.mend('b');
    await until(async () => (await b.facts('follow-up')).length === 0, 'the deletion on b');
    await settled(of.hub, on);
    expect(await a.facts('follow-up')).toEqual([]);
    expect(await b.facts('follow-up')).toEqual([]);
  });

  it('that is left by the deletion goes along, and where another left it too it is told by both', async () => {
    const { of, a, b, on } = await two();
    await a.press(CASE);
    await a.say('follow-up', CASE, bonded());
    await settled(of.hub, on);
    for (const tablet of on) of.hub.cut(tablet.name);
    for (const tablet of on) await leave(tablet);
    for (const tablet of on) of.hub.mend(tablet.name);
    await until(async () => (await b.facts('outcome-review')).length === 2, 'both deletions on b');
    await settled(of.hub, on);
    for (const tablet of on) {
      const items = (await factsOf(tablet, 'follow-up')).map(({ item }) => item);
      expect(items.toSorted()).toEqual(['left-of-a', 'left-of-b']);
      const { reviews } = foldReviews([new FactHistory(await factsOf(tablet, 'outcome-review'))]);
      expect(reviews.livesLeft).toEqual([CASE, CASE]);
    }
    expect(await a.facts('follow-up')).toEqual(await b.facts('follow-up'));
  });
});

describe('an agreement to be shown by name', () => {
  it('is withdrawn everywhere once the word of it arrives, also against one that was said meanwhile', async () => {
    const { of, a, b, on } = await two();
    const say = (at: TestTablet, what: 'person-agreed' | 'person-withdrew') =>
      at.say('outcome-review', 'drills-rs', {
        what,
        person: 'RS',
        to: 'drills',
        onDay: '2026-12-01',
      });
    const names = async ({ journal }: TestTablet) => {
      const agreed = await readAgreed(journal);
      return agreed.ok ? agreed.value.map(({ person }) => person) : null;
    };
    await say(a, 'person-agreed');
    await settled(of.hub, on);
    expect([await names(a), await names(b)]).toEqual([['RS'], ['RS']]);
    of.hub.cut('b');
    await say(b, 'person-withdrew');
    await say(a, 'person-agreed');
    expect([await names(a), await names(b)]).toEqual([['RS'], []]);
    of.hub.mend('b');
    await until(async () => (await names(a))?.length === 0, 'the withdrawal on a');
    await settled(of.hub, on);
    expect([await names(a), await names(b)]).toEqual([[], []]);
    // Its screens are told.
    const ids = await b.facts('outcome-review');
    expect(ids.filter((id) => a.brought.includes(id))).toHaveLength(1);
  });
});

const factsOf = async ({ journal }: TestTablet, kind: Fact['kind']): Promise<readonly Fact[]> =>
  must(await listFacts(journal, kind)).facts;

/** Deletes the case and leaves its lives, as the list of cases does. */
async function leave(tablet: TestTablet): Promise<void> {
  const { journal, epoch, name } = tablet;
  const followUp = foldFollowUp(CASE, new FactHistory(await factsOf(tablet, 'follow-up')));
  const left = [
    ...leftFacts(followUp, { newId: () => `of-${name}`, today: '2026-12-01' }),
    livesLeftFact({ caseId: CASE, known: [], tablet: name, atWallMs: 1 }),
  ];
  const about = { stamp: stampAt(99), by: 'Lead', reason: 'asked for' };
  must(await journal.deleteCase({ caseId: CASE, epoch, ...about, leaves: left.map(documentOf) }));
  must(await forgetFollowUp(journal, { caseId: CASE, epoch }));
}
