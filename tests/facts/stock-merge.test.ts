/** What two tablets say of one lot, brought together by backups in any order. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { checkLines } from '../../src/runtime/backup/backup-merge.ts';
import { asFact, documentOf, type Fact, keepFact } from '../../src/runtime/facts/fact.ts';
import { FactHistory } from '../../src/runtime/facts/fact-history.ts';
import { factOfDocument } from '../../src/runtime/facts/legacy-facts.ts';
import { takeOverFacts } from '../../src/runtime/facts/take-over-facts.ts';
import { stockEntry } from '../../src/runtime/stock/stock-facts.ts';
import type { StoredDocument } from '../../src/storage/journal-types.ts';
import { must } from '../backup/filled-journal.ts';
import { backupOf, factsOf, gel, lotOf, restoreInto, type Tablet, tabletOf } from './tablets.ts';

async function both(): Promise<readonly [Tablet, Tablet]> {
  const a = await tabletOf('a');
  const e = await tabletOf('e');
  must(await a.stock.receive(gel));
  await restoreInto(e, await backupOf(a));
  return [a, e];
}

async function correct(tablet: Tablet, change: Partial<typeof gel> & { expiry?: string }) {
  const before = lotOf(tablet);
  if (before === undefined) throw new Error('no lot');
  must(await tablet.stock.correct(tablet.stock.opened(before), { ...before, ...change }));
}

describe('a recall on one tablet, two edits of the same lot on the other', () => {
  it('stands after the backup has come over, and is named; the edits stand too', async () => {
    const [a, e] = await both();
    must(await a.stock.recallLot({ lot: gel.lot, reason: 'letter of 20 November' }));
    await correct(e, { label: 'Etch gel, shelf 3' });
    await correct(e, { label: 'Etch gel, shelf 4' });
    const { things } = await restoreInto(e, await backupOf(a));
    expect(lotOf(e)).toMatchObject({
      label: 'Etch gel, shelf 4',
      recalled: { reason: 'letter of 20 November' },
    });
    expect(things).toMatchObject([{ about: 'material', id: 'gel', did: ['recalled'] }]);
    await restoreInto(a, await backupOf(e));
    expect(await factsOf(a)).toEqual(await factsOf(e));
    expect(lotOf(a)).toEqual(lotOf(e));
  });

  it('stood in stores that still counted their edits as well', async () => {
    const [a, e] = [await tabletOf('a'), await tabletOf('e')];
    const put = async ({ journal, epoch }: Tablet, ...values: unknown[]) => {
      for (const value of values) {
        must(await journal.documents.put({ kind: 'material', id: 'gel', value, epoch }));
      }
    };
    const recalled = { onWallMs: 5, reason: 'letter' };
    await put(a, gel, { ...gel, recalled });
    await put(e, gel, { ...gel, note: 'x' }, { ...gel, note: 'y' });
    const old = await backupOf(a);
    must(await takeOverFacts(e.journal, { epoch: e.epoch, tablet: 'e' }));
    await restoreInto(e, old);
    expect(lotOf(e)).toMatchObject({ note: 'y', recalled });
    must(await takeOverFacts(a.journal, { epoch: a.epoch, tablet: 'a' }));
    await restoreInto(e, await backupOf(a));
    expect(lotOf(e)).toMatchObject({ note: 'y', recalled });
  });

  it('is lifted by its name only: another one that nobody here knew stands', async () => {
    const [a, e] = await both();
    must(await a.stock.recallLot({ lot: gel.lot, reason: 'first' }));
    await restoreInto(e, await backupOf(a));
    must(await e.stock.recallLot({ lot: gel.lot, reason: 'second' }));
    must(await a.stock.liftRecall(gel.lot));
    await restoreInto(a, await backupOf(e));
    await restoreInto(e, await backupOf(a));
    expect(lotOf(a)?.recalled?.reason).toBe('second');
    must(await a.stock.liftRecall(gel.lot));
    expect(lotOf(a)?.recalled).toBeUndefined();
  });

  it('is not lifted by a file that says so: it stands until it is lifted at this desk too', async () => {
    const [a, e] = await both();
    must(await a.stock.recallLot({ lot: gel.lot, reason: 'letter' }));
    await restoreInto(e, await backupOf(a));
    must(await a.stock.liftRecall(gel.lot, { reason: 'another size', by: 'Dr Ilves' }));
    const { things } = await restoreInto(e, await backupOf(a));
    expect(things).toMatchObject([{ id: 'gel', did: ['recall-lifted'] }]);
    expect(lotOf(e)?.recalled?.reason).toBe('letter');
    expect(e.stock.historyOf('gel').at(-1)).toMatchObject({
      said: { type: 'recall-lifted', reason: 'another size' },
      by: 'Dr Ilves',
      tablet: 'a',
    });
    must(await e.stock.liftRecall(gel.lot));
    expect(lotOf(e)?.recalled).toBeUndefined();
    await restoreInto(a, await backupOf(e));
    expect(lotOf(a)?.recalled).toBeUndefined();
  });

  it('is not lifted by a file that writes the name of this tablet, where a lead keeps the desk', async () => {
    const [a, e] = await both();
    must(await a.stock.recallLot({ lot: gel.lot, reason: 'letter' }));
    await restoreInto(e, await backupOf(a));
    const { journal, epoch } = e;
    must(await journal.documents.put({ kind: 'lead-passphrase', id: 'lead', value: {}, epoch }));
    const [recall] = (await factsOf(a)).filter(
      ({ said }) => (said as { type: string }).type === 'recalled',
    );
    if (recall === undefined) throw new Error('no recall');
    const of = [recall.id];
    const lifted = { ...recall, said: { type: 'recall-lifted', of }, after: of, tablet: 'e' };
    must(await keepFact(a.journal, asFact(lifted), a.epoch));
    await restoreInto(e, await backupOf(a));
    expect(lotOf(e)?.recalled?.reason).toBe('letter');
  });
});

describe('one field, written on two tablets that did not know of each other', () => {
  it('is told with both values until somebody writes it again', async () => {
    const [a, e] = await both();
    await correct(a, { expiry: '2027-03-31' });
    await correct(e, { expiry: '2028-03-31' });
    await restoreInto(a, await backupOf(e));
    const differing = a.stock.state.getState().differing.get('gel');
    expect(differing?.map(({ field }) => field)).toEqual(['expiry']);
    expect(differing?.[0]?.values.toSorted()).toEqual(['2027-03-31', '2028-03-31']);
    // Meanwhile the earlier day counts: its warning comes first.
    expect(lotOf(a)?.expiry).toBe('2027-03-31');
    await correct(a, {});
    expect(a.stock.state.getState().differing.size).toBe(0);
    await restoreInto(e, await backupOf(a));
    expect(lotOf(e)).toEqual(lotOf(a));
  });

  it('is settled by a correction also where it is when the bottle was taken out', async () => {
    let nowMs = 1_780_000_000_000;
    const [a, e] = [await tabletOf('a', { clock: () => nowMs }), await tabletOf('e')];
    must(await a.stock.receive({ ...gel, refrigerated: true }));
    await restoreInto(e, await backupOf(a));
    nowMs += 60_000;
    must(await a.stock.takenOut('gel'));
    must(await e.stock.takenOut('gel'));
    await restoreInto(a, await backupOf(e));
    const fields = () =>
      a.stock.state
        .getState()
        .differing.get('gel')
        ?.map(({ field }) => field);
    expect(fields()).toEqual(['takenOutWallMs']);
    await correct(a, {});
    expect(fields()).toBeUndefined();
  });

  it('is not told where both wrote the same, or where one knew the other', async () => {
    const [a, e] = await both();
    await correct(a, { expiry: '2027-03-31' });
    await correct(e, { expiry: '2027-03-31' });
    await restoreInto(a, await backupOf(e));
    await correct(a, { expiry: '2027-04-30' });
    expect(a.stock.state.getState().differing.size).toBe(0);
    await restoreInto(e, await backupOf(a));
    expect(e.stock.state.getState().differing.size).toBe(0);
    expect(lotOf(e)?.expiry).toBe('2027-04-30');
  });
});

describe('facts of one lot', () => {
  /** Any history: who says what next, knowing which of what was said before. */
  const histories = fc.array(
    fc.record({
      tablet: fc.constantFrom('a', 'b', 'c'),
      what: fc.constantFrom(
        'corrected',
        'opened',
        'recalled',
        'recall-lifted',
        'used-up',
        'back-on-shelf',
      ),
      known: fc.array(fc.nat(30), { maxLength: 4 }),
      clock: fc.integer({ min: -1_000_000, max: 1_000_000 }),
      value: fc.constantFrom('x', 'y', 'z'),
    }),
    { minLength: 1, maxLength: 12 },
  );
  type Row = { what: string; known: number[]; clock: number; tablet: string; value: string };
  const { id: _, ...fields } = gel;

  function factsFrom(rows: readonly Row[]): readonly Fact[] {
    const base = { kind: 'material', item: 'gel', by: null } as const;
    const facts = [
      asFact({ ...base, said: { type: 'received', fields }, after: [], tablet: 'a', atWallMs: 0 }),
    ];
    for (const { what, known, clock, tablet, value } of rows) {
      const picked = [...new Set(known.map((n) => facts[n % facts.length]?.id ?? ''))].toSorted();
      const of = facts
        .filter(({ id, said }) => picked.includes(id) && markOf(said) === what)
        .map(({ id }) => id);
      const said =
        what === 'corrected'
          ? { type: what, fields: { note: value } }
          : what === 'opened'
            ? { type: what, on: '2026-11-01' }
            : what === 'recalled'
              ? { type: what, onWallMs: clock, reason: value }
              : what === 'used-up'
                ? { type: what, onWallMs: clock }
                : { type: what, of };
      facts.push(asFact({ ...base, said, after: picked, tablet, atWallMs: clock }));
    }
    return facts;
  }

  const markOf = (said: unknown): string => {
    const { type } = said as { type: string };
    return type === 'recalled' ? 'recall-lifted' : type === 'used-up' ? 'back-on-shelf' : '';
  };

  it('give one entry in any order, said twice or once', () => {
    fc.assert(
      fc.property(
        histories.map(factsFrom).chain((facts) =>
          fc.record({
            facts: fc.constant(facts),
            shuffled: fc.shuffledSubarray([...facts, ...facts], { minLength: facts.length * 2 }),
          }),
        ),
        ({ facts, shuffled }) => {
          expect(stockEntry(shuffled)).toEqual(stockEntry(facts));
        },
      ),
      { numRuns: 1000 },
    );
  });

  it('leave every recall standing that none of them lifts by its name', () => {
    fc.assert(
      fc.property(histories.map(factsFrom), (facts) => {
        const said = facts.map((fact) => ({
          id: fact.id,
          said: fact.said as { type: string; of?: string[] },
        }));
        // The reference: a set, and what was named is taken out of it.
        const standing = new Set(
          said.filter((f) => f.said.type === 'recalled').map(({ id }) => id),
        );
        for (const { said: one } of said) {
          if (one.type === 'recall-lifted') for (const id of one.of ?? []) standing.delete(id);
        }
        const entry = stockEntry(facts);
        expect(new Set(entry?.recalls.map(({ fact }) => fact))).toEqual(standing);
        expect(entry?.material.recalled !== undefined).toBe(standing.size > 0);
      }),
      { numRuns: 1000 },
    );
  });
});

