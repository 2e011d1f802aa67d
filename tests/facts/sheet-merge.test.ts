/** Product sheets of two tablets, brought together: the union of both, and whose readings count. */
import { expect, it } from 'vitest';
import { ok } from '../../src/base/result.ts';
import { answerSame, nextRevisionDraft } from '../../src/protocol/sheet-draft.ts';
import { PASSPHRASE } from '../../src/runtime/lead/lead-documents.ts';
import { appendLeadLog } from '../../src/runtime/lead/lead-log.ts';
import { SheetDesk } from '../../src/runtime/lead/sheet-desk.ts';
import { readSheets } from '../../src/runtime/lead/sheets.ts';
import { must } from '../backup/filled-journal.ts';
import { etchingGelSheet } from '../protocol/sheet-support.ts';
import { backupOf, factsOf, restoreInto, type Tablet, tabletOf } from './tablets.ts';

async function keep({ journal, epoch }: Tablet, revision: string): Promise<void> {
  const sheets = new SheetDesk({
    journal,
    newId: () => 'sheet',
    nowWallMs: () => 1_780_000_000_000,
    atDesk: () => ok(epoch),
    by: () => 'Clinic lead C',
    log: async () => ok(null),
  });
  const draft = nextRevisionDraft(etchingGelSheet());
  const reader = { by: 'Clinic lead C', on: '2026-11-29' };
  const lines = draft.lines.map((line) => answerSame(line, reader));
  must(await sheets.begin({ ...draft, revision, lines }));
  must(await sheets.keep(draft.id));
}

const currentOf = async ({ journal }: Tablet) =>
  (await readSheets(journal)).entries.flatMap(({ current }) =>
    current.map(({ sheet, isOwn }) => ({
      revision: sheet.revision,
      isOwn,
      read: sheet.lines.filter(({ read }) => read !== undefined).length,
    })),
  );

it('become the union of both in any order, and a restore names them', async () => {
  const [a, b] = [await tabletOf('tablet-a'), await tabletOf('tablet-b')];
  await keep(a, '2026-11');
  await keep(b, '2026-12');
  const [fromA, fromB] = [await backupOf(a), await backupOf(b)];
  const report = await restoreInto(b, fromA);
  expect(report.things.filter(({ about }) => about === 'sheet')).toEqual([
    {
      about: 'sheet',
      id: 'sheet-gel',
      title: 'Etching gel, instructions for use, 2026-11',
      revision: null,
      did: ['changed'],
    },
  ]);
  await restoreInto(a, fromB);
  expect(await factsOf(a)).toEqual(await factsOf(b));
  expect(await restoreInto(a, fromB)).toMatchObject({ things: [] });
});

it('count what their own desk read, and read anew what another did', async () => {
  const [a, b] = [await tabletOf('tablet-a'), await tabletOf('tablet-b')];
  await keep(a, '2026-11');
  await restoreInto(b, await backupOf(a));
  expect(await currentOf(a)).toEqual([{ revision: '2026-11', isOwn: true, read: 3 }]);
  expect(await currentOf(b)).toEqual([{ revision: '2026-11', isOwn: false, read: 0 }]);
});

it('count nothing of what a file says in the name of a desk that is kept here', async () => {
  const [file, here] = [await tabletOf('tablet-b'), await tabletOf('tablet-b')];
  await keep(file, '2026-11');
  const passphrase = { kind: PASSPHRASE, id: 'this-tablet', value: { salt: 'x' } };
  must(await here.journal.documents.put({ ...passphrase, epoch: here.epoch }));
  await restoreInto(here, await backupOf(file));
  expect(await currentOf(here)).toEqual([{ revision: '2026-11', isOwn: false, read: 0 }]);
});

it('go on on the tablet that goes on with the desk of the backup, as after a loss', async () => {
  const [a, b] = [await tabletOf('tablet-a'), await tabletOf('tablet-b')];
  const entry = { by: 'Clinic lead C', deed: 'opened', values: {}, atWallMs: 1 } as const;
  must(await appendLeadLog(a.journal, { ...entry, epoch: a.epoch }));
  await keep(a, '2026-11');
  await restoreInto(b, await backupOf(a));
  expect(await currentOf(b)).toEqual([{ revision: '2026-11', isOwn: true, read: 3 }]);
});
