/** What happens to a store and to tablets that is no network fault: full, put back, cloned, forged, deleted. */
import { afterEach, describe, expect, it } from 'vitest';
import { signStatement } from '../../src/sync/members.ts';
import { makeRootSeed, rootKeys } from '../../src/sync/root-key.ts';
import { stampAt } from '../storage/sample-case.ts';
import {
  type Clinic,
  clinic,
  paired,
  SITE,
  settled,
  type TabletParts,
  TestTablet,
  until,
} from './clinic.ts';

let tablets: TestTablet[] = [];
afterEach(async () => {
  for (const tablet of tablets) await tablet.off();
  tablets = [];
});

async function on(of: Clinic, parts: TabletParts): Promise<TestTablet> {
  const tablet = await new TestTablet(of, parts).on();
  tablets.push(tablet);
  return tablet;
}

async function two() {
  const of = await clinic();
  const [forA, forB] = [await paired(of, 'a'), await paired(of, 'b')];
  return { of, forA, forB, a: await on(of, forA), b: await on(of, forB) };
}

const off = async (tablet: TestTablet): Promise<void> => {
  await tablet.off();
  tablets = tablets.filter((each) => each !== tablet);
};

describe('a store', () => {
  it('that is full is read all the same; what is owed grows, and goes when there is room', async () => {
    const { of, a, b } = await two();
    await settled(of.hub, tablets);
    of.hub.full(true);
    await a.press('case-1');
    await until(() => a.engine.state.problem === 'store-full', 'the problem');
    expect(a.engine.state.owed).toBeGreaterThan(0);
    expect(a.engine.isShared).toBe(false);
    expect(await b.entries('case-1')).toHaveLength(0);
    of.hub.full(false);
    a.engine.now();
    await settled(of.hub, tablets);
    expect(await b.entries('case-1')).toHaveLength(1);
    expect(a.engine.state.problem).toBeNull();
  });

  it('that went back to an older disk gets everything again, and says so', async () => {
    const { of, a, b } = await two();
    await a.press('case-1');
    await settled(of.hub, tablets);
    const older = of.hub.disk();
    await a.press('case-1', 3);
    await b.press('case-2');
    await settled(of.hub, tablets);
    of.hub.rollBack(older);
    for (const tablet of tablets) tablet.engine.now();
    await settled(of.hub, tablets);
    expect(a.engine.wentBackAtWallMs).toBe(a.nowMs);
    const fresh = await on(of, await paired(of, 'c'));
    await settled(of.hub, tablets);
    expect(await fresh.entries('case-1')).toEqual(await a.entries('case-1'));
    expect(await fresh.entries('case-2')).toEqual(await b.entries('case-2'));
  });

  it('is read from where it was left after weeks without a line', async () => {
    const { of, a, b } = await two();
    await settled(of.hub, tablets);
    of.hub.cut('b');
    b.nowMs += 40 * 86_400_000;
    for (let n = 0; n < 60; n += 1) {
      await a.press(`case-${n}`);
      await a.press(`case-${n}`, 3);
    }
    await b.press('own');
    await until(() => a.engine.isShared, 'a to have shared');
    of.hub.mend('b');
    await settled(of.hub, tablets);
    const here = await b.journal.listCases();
    expect(here.ok && here.value).toHaveLength(61);
    expect(await a.entries('own')).toHaveLength(1);
  });
});

