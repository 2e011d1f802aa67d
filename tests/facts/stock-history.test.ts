/** Who did what to a box, when and at which tablet, as the facts of it tell; and what nobody said. */
import { describe, expect, it } from 'vitest';
import { say } from '../../src/runtime/facts/fact-writer.ts';
import { must } from '../backup/filled-journal.ts';
import { backupOf, gel, lotOf, restoreInto, tabletOf } from './tablets.ts';

const DAY_MS = 86_400_000;

function clockOf() {
  let nowMs = 1_780_000_000_000;
  return {
    clock: () => nowMs,
    pass: (ms: number) => {
      nowMs += ms;
    },
  };
}

describe('the history of a box', () => {
  it('tells what was done, by whom, when and at which tablet, in order', async () => {
    const { clock, pass } = clockOf();
    const a = await tabletOf('a', { clock });
    a.stock.setBy('Assistant Moreau');
    must(await a.stock.receive(gel));
    pass(1000);
    must(await a.stock.openedOn('gel', '2026-05-28'));
    pass(1000);
    const before = lotOf(a);
    if (before === undefined) throw new Error('no lot');
    must(await a.stock.correct(a.stock.opened(before), { ...before, label: 'Gel, shelf 3' }));
    a.stock.setBy('');
    pass(1000);
    must(await a.stock.usedUp('gel'));
    expect(
      a.stock
        .historyOf('gel')
        .map(({ said, by, tablet, atWallMs }) => [
          said.type,
          by,
          tablet,
          atWallMs - 1_780_000_000_000,
        ]),
    ).toEqual([
      ['received', 'Assistant Moreau', 'a', 0],
      ['opened', 'Assistant Moreau', 'a', 1000],
      ['corrected', 'Assistant Moreau', 'a', 2000],
      ['used-up', null, 'a', 3000],
    ]);
  });

  it('asks again who it is once nobody wrote for a quarter of an hour', async () => {
    const { clock, pass } = clockOf();
    const a = await tabletOf('a', { clock });
    a.stock.setBy('Assistant Moreau');
    pass(14 * 60_000);
    must(await a.stock.receive(gel));
    pass(14 * 60_000);
    must(await a.stock.takenOut('gel'));
    pass(16 * 60_000);
    must(await a.stock.usedUp('gel'));
    expect(a.stock.historyOf('gel').map(({ by }) => by)).toEqual([
      'Assistant Moreau',
      'Assistant Moreau',
      null,
    ]);
    expect(a.stock.state.getState().by).toBe('');
  });

  it('comes over with a backup, and says which tablet', async () => {
    const a = await tabletOf('a');
    const e = await tabletOf('e');
    a.stock.setBy('Dr Ilves');
    must(await a.stock.receive(gel));
    await restoreInto(e, await backupOf(a));
    must(await e.stock.takenOut('gel'));
    expect(e.stock.historyOf('gel').map(({ said, by, tablet }) => [said.type, by, tablet])).toEqual(
      [
        ['received', 'Dr Ilves', 'a'],
        ['taken-out', null, 'e'],
      ],
    );
    expect(e.stock.state.getState().people).toEqual(['Dr Ilves']);
  });

  it('holds a mark of the whole lot that was put before the box came, and why it was lifted', async () => {
    const { clock, pass } = clockOf();
    const a = await tabletOf('a', { clock });
    must(await a.stock.receive(gel));
    pass(DAY_MS);
    must(await a.stock.recallLot({ lot: 'l-204', reason: 'letter of 28 May', by: 'Dr Ilves' }));
    pass(DAY_MS);
    must(await a.stock.receive({ ...gel, id: 'second' }));
    expect(lotOf(a, 'second')?.recalled?.reason).toBe('letter of 28 May');
    must(await a.stock.liftRecall(gel.lot, { reason: 'another size was meant', by: 'Dr Ilves' }));
    expect(lotOf(a, 'second')?.recalled).toBeUndefined();
    const told = a.stock.historyOf('second').map(({ said, by }) => ({ ...said, by }));
    expect(told).toMatchObject([
      { type: 'recalled', reason: 'letter of 28 May', by: 'Dr Ilves' },
      { type: 'received', by: null },
      { type: 'recall-lifted', reason: 'another size was meant', by: 'Dr Ilves' },
    ]);
  });
});

