/** A recall mark is made and unmade at the open desk, with a reason, and the log tells of both. */
import { describe, expect, it } from 'vitest';
import { Stock } from '../../src/runtime/stock/stock.ts';
import { deedWords } from '../../src/words/lead-words.ts';
import { must } from '../backup/filled-journal.ts';
import { gel } from '../facts/tablets.ts';
import { openDesk, PASSPHRASE, PERSON, type TestDesk } from './lead-support.ts';

const REASON = 'letter of 20 November';

async function shelf(): Promise<TestDesk & { readonly stock: Stock }> {
  const opened = await openDesk();
  const { journal, epoch } = opened;
  const nowWallMs = () => 1_780_000_000_000;
  const stock = new Stock({ journal, epoch: () => epoch, tablet: () => 'tablet', nowWallMs });
  must(await stock.receive(gel));
  must(await stock.receive({ ...gel, id: 'second' }));
  return { ...opened, stock };
}

const recalls = (stock: Stock) =>
  stock.state.getState().materials.map(({ recalled }) => recalled?.reason ?? null);

const told = ({ desk }: TestDesk): readonly string[] =>
  desk.state
    .getState()
    .log.entries.filter(({ deed }) => deed.includes('recall'))
    .map((entry) => `${entry.by}: ${deedWords(entry)}`);

describe('a recall at the desk', () => {
  it('marks every box of the lot, is lifted with a reason, and both stand in the log', async () => {
    const test = await shelf();
    const { desk, stock } = test;
    must(await desk.setPassphrase({ person: PERSON, passphrase: PASSPHRASE }));
    must(await desk.recalls.mark(stock, { lot: gel.lot, reason: REASON }));
    expect(recalls(stock)).toEqual([REASON, REASON]);
    expect(stock.historyOf('gel').at(-1)).toMatchObject({ by: PERSON, said: { reason: REASON } });
    must(await desk.recalls.lift(stock, { lot: gel.lot, reason: 'another size was meant' }));
    expect(recalls(stock)).toEqual([null, null]);
    expect(told(test)).toEqual([
      `${PERSON}: Marked lot ${gel.lot} as recalled: ${REASON}`,
      `${PERSON}: Removed the recall mark of lot ${gel.lot}: another size was meant`,
    ]);
    expect(desk.state.getState().log.broken).toBe(0);
  });

  it('needs the desk to be open and a reason', async () => {
    const { desk, stock } = await shelf();
    const closed = await desk.recalls.mark(stock, { lot: gel.lot, reason: REASON });
    expect(closed).toMatchObject({ ok: false, error: { code: 'desk-closed' } });
    must(await stock.recallLot({ lot: gel.lot, reason: REASON }));
    const still = await desk.recalls.lift(stock, { lot: gel.lot, reason: 'a slip' });
    expect(still).toMatchObject({ ok: false, error: { code: 'desk-closed' } });
    must(await desk.setPassphrase({ person: PERSON, passphrase: PASSPHRASE }));
    const empty = await desk.recalls.lift(stock, { lot: gel.lot, reason: ' ' });
    expect(empty).toMatchObject({ ok: false, error: { code: 'empty' } });
    expect(recalls(stock)).toEqual([REASON, REASON]);
  });

  it('is told by the log too where somebody marked the lot at the shelf, desk closed', async () => {
    const test = await shelf();
    const { desk, stock } = test;
    must(await stock.recallLot({ lot: gel.lot, reason: '' }));
    must(await desk.recalls.noteFromShelf({ lot: gel.lot, reason: '', person: '' }));
    must(await desk.recalls.noteFromShelf({ lot: gel.lot, reason: REASON, person: 'Dr Ilves' }));
    expect(told(test)).toEqual([
      `: Lot ${gel.lot} was marked as recalled away from the desk; nobody gave a name: no reason was given`,
      `: Lot ${gel.lot} was marked as recalled away from the desk by Dr Ilves: ${REASON}`,
    ]);
  });
});