describe('a cloned tablet', () => {
  it('whose database was copied whole shows two ends of the case on every tablet; neither is lost', async () => {
    const { of, forA, a, b } = await two();
    await a.press('case-1');
    await settled(of.hub, tablets);
    const copy: TabletParts = {
      ...forA,
      device: {
        ...forA.device,
        cases: new Map(forA.device.cases),
        documents: new Map(forA.device.documents),
        tombstones: new Map(),
        heartbeats: new Map(),
        tabs: new Set(),
      },
      database: (await paired(of, 'clone')).database,
    };
    const clone = await on(of, copy);
    await settled(of.hub, tablets);
    of.hub.cut('a');
    await a.press('case-1', 2);
    await clone.press('case-1', 1);
    await clone.say('material', 'box', { type: 'recalled' });
    of.hub.mend('a');
    await settled(of.hub, tablets);
    for (const tablet of [a, b, clone]) {
      await tablet.engine.lookAgain();
      const [fork] = tablet.engine.forks;
      expect(fork, tablet.name).toMatchObject({ caseId: 'case-1', at: 1 });
      const ends = fork?.ends.map(({ entries }) => entries.map(({ hash }) => hash)) ?? [];
      expect(ends.map((end) => end.length).toSorted(), tablet.name).toEqual([1, 2]);
    }
    expect((await a.entries('case-1')).length).toBe(3);
    expect((await clone.entries('case-1')).length).toBe(2);
  });

  it('that has the id and not the keys is no tablet of the clinic', async () => {
    const { of, forA, a, b } = await two();
    await a.press('case-1');
    await settled(of.hub, tablets);
    await off(a);
    const other = await paired(of, 'a');
    const fake = await on(of, { ...forA, keys: other.keys, database: other.database });
    await fake.press('case-1');
    await until(() => of.hub.messages('J').length > 1, 'its message');
    await until(async () => (await b.database.count('refused')) > 0, 'a refusal');
    await b.engine.lookAgain();
    expect(b.engine.refused.map(({ code }) => code)).toContain('bad-signature');
    expect(await b.entries('case-1')).toHaveLength(1);
  });
});

describe('a case that is deleted', () => {
  it('goes on every tablet with its key, and does not come back with an older disk', async () => {
    const { of, a, b } = await two();
    await a.press('case-1');
    await a.press('case-2');
    await settled(of.hub, tablets);
    const before = of.hub.disk();
    const deleted = await a.journal.deleteCase({
      caseId: 'case-1',
      epoch: a.epoch,
      stamp: stampAt(9),
      by: null,
      reason: 'wrong chart',
    });
    expect(deleted.ok).toBe(true);
    await settled(of.hub, tablets);
    expect(await b.entries('case-1')).toHaveLength(0);
    expect((await b.database.all('keys')).map(({ item }) => item)).toEqual(['case-2']);
    of.hub.rollBack(before);
    for (const tablet of tablets) tablet.engine.now();
    await settled(of.hub, tablets);
    const fresh = await on(of, await paired(of, 'c'));
    await settled(of.hub, tablets);
    for (const tablet of [a, b, fresh]) {
      expect(await tablet.entries('case-1'), tablet.name).toHaveLength(0);
      expect(await tablet.entries('case-2'), tablet.name).toHaveLength(1);
    }
  });
});

describe('a rehearsal', () => {
  it('stays on its tablet', async () => {
    const { of, a, b } = await two();
    const { opening } = await import('../storage/sample-case.ts');
    const { epoch } = a;
    await a.journal.append({ caseId: 'trial', epoch, recorded: [opening('trial')] });
    await a.press('case-1');
    await settled(of.hub, tablets);
    expect(await b.entries('case-1')).toHaveLength(1);
    expect(await b.entries('trial')).toHaveLength(0);
    expect(of.hub.messages('J').filter(({ subject }) => subject.includes('trial'))).toEqual([]);
  });
});

it('what a tablet has of an earlier clinic stays on it', async () => {
  const { of, a, b } = await two();
  await settled(of.hub, tablets);
  const other = await rootKeys(globalThis.crypto, makeRootSeed(globalThis.crypto));
  const said = await signStatement(globalThis.crypto, {
    site: 'earlier',
    root: other,
    statement: { type: 'renamed', device: 'old', name: 'Chair', atWallMs: 1 },
  });
  const before = of.hub.messages('F').length;
  await a.say('tablet', 'old', said);
  await a.say('clinic', 'box', { type: 'sealed', site: 'earlier', box: {} });
  const [own] = await a.say('clinic', 'box', { type: 'sealed', site: SITE, box: {} });
  await settled(of.hub, tablets);
  expect(of.hub.messages('F')).toHaveLength(before + 1);
  expect(await b.facts('clinic')).toEqual([own?.id]);
  expect(b.engine.refused).toEqual([]);
});
