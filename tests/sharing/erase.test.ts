/** A case that is deleted on one tablet of the clinic: gone on all, then out of the store. */
import { afterEach, describe, expect, it } from 'vitest';
import type { Journal } from '../../src/storage/journal-types.ts';
import { backupOf, restoreInto } from '../facts/tablets.ts';
import { stampAt } from '../storage/sample-case.ts';
import { clinic, paired, settled, TestTablet, until } from './clinic.ts';
import { FacadeTablet, type TestServer, testServer } from './facade-tablet.ts';

const CASE = 'case-1';

async function deleteOn(o: { readonly journal: Journal; readonly epoch: number }): Promise<void> {
  const about = { stamp: stampAt(99), by: 'Lead', reason: 'asked for by the patient' };
  const done = await o.journal.deleteCase({ caseId: CASE, epoch: o.epoch, ...about });
  if (!done.ok) throw new Error(done.error.code);
}

const keysOf = async ({ database }: TestTablet): Promise<number> =>
  (await database.all('keys')).filter(({ item }) => item === CASE).length;

describe('a case that is deleted on one tablet', () => {
  let on: TestTablet[] = [];
  afterEach(async () => {
    for (const tablet of on) await tablet.off();
    on = [];
  });

  async function three() {
    const of = await clinic();
    const parts = [await paired(of, 'a'), await paired(of, 'b'), await paired(of, 'c')] as const;
    for (const part of parts) on.push(await new TestTablet(of, part).on());
    const [a, b, c] = on as [TestTablet, TestTablet, TestTablet];
    await a.press(CASE);
    await a.press(CASE, 3);
    await a.press('case-2');
    await settled(of.hub, on);
    for (const tablet of on) expect(await tablet.entries(CASE)).toHaveLength(4);
    return { of, a, b, c, parts };
  }

  it('goes with its key from every tablet, from one that is offline when it comes back', async () => {
    const { of, a, b, c } = await three();
    of.hub.cut('c');
    await deleteOn(a);
    await until(async () => (await b.entries(CASE)).length === 0, 'the deletion on b');
    expect(await c.entries(CASE)).toHaveLength(4);
    expect(await keysOf(c)).toBe(1);
    of.hub.mend('c');
    await until(async () => (await c.entries(CASE)).length === 0, 'the deletion on c');
    await settled(of.hub, on);
    for (const tablet of on) {
      expect(await keysOf(tablet)).toBe(0);
      const marks = await tablet.journal.listTombstones();
      expect(marks.ok && marks.value.map(({ by, reason }) => [by, reason])).toEqual([
        ['Lead', 'asked for by the patient'],
      ]);
      expect(await tablet.entries('case-2')).toHaveLength(1);
    }
  });

  it('does not come back with a backup of before, nor is it offered to the store again', async () => {
    const { of, a, b } = await three();
    const before = await backupOf(b);
    await deleteOn(a);
    await until(async () => (await b.entries(CASE)).length === 0, 'the deletion on b');
    await settled(of.hub, on);
    const count = of.hub.messages('J').length;
    const stock = { refresh: async () => undefined };
    await restoreInto({ ...b, stock } as unknown as Parameters<typeof restoreInto>[0], before);
    b.engine.now();
    await settled(of.hub, on);
    for (const tablet of on) expect(await tablet.entries(CASE)).toHaveLength(0);
    expect(of.hub.messages('J')).toHaveLength(count);
  });

  it('goes from a new tablet that was made from a backup of before, once it has read the store', async () => {
    const { of, a, b } = await three();
    const before = await backupOf(b);
    await deleteOn(a);
    await settled(of.hub, on);
    const made = new TestTablet(of, await paired(of, 'd'));
    const begun = await made.journal.startWriting();
    if (!begun.ok) throw new Error(begun.error.code);
    const stock = { refresh: async () => undefined };
    const bare = { journal: made.journal, epoch: begun.value.epoch, stock };
    await restoreInto(bare as unknown as Parameters<typeof restoreInto>[0], before);
    expect(await made.entries(CASE)).toHaveLength(4);
    const count = of.hub.messages('J').filter(({ subject }) => subject.includes(CASE)).length;
    on.push(await made.on());
    await until(async () => (await made.entries(CASE)).length === 0, 'the deletion on the new one');
    await settled(of.hub, on);
    expect(of.hub.messages('J').filter(({ subject }) => subject.includes(CASE))).toHaveLength(
      count,
    );
    expect(await keysOf(made)).toBe(0);
    // Nor does anything of it wait for a key that will not come.
    expect(await made.database.all('waiting')).toEqual([]);
    expect(made.engine.refused).toEqual([]);
  });

  it('and erased in the store is no store that went back to whoever was away meanwhile', async () => {
    const { of, a, c } = await three();
    // Entries of the case stand last: nothing behind them tells that the stream goes on.
    await a.press(CASE);
    await settled(of.hub, on);
    of.hub.cut('c');
    await deleteOn(a);
    await settled(
      of.hub,
      on.filter((tablet) => tablet !== c),
    );
    for (const stream of ['K', 'J'] as const) {
      for (const { seq, subject } of of.hub.messages(stream)) {
        if (subject.split('.')[3] === CASE) of.hub.erase(stream, seq);
      }
    }
    of.hub.mend('c');
    await until(async () => (await c.entries(CASE)).length === 0, 'the deletion on c');
    await until(() => c.engine.isShared, 'c to have read');
    expect(c.engine.wentBackAtWallMs).toBeNull();
    expect(await c.entries('case-2')).toHaveLength(1);
  });

  it('while it took part no more goes from the others once it takes part again', async () => {
    const { of, a, b, c, parts } = await three();
    await b.off();
    on = [a, c];
    // Left, and invited again: nothing is known of before but the records.
    const again = await paired(of, 'b2');
    const back = new TestTablet(of, { ...again, device: parts[1].device });
    const begun = await back.journal.startWriting();
    if (!begun.ok) throw new Error(begun.error.code);
    await deleteOn({ journal: back.journal, epoch: begun.value.epoch });
    on.push(await back.on());
    for (const tablet of on) {
      await until(
        async () => (await tablet.entries(CASE)).length === 0,
        `it to go from ${tablet.name}`,
      );
    }
    await settled(of.hub, on);
    expect(await keysOf(a)).toBe(0);
    expect(await a.entries('case-2')).toHaveLength(1);
  });

  it('stays for a tablet that runs it, until it does not', async () => {
    const { of, a, b } = await three();
    const state = { opened: { mode: 'patient', spec: { title: '', chartRef: '' } }, closed: null };
    b.running = { caseId: CASE, isViewOnly: false, log: { state } } as never;
    await deleteOn(a);
    await settled(of.hub, [a]);
    b.engine.now();
    await settled(of.hub, on);
    expect(await b.entries(CASE)).toHaveLength(4);
    b.running = null;
    b.engine.now();
    await until(async () => (await b.entries(CASE)).length === 0, 'the deletion after all');
  });
});

