/** Tablets of one clinic in memory, which say things of their lots, protocols and cases and exchange backups. */
import { backupLines } from '../../src/runtime/backup/backup-lines.ts';
import { checkLines, Merger } from '../../src/runtime/backup/backup-merge.ts';
import { FACT_KINDS, type Fact, listFacts } from '../../src/runtime/facts/fact.ts';
import { Stock } from '../../src/runtime/stock/stock.ts';
import type { Material } from '../../src/runtime/stock/stock-types.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { emptyJournal, must } from '../backup/filled-journal.ts';

export interface Tablet {
  readonly id: string;
  readonly journal: Journal;
  readonly epoch: number;
  readonly stock: Stock;
}

/** @param o.clock what its wall clock says; a tablet whose clock is wrong is a tablet all the same. */
export async function tabletOf(
  id: string,
  o: { readonly clock?: () => number } = {},
): Promise<Tablet> {
  const { journal, epoch } = await emptyJournal();
  const settings = { kind: 'settings', id: 'this-tablet', value: { tablet: id }, epoch };
  must(await journal.documents.put(settings));
  const nowWallMs = o.clock ?? (() => 1_780_000_000_000);
  const stock = new Stock({ journal, epoch: () => epoch, tablet: () => id, nowWallMs });
  return { id, journal, epoch, stock };
}

/** What a backup of a tablet holds, without its wrapping. */
export async function backupOf({ journal }: Pick<Tablet, 'journal'>): Promise<readonly string[]> {
  const lines: string[] = [];
  for await (const line of backupLines(journal)) lines.push(line.trimEnd());
  return lines;
}

async function* streamed(lines: readonly string[]): AsyncGenerator<string> {
  yield* lines;
}

/** Restores what a backup holds, and answers with what is named. */
export async function restoreInto({ journal, epoch, stock }: Tablet, lines: readonly string[]) {
  const found = await checkLines(streamed(lines));
  const merger = new Merger({ journal, epoch, found });
  const report = await merger.run(streamed(lines), () => undefined);
  await stock.refresh();
  return must(report);
}

/** Every fact of a tablet, in the order of their names. */
export async function factsOf({ journal }: Pick<Tablet, 'journal'>): Promise<readonly Fact[]> {
  const all: Fact[] = [];
  for (const kind of FACT_KINDS) all.push(...must(await listFacts(journal, kind)).facts);
  return all.toSorted((a, b) => (a.id < b.id ? -1 : 1));
}

export const gel: Material = {
  id: 'gel',
  materialClass: 'phosphoric-acid-gel',
  label: 'Etch gel, shelf 2',
  lot: 'L-204',
  refrigerated: false,
};

export const lotOf = ({ stock }: Tablet, id = 'gel'): Material | undefined =>
  stock.state.getState().materials.find((m) => m.id === id);