describe('what is stored of a fact', () => {
  it('is left out, and counted, when it is not what its name stands for', async () => {
    const [a] = await both();
    const [fact] = await factsOf(a);
    if (fact === undefined) throw new Error('no fact');
    const { id, ...rest } = fact;
    const value = { ...rest, said: { type: 'received', fields: { ...gel, lot: 'other' } } };
    const { journal, epoch } = a;
    must(await journal.documents.put({ kind: 'fact-material', id, value, epoch }));
    await a.stock.refresh();
    expect(a.stock.state.getState()).toMatchObject({ materials: [], damaged: 1 });
  });

  it('is kept once, however often it is kept', async () => {
    const [a] = await both();
    const [fact] = await factsOf(a);
    if (fact === undefined) throw new Error('no fact');
    must(await keepFact(a.journal, fact, a.epoch));
    expect(await factsOf(a)).toHaveLength(1);
  });
});

describe('documents of before', () => {
  it('become the same fact on every tablet', () => {
    const document: StoredDocument = {
      kind: 'material',
      id: 'gel',
      value: gel,
      version: 3,
      epoch: 7,
    };
    const onA = factOfDocument(document, { tablet: 'a' });
    expect(onA).not.toBeNull();
    expect(factOfDocument({ ...document, epoch: 1 }, { tablet: 'b' })).toEqual(onA);
  });

  it('are taken over once, and again changes nothing', async () => {
    const tablet = await tabletOf('a');
    const { journal, epoch } = tablet;
    must(await journal.documents.put({ kind: 'material', id: 'gel', value: gel, epoch }));
    must(await takeOverFacts(journal, { epoch, tablet: 'a' }));
    const once = await factsOf(tablet);
    must(await journal.documents.put({ kind: 'layout', id: 'this-tablet', value: 0, epoch }));
    must(await takeOverFacts(journal, { epoch, tablet: 'a' }));
    expect(await factsOf(tablet)).toEqual(once);
    await tablet.stock.refresh();
    expect(lotOf(tablet)).toEqual(gel);
  });
});

