/**
 * The list of cases at growing sizes, without a disk: how long until it is there, until every case
 * was read once, until it is whole again at a later start, and how long a search takes; and what the
 * facts of a case weigh in memory. The last line is an extrapolation along the slope between the
 * smallest and the largest run, and says so. In a browser the disk comes on top of it.
 */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import type { Recorded } from '../../src/engine/types.ts';
import { CasesList } from '../../src/runtime/cases/cases-list.ts';
import { fits, NO_FILTER } from '../../src/runtime/cases/cases-list-facts.ts';
import type { FactsCache } from '../../src/storage/facts-cache.ts';
import { emptyJournal, must } from '../backup/filled-journal.ts';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { followed, templateSetting } from '../export/journals.ts';
import { manualClock } from '../runtime/manual-clock.ts';

const SIZES = [1000, 5000, 10_000];
const FAR = 50_000;
/** Whole appointments of eight units, hundreds of entries each: what a tablet really holds. */
const WHOLE = 500;
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

async function timed(work: () => unknown): Promise<number> {
  const startMs = performance.now();
  await work();
  return Math.round((performance.now() - startMs) * 10) / 10;
}

async function row(cases: number, recorded: readonly Recorded[]) {
  const { journal, epoch } = await emptyJournal();
  for (let n = 0; n < cases; n += 1) {
    must(await journal.append({ caseId: `case-${n}`, epoch, recorded }));
  }
  const kept = new Map<string, unknown>();
  const cache: FactsCache = {
    readAll: async () => [...kept.values()].map((value) => structuredClone(value)),
    put: async (all) => {
      for (const each of all) kept.set(each.caseId, structuredClone(each));
    },
    forget: async () => undefined,
  };
  const listOf = (): CasesList =>
    new CasesList({
      journal,
      epoch: () => epoch,
      crypto: null,
      clock: manualClock({ wallMs: 0, monoMs: 0, runId: 'bench' }),
      cache: async () => cache,
      onChanged: async () => undefined,
    });
  const first = listOf();
  let firstListMs = 0;
  const startMs = performance.now();
  first.state.subscribe(() => {
    if (firstListMs === 0 && first.state.getState().facts.length > 0) {
      firstListMs = Math.round((performance.now() - startMs) * 10) / 10;
    }
  });
  const readAllMs = await timed(() => first.refresh());
  const before = heapMb();
  const later = listOf();
  const laterMs = await timed(() => later.refresh());
  const factsMb = Math.round((heapMb() - before) * 10) / 10;
  const { facts } = later.state.getState();
  const filter = { ...NO_FILTER, words: 'cement l-etching-gel' };
  const searchMs = await timed(() => {
    for (let n = 0; n < SEARCHES; n += 1) facts.filter((f) => fits(f, filter, () => ''));
  });
  const each = Math.round((searchMs / SEARCHES) * 10) / 10;
  const entries = recorded.length;
  return { cases, entries, firstListMs, readAllMs, laterMs, searchMs: each, factsMb };
}

type Row = Awaited<ReturnType<typeof row>>;

function extrapolated(rows: readonly Row[]): readonly object[] {
  const [a, b] = [rows[0], rows.at(-1)];
  if (a === undefined || b === undefined) return [];
  const at = (pick: (r: Row) => number): number =>
    Math.round(pick(b) + ((pick(b) - pick(a)) / (b.cases - a.cases)) * (FAR - b.cases));
  return [
    {
      cases: FAR,
      extrapolated: true,
      firstListMs: at((r) => r.firstListMs),
      readAllMs: at((r) => r.readAllMs),
      laterMs: at((r) => r.laterMs),
      searchMs: at((r) => r.searchMs),
      factsMb: at((r) => r.factsMb),
    },
  ];
}

export default async function cases(): Promise<readonly object[]> {
  const recorded = signedCase();
  const rows: Row[] = [];
  for (const size of SIZES) rows.push(await row(size, recorded));
  const whole = await row(WHOLE, followed('eight-upper-veneers').log.records);
  return [
    ...[...rows, ...extrapolated(rows)].map((r) => ({ name: 'list of cases', ...r })),
    { name: 'list of whole appointments', ...whole },
  ];
}
