/** What is followed of a case, over the clinic's store: on every tablet, and gone with the case from all. */
import { afterEach, describe, expect, it } from 'vitest';
import { forgetFollowUp } from '../../src/runtime/follow-up/forget-follow-up.ts';
import { readAgreed } from '../../src/runtime/outcomes/agreements.ts';
import { clinic, paired, settled, TestTablet, until } from '../sharing/clinic.ts';
import { stampAt } from '../storage/sample-case.ts';
import { bonded, found, visit } from './clinic.ts';

const CASE = 'case-1';

describe('the follow-up of a case', () => {
  let on: TestTablet[] = [];
  afterEach(async () => {
    for (const tablet of on) await tablet.off();
    on = [];
  });

  it('is on the other tablet, goes with the case, and does not come back from one that was offline', async () => {
    const of = await clinic();
    for (const name of ['a', 'b']) on.push(await new TestTablet(of, await paired(of, name)).on());
    const [a, b] = on as [TestTablet, TestTablet];
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
});

describe('an agreement to be shown by name', () => {
  let on: TestTablet[] = [];
  afterEach(async () => {
    for (const tablet of on) await tablet.off();
    on = [];
  });

  it('is withdrawn everywhere once the word of it arrives, also against one that was said meanwhile', async () => {
    const of = await clinic();
    for (const name of ['a', 'b']) on.push(await new TestTablet(of, await paired(of, name)).on());
    const [a, b] = on as [TestTablet, TestTablet];
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