describe('many facts of one item', () => {
  it('are told from each other, and a file with too many of one is refused in one line', async () => {
    const plain = { kind: 'light-reading', item: 'r', tablet: 'a', by: null, atWallMs: 1 } as const;
    let last: Fact | null = null;
    const chain: Fact[] = [];
    for (let n = 0; n < 500; n += 1) {
      const fact: Fact = asFact({
        ...plain,
        said: { type: 'read', reading: n },
        after: last === null ? [] : [last.id],
      });
      chain.push(fact);
      last = fact;
    }
    const history = new FactHistory(chain.toReversed());
    expect(history.inOrder.map(({ id }) => id)).toEqual(chain.map(({ id }) => id));
    expect(history.heads).toEqual([last?.id]);
    const lines = async function* (count: number): AsyncGenerator<string> {
      yield canonicalText({ record: 'begin', contents: 'lutewatch-backup', version: 1 });
      for (const fact of [...chain, chain[0] as Fact].slice(0, count)) {
        yield canonicalText({
          record: 'document',
          body: { ...documentOf(fact), version: 1, epoch: 0 },
        });
      }
    };
    const came = (text: string) => ({
      problem: { code: 'backup-contents', came: JSON.stringify(text) },
    });
    const caps = { caseEntriesMax: 10, itemFactsMax: 500 };
    await expect(checkLines(lines(500), caps)).rejects.toMatchObject(came('no end'));
    await expect(checkLines(lines(501), caps)).rejects.toMatchObject(
      came('light-reading r, more than 500 facts'),
    );
  });
});

