/**
 * A tablet with 50,000 cases, beside one with 1,000 in the same run: how long until the list stands, until what
 * earlier starts worked out is there, how long searches take, and what all of it holds in memory. The lines are
 * those of one signed case, told apart by chart reference, day and lots; their entries are never read.
 */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { ok } from '../../src/base/result.ts';
import { wallMs } from '../../src/base/units.ts';
import { replay } from '../../src/engine/log.ts';
import { CasesList } from '../../src/runtime/cases/cases-list.ts';
import {
  type CaseFacts,
  type CaseFilter,
  caseFacts,
  caseFinder,
  NO_FILTER,
} from '../../src/runtime/cases/cases-list-facts.ts';
import { FACTS_VERSION } from '../../src/runtime/cases/parse-case-facts.ts';
import { summarise } from '../../src/storage/case-summary.ts';
import type { CaseSummary, Journal } from '../../src/storage/journal-types.ts';
import { timesIn } from '../../src/words/date-words.ts';
import { emptyJournal, must } from '../backup/filled-journal.ts';
import { followed } from '../export/journals.ts';
import { manualClock } from '../runtime/manual-clock.ts';

const FEW = 1000;
const MANY = 50_000;
const SEARCHES = 10;
/** A box of material serves so many cases. */
const CASES_A_LOT = 40;
const CASE_EVERY_MS = 20 * 60_000;

setFlagsFromString('--expose-gc');
const collect: unknown = runInNewContext('gc');

function heapMb(): number {
  if (typeof collect === 'function') collect();
  return Math.round(process.memoryUsage().heapUsed / 100_000) / 10;
}

const rounded = (ms: number): number => Math.round(ms * 10) / 10;

async function timed(work: () => unknown): Promise<number> {
  const startMs = performance.now();
  await work();
  return rounded(performance.now() - startMs);
}

interface Line {
  readonly summary: CaseSummary;
  readonly facts: CaseFacts;
}

/** The line of a case and what is worked out of it. */
async function patternLine(): Promise<Line> {
  const { journal, epoch } = await emptyJournal();
  const recorded = followed('eight-upper-veneers').log.records;
  must(await journal.append({ caseId: 'pattern', epoch, recorded }));
  const { entries } = must(await journal.read('pattern'));
  const summary = summarise(null, entries);
  return { summary, facts: caseFacts(summary, replay(entries)) };
}

/** One of many, as text: what is stored is read anew, and shares nothing in memory. */
function lineText({ summary, facts }: Line, n: number): { summary: string; facts: string } {
  const caseId = `case-${n}`;
  const chartRef = `KB-${n}`;
  const head = n.toString(16).padStart(64, '0');
  const openedWallMs = wallMs(summary.openedWallMs - n * CASE_EVERY_MS);
  const own = { caseId, chartRef, head, openedWallMs };
  const batch = Math.floor(n / CASES_A_LOT);
  const lots = facts.lots.map((lot) => ({ ...lot, lot: `${lot.lot}-${batch}` }));
  return {
    summary: JSON.stringify({ ...summary, ...own }),
    facts: JSON.stringify({ ...facts, ...own, lots, factsVersion: FACTS_VERSION }),
  };
}

async function listed(pattern: Line, cases: number) {
  const texts = Array.from({ length: cases }, (_, n) => lineText(pattern, n));
  const { journal: base } = await emptyJournal();
  const readLines = (): readonly CaseSummary[] => texts.map(({ summary }) => JSON.parse(summary));
  const journal: Journal = new Proxy(base, {
    get: (target, name) => {
      if (name === 'listCases') return async () => ok(readLines());
      const value: unknown = Reflect.get(target, name, target);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
  const before = heapMb();
  const atHand = readLines();
  const list = new CasesList({
    journal,
    epoch: () => null,
    crypto: null,
    clock: manualClock({ wallMs: 0, monoMs: 0, runId: 'bench' }),
    atHand: () => atHand,
    cache: async () => ({
      readAll: async () => texts.map(({ facts }): unknown => JSON.parse(facts)),
      put: async () => undefined,
      forget: async () => undefined,
    }),
    onChanged: async () => undefined,
  });
  let listMs = 0;
  const startMs = performance.now();
  list.state.subscribe(({ facts }) => {
    if (listMs === 0 && facts.length > 0) listMs = rounded(performance.now() - startMs);
  });
  const wholeMs = await timed(() => list.refresh());
  const { facts } = list.state.getState();
  const times = timesIn({ zone: 'Europe/Berlin', language: 'en' });
  let found = 0;
  const searchMs = async (filter: Partial<CaseFilter>): Promise<number> => {
    const all = await timed(() => {
      for (let n = 0; n < SEARCHES; n += 1) {
        found = facts.filter(caseFinder({ ...NO_FILTER, ...filter }, times.isoDay)).length;
      }
    });
    return rounded(all / SEARCHES);
  };
  const wordsMs = await searchMs({ words: 'veneers cement' });
  const lotMs = await searchMs({ words: `${pattern.facts.lots[0]?.lot ?? ''}-7 kb-2` });
  if (found === 0) throw new Error('the search finds nothing');
  const nothingMs = await searchMs({ words: 'nowhere' });
  const daysMs = await searchMs({ from: '2026-06-01', to: '2026-09-30' });
  const after = heapMb();
  return { cases, listMs, wholeMs, wordsMs, lotMs, nothingMs, daysMs, before, after };
}

export default async function manyCases(): Promise<readonly object[]> {
  const pattern = await patternLine();
  // What is compiled on the way is no part of either.
  await listed(pattern, FEW);
  const few = await listed(pattern, FEW);
  const many = await listed(pattern, MANY);
  const ratio = (of: 'listMs' | 'wordsMs' | 'lotMs'): number => rounded(many[of] / few[of]);
  const grown = ({ before, after, cases }: typeof few): number =>
    Math.round(((after - before) * 1_000_000) / cases);
  const told = ({ before, after, ...row }: typeof few) => ({
    name: 'list and search',
    ...row,
    heapBeforeMb: before,
    heapAfterMb: after,
  });
  return [
    told(few),
    told(many),
    {
      name: `${MANY} to ${FEW} cases`,
      cases: MANY / FEW,
      list: ratio('listMs'),
      words: ratio('wordsMs'),
      lot: ratio('lotMs'),
      bytesACase: grown(many),
      bytesACaseOfFew: grown(few),
    },
  ];
}
