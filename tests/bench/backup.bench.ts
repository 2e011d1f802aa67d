/**
 * What a backup of small cases costs and how it grows: time to write and to restore, and how far the
 * heap rises meanwhile. Cases lie on disk on both sides, so that the heap is what the work itself
 * needs. `held` is what is still there after a collection, looked at every thousand cases; it must
 * not grow with what was read. `named` is how much of it the report at the end takes, which names
 * every case.
 */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { makeBackup, restoreBackup } from '../../src/runtime/backup/backup.ts';
import { filledJournal } from '../backup/filled-journal.ts';
import { diskJournal } from './disk-journal.ts';

const SIZES = [1000, 10_000, 50_000];
const PRESSES = 8;
const LOOK_EVERY = 10;
const COLLECT_EVERY = 1000;
const passphrase = 'a passphrase for measuring';

interface Row {
  readonly cases: number;
  readonly entries: number;
  readonly fileMb: number;
  readonly writeMs: number;
  readonly restoreMs: number;
  /** How far the heap rose above where it began, with what is not yet collected. */
  readonly writeHeapMb: number;
  readonly restoreHeapMb: number;
  readonly writeHeldMb: number;
  readonly restoreHeldMb: number;
  /** What the report of the restore itself takes as text. */
  readonly namedMb: number;
}

const megabytes = (bytes: number): number => Math.round(bytes / 10_000) / 100;

setFlagsFromString('--expose-gc');
const gc: unknown = runInNewContext('gc');

function collected(): number {
  if (typeof gc === 'function') gc();
  return process.memoryUsage().heapUsed;
}

interface Watched<T> {
  readonly value: T;
  readonly ms: number;
  readonly heapMb: number;
  readonly heldMb: number;
}

/** Runs the work and tells how far the heap rose above where it began. Collecting is no part of the time. */
async function watched<T>(work: (look: () => void) => Promise<T>): Promise<Watched<T>> {
  const before = collected();
  let [most, held, looks, collectMs] = [before, before, 0, 0];
  const startMs = performance.now();
  const value = await work(() => {
    looks += 1;
    if (looks % LOOK_EVERY === 0) most = Math.max(most, process.memoryUsage().heapUsed);
    if (looks % COLLECT_EVERY !== 0) return;
    const beganMs = performance.now();
    held = Math.max(held, collected());
    collectMs += performance.now() - beganMs;
  });
  const ms = Math.round(performance.now() - startMs - collectMs);
  return { value, ms, heapMb: megabytes(most - before), heldMb: megabytes(held - before) };
}

async function row(cases: number): Promise<Row> {
  const source = await diskJournal();
  const target = await diskJournal();
  const { journal } = await filledJournal({ cases, presses: PRESSES, into: source });
  const written = await watched((onProgress) =>
    makeBackup({ journal, crypto, passphrase, onProgress }),
  );
  if (!written.value.ok) throw new Error(written.value.error.code);
  const { file, counts } = written.value.value;
  const restored = await watched((onProgress) =>
    restoreBackup({ ...target, crypto, file, passphrase, onProgress }),
  );
  if (!restored.value.ok) throw new Error(restored.value.error.code);
  source.close();
  target.close();
  return {
    cases,
    entries: counts.entries,
    fileMb: megabytes(file.size),
    writeMs: written.ms,
    restoreMs: restored.ms,
    writeHeapMb: written.heapMb,
    restoreHeapMb: restored.heapMb,
    writeHeldMb: written.heldMb,
    restoreHeldMb: restored.heldMb,
    namedMb: megabytes(JSON.stringify(restored.value.value.things).length),
  };
}

export default async function backup(): Promise<readonly object[]> {
  const rows: Row[] = [];
  for (const cases of SIZES) rows.push(await row(cases));
  return rows.map((r) => ({ name: 'backup and restore', ...r }));
}