describe('an entry that was opened before a backup came', () => {
  it('is kept as the change that was made; what came meanwhile stays beside it', async () => {
    const [a, e] = await both();
    const before = lotOf(e);
    if (before === undefined) throw new Error('no lot');
    const opened = e.stock.opened(before);
    await correct(a, { expiry: '2026-12-31' });
    must(await a.stock.recallLot({ lot: gel.lot, reason: 'letter' }));
    await restoreInto(e, await backupOf(a));
    must(await e.stock.correct(opened, { ...before, note: 'x' }));
    expect(lotOf(e)).toMatchObject({
      note: 'x',
      expiry: '2026-12-31',
      recalled: { reason: 'letter' },
    });
  });
});

describe('lots of the demonstration', () => {
  it('give way to what the clinic did with them on another tablet, whichever came first', () => {
    const plain = { kind: 'material', item: 'gel', after: [], by: null } as const;
    const { id: _, ...fields } = gel;
    const seeded = (tablet: string, expiry: string): Fact => {
      const said = { type: 'received', fields: { ...fields, expiry }, demo: true };
      return asFact({ ...plain, said, tablet, atWallMs: 5 });
    };
    const [one, two] = [seeded('a', '2027-01-01'), seeded('b', '2026-12-01')];
    const said = { type: 'corrected', fields: { expiry: '2028-01-01' } };
    const changed = asFact({ ...plain, said, after: [one.id], tablet: 'a', atWallMs: 1 });
    for (const facts of [
      [one, changed, two],
      [two, changed, one],
    ]) {
      expect(stockEntry(facts)).toMatchObject({
        material: { expiry: '2028-01-01' },
        differing: [],
      });
    }
  });
});

describe('what hostile facts of a valid shape can do', () => {
  it('is not to hide a recall behind a circle of numbers', () => {
    const was = { type: 'was', material: gel };
    const plain = { kind: 'material', item: 'gel', by: null, tablet: '', atWallMs: 0 } as const;
    const second = asFact({ ...plain, said: was, after: [], version: 2 });
    const first = asFact({ ...plain, said: was, after: [second.id], version: 1 });
    const said = { type: 'recalled', onWallMs: 1, reason: 'letter' };
    const recall = asFact({ ...plain, said, after: [second.id] });
    expect(stockEntry([second, first, recall])?.material.recalled?.reason).toBe('letter');
  });

  it('is not to swallow the next recall by many that know nothing of each other', async () => {
    const [a] = await both();
    const plain = { kind: 'material', item: 'gel', after: [], by: null, tablet: 'x' } as const;
    for (let n = 0; n < 101; n += 1) {
      const said = { type: 'taken-out', atWallMs: n };
      must(await keepFact(a.journal, asFact({ ...plain, said, atWallMs: n }), a.epoch));
    }
    must(await a.stock.recallLot({ lot: gel.lot, reason: 'letter' }));
    expect(lotOf(a)?.recalled?.reason).toBe('letter');
  });
});
