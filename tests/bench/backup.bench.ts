/**
 * What a backup of small cases costs and how it grows: time to write, time to restore into an empty
 * journal in memory, size of the file, and the largest heap seen meanwhile. The last line is an
 * extrapolation along the slope between the smallest and the largest run, and says so.
 */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { makeBackup, restoreBackup } from '../../src/runtime/backup/backup.ts';
import { emptyJournal, filledJournal } from '../backup/filled-journal.ts';

const SIZES = [1000, 5000, 10_000];
const FAR = 50_000;
const PRESSES = 8;
const LOOK_EVERY = 10;
const passphrase = 'a passphrase for measuring';

interface Row {
  readonly cases: number;
  readonly entries: number;
  readonly fileMb: number;
  readonly writeMs: number;
  readonly restoreMs: number;
  /** How far the heap rose above where it began; what is not yet collected counts. */
  readonly writeHeapMb: number;
  readonly restoreHeapMb: number;
}

const megabytes = (bytes: number): number => Math.round(bytes / 10_000) / 100;

setFlagsFromString('--expose-gc');
const collect: unknown = runInNewContext('gc');

/** Runs the work and tells how far the heap rose above where it began, looked at case by case. */
async function watched<T>(
  work: (look: () => void) => Promise<T>,
): Promise<{ value: T; ms: number; bytes: number }> {
  if (typeof collect === 'function') collect();
  const before = process.memoryUsage().heapUsed;
  let most = before;
  let looks = 0;
  const startMs = performance.now();
  const value = await work(() => {
    looks += 1;
    if (looks % LOOK_EVERY === 0) most = Math.max(most, process.memoryUsage().heapUsed);
  });
  const ms = Math.round(performance.now() - startMs);
  return { value, ms, bytes: most - before };
}

async function row(cases: number): Promise<Row> {
  const { journal } = await filledJournal({ cases, presses: PRESSES });
  const written = await watched((onProgress) =>
    makeBackup({ journal, crypto, passphrase, onProgress }),
  );
  if (!written.value.ok) throw new Error(written.value.error.code);
  const { file, counts } = written.value.value;
  const target = await emptyJournal();
  const restored = await watched((onProgress) =>
    restoreBackup({ ...target, crypto, file, passphrase, onProgress }),
  );
  if (!restored.value.ok) throw new Error(restored.value.error.code);
  return {
    cases,
    entries: counts.entries,
    fileMb: megabytes(file.size),
    writeMs: written.ms,
    restoreMs: restored.ms,
    // The restored journal itself lies in memory here, on a tablet it lies on the disk.
    writeHeapMb: megabytes(written.bytes),
    restoreHeapMb: megabytes(restored.bytes),
  };
}

function extrapolated(rows: readonly Row[]): Record<string, unknown> {
  const [a, b] = [rows[0], rows.at(-1)];
  if (a === undefined || b === undefined) return {};
  const at = (pick: (r: Row) => number): number =>
    Math.round(pick(b) + ((pick(b) - pick(a)) / (b.cases - a.cases)) * (FAR - b.cases));
  return {
    cases: FAR,
    extrapolated: true,
    fileMb: at((r) => r.fileMb),
    writeMs: at((r) => r.writeMs),
    restoreMs: at((r) => r.restoreMs),
  };
}

export default async function backup(): Promise<readonly object[]> {
  const rows: Row[] = [];
  for (const cases of SIZES) rows.push(await row(cases));
  return [...rows, extrapolated(rows)].map((r) => ({ name: 'backup and restore', ...r }));
}