describe('a recall of a lot', () => {
  it('marks every box of it once, however often it is said, and says that none is here', async () => {
    const a = await tabletOf('a');
    must(await a.stock.receive(gel));
    must(await a.stock.receive({ ...gel, id: 'second', lot: ' l-204 ' }));
    must(await a.stock.recallLot({ lot: 'L-204', reason: 'letter', by: null }));
    expect(['gel', 'second'].map((id) => a.stock.historyOf(id).length)).toEqual([2, 2]);
    const none = await a.stock.recallLot({ lot: ' ', reason: 'letter', by: null });
    expect(none).toMatchObject({ ok: false, error: { code: 'no-such-lot' } });
  });

  it('is kept of a lot that has no box here, for the one that comes later, until it is lifted', async () => {
    const a = await tabletOf('a');
    must(await a.stock.recallLot({ lot: 'L-999', reason: 'letter', by: 'Dr Ilves' }));
    expect(a.stock.state.getState()).toMatchObject({
      materials: [],
      damaged: 0,
      recalls: [{ lot: 'L-999', reason: 'letter' }],
    });
    must(await a.stock.receive(gel));
    expect(lotOf(a)?.recalled).toBeUndefined();
    must(await a.stock.receive({ ...gel, id: 'second', lot: 'l-999' }));
    expect(lotOf(a, 'second')?.recalled?.reason).toBe('letter');
    const e = await tabletOf('e');
    const { things } = await restoreInto(e, await backupOf(a));
    const told = things.find(({ title }) => title === 'L-999');
    expect(told?.did).toEqual(['added', 'recalled']);
    expect(lotOf(e, 'second')?.recalled?.reason).toBe('letter');
    must(await a.stock.liftRecall('L-999'));
    expect(a.stock.state.getState().recalls).toEqual([]);
    expect(lotOf(a, 'second')?.recalled).toBeUndefined();
    must(await a.stock.recallLot({ lot: 'l-999', reason: 'again' }));
    must(await a.stock.liftRecall('L-999'));
    must(await a.stock.removeMaterial('second'));
    must(await a.stock.recallLot({ lot: 'l-999', reason: 'third' }));
    expect(a.stock.state.getState().recalls).toMatchObject([{ reason: 'third' }]);
  });

  it('stays with the lot that it was said of when the lot of a box is corrected at the shelf', async () => {
    const a = await tabletOf('a');
    must(await a.stock.receive(gel));
    must(await a.stock.receive({ ...gel, id: 'other', lot: 'L-205' }));
    must(await a.stock.recallLot({ lot: 'L-204', reason: 'letter' }));
    const before = lotOf(a);
    if (before === undefined) throw new Error('no lot');
    must(await a.stock.correct(a.stock.opened(before), { ...before, lot: 'L-205' }));
    must(await a.stock.receive({ ...gel, id: 'later' }));
    const marks = () => ['gel', 'other', 'later'].map((id) => lotOf(a, id)?.recalled?.reason);
    // The box itself keeps its mark: only the lead takes one away.
    expect(marks()).toEqual(['letter', undefined, 'letter']);
    expect(lotOf(a)?.recalled?.lot).toBe('L-204');
    must(await a.stock.liftRecall('L-205'));
    expect(marks()).toEqual(['letter', undefined, 'letter']);
    must(await a.stock.liftRecall('L-204'));
    expect(marks()).toEqual([undefined, undefined, undefined]);
  });

  it('that says no lot, as earlier ones, is of the lot that the box had then', async () => {
    const a = await tabletOf('a');
    must(await a.stock.receive(gel));
    const said = { type: 'recalled', onWallMs: 1, reason: 'letter' };
    const parts = {
      ...{ journal: a.journal, epoch: () => a.epoch },
      ...{ tablet: () => 'a', nowWallMs: () => 1 },
    };
    must(await say(parts, { kind: 'material', item: 'gel', said: [said], by: null }));
    await a.stock.refresh();
    const before = lotOf(a);
    if (before === undefined) throw new Error('no lot');
    must(await a.stock.correct(a.stock.opened(before), { ...before, lot: 'L-205' }));
    expect(a.stock.state.getState().recalls).toMatchObject([{ lot: 'L-204' }]);
  });

  it('may be marked in a hurry, and the reason told later', async () => {
    const a = await tabletOf('a');
    must(await a.stock.receive(gel));
    must(await a.stock.recallLot({ lot: 'L-204', reason: ' ' }));
    expect(lotOf(a)?.recalled?.reason).toBe('');
    must(await a.stock.recallLot({ lot: 'L-204', reason: 'letter of 28 May' }));
    expect(lotOf(a)?.recalled?.reason).toBe('letter of 28 May');
  });
});

describe('the last box of a device identifier', () => {
  it('is the one that came last, also when it is used up, and never one entered by mistake', async () => {
    const { clock, pass } = clockOf();
    const a = await tabletOf('a', { clock });
    const box = (id: string, label: string, deviceIdentifier: string) => ({
      ...gel,
      id,
      label,
      deviceIdentifier,
    });
    must(await a.stock.receive(box('z', 'first', '04012345678901')));
    pass(DAY_MS);
    must(await a.stock.receive(box('a', 'second', '04012345678901')));
    must(await a.stock.usedUp('a'));
    pass(DAY_MS);
    must(await a.stock.receive(box('m', 'mistake', '04012345678901')));
    must(await a.stock.removeMaterial('m'));
    must(await a.stock.receive(box('o', 'other', '+A99912345')));
    expect(a.stock.lastBoxOf('04012345678901')?.label).toBe('second');
    // The same number of trade with thirteen digits (GS1 General Specifications: a GTIN-13 is a
    // GTIN-14 with a zero in front).
    expect(a.stock.lastBoxOf('4012345678901')?.label).toBe('second');
    expect(a.stock.lastBoxOf('4012345678918')).toBeNull();
    expect(a.stock.lastBoxOf(' ')).toBeNull();
  });
});
