/**
 * The list of cases at growing sizes, read from a file: how long until it is there, until every case
 * was read once, until it is whole again at a later start, and how long a search takes; how long the
 * page could not answer a touch at most while all were read, and what the facts of a case weigh in
 * memory. `readAllMs` and `cpuMs` are of the first reading. In a browser its own database stands in
 * for the file.
 */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import type { Recorded } from '../../src/engine/types.ts';
import { CasesList } from '../../src/runtime/cases/cases-list.ts';
import { caseFinder, NO_FILTER } from '../../src/runtime/cases/cases-list-facts.ts';
import type { FactsCache } from '../../src/storage/facts-cache.ts';
import { must } from '../backup/filled-journal.ts';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { followed, templateSetting } from '../export/journals.ts';
import { manualClock } from '../runtime/manual-clock.ts';
import { type DiskJournal, diskJournal } from './disk-journal.ts';

const SIZES = [1000, 10_000, 50_000];
/** Whole appointments of eight units, hundreds of entries each: what a tablet really holds. */
const WHOLE = 1000;
const SEARCHES = 20;

setFlagsFromString('--expose-gc');
const collect: unknown = runInNewContext('gc');

function heapMb(): number {
  if (typeof collect === 'function') collect();
  return process.memoryUsage().heapUsed / 1_000_000;
}

/** A signed case in which every slot of the shipped template was named: what a list has to hold. */
function signedCase(): readonly Recorded[] {
  const { slots } = templateSetting('two-veneers').protocol;
  const setting = settingOf(ETCH_ROUND, ['11', '21']);
  const steps = setting.protocol.steps.map((step) =>
    step.id === 'etch' ? { ...step, uses: slots.map((s) => s.id) } : step,
  );
  const chair = new Chair({ ...setting, protocol: { ...setting.protocol, slots, steps } });
  chair.rows('at 0 s confirm ready case');
  for (const { id, materialClass, label } of slots) {
    const material = { materialClass, label, lot: `L-${id}`, warnings: [] };
    chair.do({ do: 'name-material', slot: id, material });
  }
  chair.rows(`
    at 10 s  start etch 11
    at 14 s  start etch 21
    at 30 s  end etch 11
    at 41 s  end etch 21
    at 55 s  end rinse 11 21
    at 60 s  confirm dry 11 21
    sign-off dentist-a
  `);
  return chair.log.records;
}

/** What was worked out, as it is kept between starts. */
function memoryCache(): FactsCache {
  const kept = new Map<string, unknown>();
  return {
    readAll: async () => [...kept.values()].map((value) => structuredClone(value)),
    put: async (all) => {
      for (const each of all) kept.set(each.caseId, structuredClone(each));
    },
    forget: async () => undefined,
  };
}

const listOn = ({ journal, epoch }: DiskJournal, cache: FactsCache): CasesList =>
  new CasesList({
    journal,
    epoch: () => epoch,
    crypto: globalThis.crypto,
    clock: manualClock({ wallMs: 0, monoMs: 0, runId: 'bench' }),
    cache: async () => cache,
    onChanged: async () => undefined,
  });

async function timed(work: () => unknown): Promise<number> {
  const startMs = performance.now();
  await work();
  return Math.round((performance.now() - startMs) * 10) / 10;
}

/** How long nothing else had its turn, from when it is begun until it is ended. */
function watchBlocks(): () => number {
  let longestMs = 0;
  let lastMs = performance.now();
  const timer = setInterval(() => {
    const nowMs = performance.now();
    longestMs = Math.max(longestMs, nowMs - lastMs);
    lastMs = nowMs;
  }, 1);
  return () => {
    clearInterval(timer);
    return Math.round(longestMs);
  };
}

async function fill(
  { journal, epoch }: DiskJournal,
  o: { readonly cases: number; readonly recorded: readonly Recorded[] },
): Promise<void> {
  for (let n = 0; n < o.cases; n += 1) {
    must(await journal.append({ caseId: `case-${n}`, epoch, recorded: o.recorded }));
  }
}

/** A backup brought into an empty tablet: what it takes, and until the list is whole afterwards. */
async function restoredRow(cases: number, recorded: readonly Recorded[]) {
  const source = await diskJournal();
  await fill(source, { cases, recorded });
  const passphrase = 'a passphrase for measuring';
  const file = must(await listOn(source, memoryCache()).backUp(passphrase, () => undefined));
  const target = await diskJournal();
  const cache = memoryCache();
  const restoreMs = await timed(async () =>
    must(await listOn(target, cache).restore({ file, passphrase }, () => undefined)),
  );
  const later = listOn(target, cache);
  const listMs = await timed(() => later.refresh());
  source.close();
  target.close();
  return { cases, entries: recorded.length, restoreMs, listMs };
}

async function row(cases: number, recorded: readonly Recorded[]) {
  const disk = await diskJournal();
  await fill(disk, { cases, recorded });
  const cache = memoryCache();
  const first = listOn(disk, cache);
  let firstListMs = 0;
  const startMs = performance.now();
  first.state.subscribe(() => {
    if (firstListMs === 0 && first.state.getState().facts.length > 0) {
      firstListMs = Math.round((performance.now() - startMs) * 10) / 10;
    }
  });
  const cpu = process.cpuUsage();
  const endWatch = watchBlocks();
  const readAllMs = await timed(() => first.refresh());
  const blockedMs = endWatch();
  const { user, system } = process.cpuUsage(cpu);
  const cpuMs = Math.round((user + system) / 1000);
  const before = heapMb();
  const later = listOn(disk, cache);
  const laterMs = await timed(() => later.refresh());
  const factsMb = Math.round((heapMb() - before) * 10) / 10;
  const { facts } = later.state.getState();
  const filter = { ...NO_FILTER, words: 'cement l-etching-gel' };
  const searchMs = await timed(() => {
    for (let n = 0; n < SEARCHES; n += 1) facts.filter(caseFinder(filter, () => ''));
  });
  const each = Math.round((searchMs / SEARCHES) * 10) / 10;
  const entries = recorded.length;
  disk.close();
  return {
    cases,
    entries,
    firstListMs,
    readAllMs,
    cpuMs,
    blockedMs,
    laterMs,
    searchMs: each,
    factsMb,
  };
}

export default async function cases(): Promise<readonly object[]> {
  const appointment = followed('eight-upper-veneers').log.records;
  const whole = await row(WHOLE, appointment);
  const restored = await restoredRow(WHOLE, appointment);
  const recorded = signedCase();
  const rows: object[] = [];
  for (const size of SIZES) rows.push(await row(size, recorded));
  return [
    ...rows.map((r) => ({ name: 'list of cases', ...r })),
    { name: 'list of whole appointments', ...whole },
    { name: 'whole appointments from a backup', ...restored },
  ];
}
