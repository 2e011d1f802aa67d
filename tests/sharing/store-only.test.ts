/** Cases of other tablets that were closed long ago: their line is here, their entries lie on the store. */
import { afterEach, describe, expect, it } from 'vitest';
import { MS_PER_DAY, wallMs } from '../../src/base/units.ts';
import { anchorHeads } from '../../src/runtime/anchors/heads.ts';
import { keepFact } from '../../src/runtime/facts/fact.ts';
import { KEPT_DAYS } from '../../src/runtime/sharing/store-only.ts';
import { signStatement } from '../../src/sync/members.ts';
import { stampAt } from '../storage/sample-case.ts';
import {
  clinic,
  paired,
  patientOpening,
  settled,
  statementFact,
  TestTablet,
  until,
} from './clinic.ts';
import { closedOn, longAfter, presses, storeOnlyIds } from './old-cases.ts';

const CASE = 'case-1';

describe('a case that another tablet closed long ago', () => {
  let on: TestTablet[] = [];
  afterEach(async () => {
    for (const tablet of on) await tablet.off();
    on = [];
  });

  async function switched(of: Awaited<ReturnType<typeof clinic>>, name: string) {
    const tablet = new TestTablet(of, await paired(of, name));
    longAfter(tablet);
    on.push(await tablet.on());
    return tablet;
  }

  /** A closes one case and leaves another open; B comes long after. */
  async function twoTablets() {
    const of = await clinic();
    const empty = of.hub.disk();
    const a = await switched(of, 'a');
    await closedOn(a, CASE);
    await a.press('open-1');
    await a.press('open-1', 3);
    const { journal, epoch, nowMs: nowWallMs } = a;
    const { crypto } = globalThis;
    await anchorHeads({ journal, crypto, keys: a.parts.keys, epoch, nowWallMs });
    await settled(of.hub, on);
    const b = await switched(of, 'b');
    await settled(of.hub, on);
    await until(async () => (await storeOnlyIds(b)).length > 0, 'the line');
    return { of, a, b, empty };
  }

  it('leaves its line and no entry on a new tablet, the others come whole', async () => {
    const { a, b } = await twoTablets();
    expect(await storeOnlyIds(b)).toEqual([CASE]);
    expect(await b.entries(CASE)).toEqual([]);
    expect(await b.entries('open-1')).toEqual(await a.entries('open-1'));
    const row = await b.database.get('storeOnly', CASE);
    expect(row?.summary.head).toBe((await a.entries(CASE)).at(-1));
    expect(await b.database.count('held')).toBe(0);
    expect(b.engine.storeOnly.state.count).toBe(1);
    // A head that was signed of it names entries that are not here: that is no cut.
    const heard = await b.journal.documents.get('head-heard', { id: CASE });
    expect(heard.ok && heard.value).not.toBeNull();
    expect(b.engine.brokenChains).toEqual([]);
    // Its writer keeps it whole, however long ago it was.
    expect(await storeOnlyIds(a)).toEqual([]);
    expect((await a.entries(CASE)).length).toBeGreaterThan(40);
  });

  it('is fetched when it is opened, verified, and offered to nobody again', async () => {
    const { of, a, b } = await twoTablets();
    const count = of.hub.messages('J').length;
    const told: string[] = [];
    const brought = await b.engine.bringHere(CASE, (p) => told.push(`${p.done}/${p.of}`));
    expect(brought.ok).toBe(true);
    expect(told.at(-1)).toMatch(/^(\d+)\/\1$/);
    expect(await b.entries(CASE)).toEqual(await a.entries(CASE));
    expect(await storeOnlyIds(b)).toEqual([]);
    b.engine.now();
    await settled(of.hub, on);
    expect(of.hub.messages('J')).toHaveLength(count);
    expect(b.engine.brokenChains).toEqual([]);
  });

  it('says why it cannot be fetched, and loses nothing by it', async () => {
    const { of, b } = await twoTablets();
    of.hub.cut('b');
    await until(() => b.engine.state.line !== 'open', 'the cut');
    const cut = await b.engine.bringHere(CASE, () => undefined);
    expect(cut).toMatchObject({ ok: false, error: 'not-connected' });
    of.hub.mend('b');
    await until(() => b.engine.isShared, 'the line');
    const place = (await b.database.get('storeOnly', CASE))?.places[1];
    of.hub.erase('J', place?.seq ?? 0);
    const gone = await b.engine.bringHere(CASE, () => undefined);
    expect(gone).toMatchObject({ ok: false, error: 'gone' });
    expect(await storeOnlyIds(b)).toEqual([CASE]);
    expect(await b.entries(CASE)).toEqual([]);
  });

  it('goes with its line and its key where it is deleted on its tablet', async () => {
    const { of, a, b } = await twoTablets();
    const about = { stamp: stampAt(99), by: 'Lead', reason: 'asked for' };
    await a.journal.deleteCase({ caseId: CASE, epoch: a.epoch, ...about });
    await until(async () => (await storeOnlyIds(b)).length === 0, 'the deletion');
    await settled(of.hub, on);
    expect((await b.database.all('keys')).filter(({ item }) => item === CASE)).toEqual([]);
    const marks = await b.journal.listTombstones();
    expect(marks.ok && marks.value.map(({ caseId }) => caseId)).toEqual([CASE]);
    const brought = await b.engine.bringHere(CASE, () => undefined);
    expect(brought.ok && (await b.entries(CASE))).toEqual([]);
  });

  it('has a longer line once more is told of that time, and comes whole with what is new', async () => {
    const { of, a, b } = await twoTablets();
    const { length } = await a.entries(CASE);
    const entries = async () => (await b.database.get('storeOnly', CASE))?.summary.entries;
    await a.journal.append({ caseId: CASE, epoch: a.epoch, recorded: presses(1, length) });
    await until(async () => (await entries()) === length + 1, 'the longer line');
    expect(await b.entries(CASE)).toEqual([]);
    const now = presses(1, length + 1).map((each) => ({
      ...each,
      stamp: { ...each.stamp, wallMs: wallMs(a.nowMs) },
    }));
    await a.journal.append({ caseId: CASE, epoch: a.epoch, recorded: now });
    await until(async () => (await b.entries(CASE)).length === length + 2, 'all of it');
    await settled(of.hub, on);
    expect(await storeOnlyIds(b)).toEqual([]);
    expect(await b.entries(CASE)).toEqual(await a.entries(CASE));
  });

  it('keeps both ends where a tablet that had a part from a backup went on', async () => {
    const { of, a, b } = await twoTablets();
    const c = await switched(of, 'c');
    await settled(of.hub, on);
    expect(await storeOnlyIds(c)).toEqual([CASE]);
    const read = await a.journal.read(CASE);
    const entries = read.ok ? read.value.entries.slice(0, 5) : [];
    of.hub.cut('c');
    await c.journal.adopt({ caseId: CASE, epoch: c.epoch, entries });
    const other = presses(1, 5).map((each) => ({ ...each, by: 'p2' }));
    await c.journal.append({ caseId: CASE, epoch: c.epoch, recorded: other });
    of.hub.mend('c');
    await until(() => b.engine.forks.length > 0 && c.engine.forks.length > 0, 'the fork');
    await settled(of.hub, on);
    for (const tablet of [b, c]) {
      expect(await storeOnlyIds(tablet)).toEqual([]);
      const lengths = tablet.engine.forks[0]?.ends.map((end) => end.entries.length);
      expect(lengths?.toSorted((x, y) => x - y)).toEqual([1, 47]);
    }
  });

  it('is found at its new places after the store came back with an older disk', async () => {
    const { of, a, b, empty } = await twoTablets();
    const before = (await b.database.get('storeOnly', CASE))?.places;
    of.hub.rollBack(empty);
    a.engine.now();
    b.engine.now();
    await settled(of.hub, on);
    const after = (await b.database.get('storeOnly', CASE))?.places;
    expect(after?.[0]?.subject).not.toBe(before?.[0]?.subject);
    expect(await b.database.count('held')).toBe(0);
    const brought = await b.engine.bringHere(CASE, () => undefined);
    expect(brought.ok).toBe(true);
    expect(await b.entries(CASE)).toEqual(await a.entries(CASE));
  });

  it('is kept whole while it is young', async () => {
    const of = await clinic();
    const a = await switched(of, 'a');
    await closedOn(a, CASE);
    await settled(of.hub, on);
    const young = new TestTablet(of, await paired(of, 'b'));
    young.nowMs = stampAt(0).wallMs + (KEPT_DAYS - 1) * MS_PER_DAY;
    on.push(await young.on());
    await until(async () => (await young.entries(CASE)).length > 40, 'the young case');
    await settled(of.hub, on);
    expect(await storeOnlyIds(young)).toEqual([]);
  });

  it('is kept whole where its tablet was put out: that one may be lost', async () => {
    const of = await clinic();
    const a = await switched(of, 'a');
    await closedOn(a, CASE);
    await settled(of.hub, on);
    const after = { J: 10_000, F: 10_000, K: 10_000 };
    const statement = { type: 'put-out', device: 'a', reason: 'lost', atWallMs: 2, after } as const;
    const { site, root } = of;
    const signed = await signStatement(globalThis.crypto, { site, root, statement });
    await keepFact(a.journal, statementFact(signed, 'a'), a.epoch);
    await settled(of.hub, on);
    const b = await switched(of, 'b');
    await until(async () => (await b.entries(CASE)).length > 40, 'the case');
    expect(await storeOnlyIds(b)).toEqual([]);
  });

  it('bars its case file from being begun again', async () => {
    const { b } = await twoTablets();
    const row = await b.database.get('storeOnly', CASE);
    const opened = patientOpening(CASE).event;
    const id = opened.type === 'case-opened' ? opened.spec.id : '';
    expect(row?.summary.specId).toBe(id);
    const mark = await b.journal.documents.get('begun-at-store', { id });
    expect(mark.ok && mark.value).toEqual({ caseId: CASE });
  });
});