describe('the store, after a deletion', () => {
  let on: FacadeTablet[] = [];
  afterEach(async () => {
    for (const tablet of on) await tablet.off();
    on = [];
  });
  const PASSPHRASE = 'a lead of the clinic';

  async function founded(server: TestServer): Promise<FacadeTablet> {
    const lead = await new FacadeTablet(server).on();
    on.push(lead);
    const { code } = await server.firstCode();
    const joining = await lead.sharing.join({ code, name: 'Chair 1' });
    if (!joining.ok) throw new Error(joining.error.code);
    const { state } = joining.value;
    await until(() => state.getState().step === 'done', 'the first pairing');
    expect((await lead.sharing.found({ passphrase: PASSPHRASE })).ok).toBe(true);
    await until(() => lead.state.line === 'open' && lead.state.owed === 0, 'the founder to share');
    return lead;
  }

  it('is rid of the keys and entries of the case by the lead alone, and of nothing else', async () => {
    const server = testServer();
    const lead = await founded(server);
    await lead.press(CASE);
    await lead.press(CASE);
    await lead.press('case-2');
    const of = (caseId: string) =>
      (['K', 'J'] as const).map(
        (stream) =>
          server.hub.messages(stream).filter(({ subject }) => subject.split('.')[3] === caseId)
            .length,
      );
    await until(() => of('case-2')[1] === 1, 'the cases in the store');
    const [keys = 0, entries = 0] = of(CASE);
    expect([keys, entries > 0]).toEqual([1, true]);
    await deleteOn({ journal: lead.journal, epoch: lead.epoch ?? 0 });
    await until(
      () => server.hub.messages('F').some((m) => m.subject.includes('.tombstone.')),
      'it',
    );
    expect(of(CASE)).toEqual([keys, entries]);
    const wrong = await lead.sharing.eraseDeleted({ passphrase: 'somebody else' });
    expect(wrong).toMatchObject({ ok: false, error: { code: 'wrong-passphrase' } });
    expect(of(CASE)).toEqual([keys, entries]);
    const done = await lead.sharing.eraseDeleted({ passphrase: PASSPHRASE });
    expect(done).toEqual({ ok: true, value: { keys, entries } });
    expect(of(CASE)).toEqual([0, 0]);
    expect(of('case-2')).toEqual([1, 1]);
    // It goes on sharing, and the erased ones do not come back.
    await lead.press('case-2');
    await until(() => of('case-2')[1] === 2, 'the next press');
    lead.sharing.now();
    await until(() => lead.state.owed === 0, 'everything');
    expect(of(CASE)).toEqual([0, 0]);
    expect(lead.state.wentBackAtWallMs).toBeNull();
  });
});
