/**
 * What the journal costs without a disk: chaining, verifying, encoding and reading a case of 2,000
 * entries (ten units), and one press on the journal in memory. Times on a disk are the browser's.
 */

import { encodeRecords, type FileRecord, readLines } from '../../src/storage/file-lines.ts';
import { chainEntries, NO_ENTRY_HASH, verifyChain } from '../../src/storage/hash-chain.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { opening, pressOf, wholeCase } from '../storage/sample-case.ts';

interface Measured {
  readonly name: string;
  readonly unit: 'ms';
  readonly p50: number;
  readonly p95: number;
  readonly n: number;
}

const ENTRIES = 2000;
const CASE_ID = 'bench';

const rounded = (ms: number): number => Math.round(ms * 10_000) / 10_000;

function summary(name: string, timesMs: readonly number[]): Measured {
  const sorted = timesMs.toSorted((a, b) => a - b);
  const at = (share: number): number => rounded(sorted[Math.floor(sorted.length * share)] ?? 0);
  return { name, unit: 'ms', p50: at(0.5), p95: at(0.95), n: sorted.length };
}

async function measure(
  name: string,
  { runs, work }: { readonly runs: number; readonly work: () => unknown },
): Promise<Measured> {
  const timesMs: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    const startMs = performance.now();
    await work();
    timesMs.push(performance.now() - startMs);
  }
  return summary(name, timesMs);
}

async function startedJournal(): Promise<{ journal: Journal; epoch: number }> {
  const journal = createMemoryJournal();
  const started = await journal.startWriting();
  if (!started.ok) throw new Error(started.error.code);
  return { journal, epoch: started.value.epoch };
}

async function appends(): Promise<Measured> {
  const { journal, epoch } = await startedJournal();
  await journal.append({ caseId: CASE_ID, epoch, recorded: [opening(CASE_ID)] });
  let seq = 0;
  return measure('storage: append one press in memory', {
    runs: 1000,
    work: () => {
      seq += 1;
      return journal.append({ caseId: CASE_ID, epoch, recorded: pressOf(1, seq) });
    },
  });
}

async function reading(): Promise<Measured> {
  const { journal, epoch } = await startedJournal();
  const recorded = wholeCase(CASE_ID, ENTRIES);
  await journal.append({ caseId: CASE_ID, epoch, recorded });
  return measure(`storage: read and verify ${ENTRIES} entries from memory`, {
    runs: 20,
    work: () => journal.read(CASE_ID),
  });
}

export default async function storage(): Promise<readonly Measured[]> {
  const recorded = wholeCase(CASE_ID, ENTRIES);
  const onto = { caseId: CASE_ID, epoch: 1, prev: NO_ENTRY_HASH };
  const entries = chainEntries(recorded, onto);
  const records = entries.map((body): FileRecord => ({ record: 'entry', body }));
  const bytes = encodeRecords(records);
  return [
    await appends(),
    await measure('storage: chain one entry', {
      runs: 2000,
      work: () => chainEntries(recorded.slice(1, 2), onto),
    }),
    await measure(`storage: verify ${ENTRIES} entries`, {
      runs: 20,
      work: () => verifyChain(entries),
    }),
    await reading(),
    await measure(`storage: encode ${ENTRIES} lines`, {
      runs: 20,
      work: () => encodeRecords(records),
    }),
    await measure(`storage: read ${ENTRIES} lines of ${bytes.length} bytes`, {
      runs: 20,
      work: () => readLines(bytes),
    }),
  ];
}
