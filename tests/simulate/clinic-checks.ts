/**
 * What must hold between the tablets of a clinic once every line is whole again: what each of them shows is
 * read through its own page, and held against the others and against what people did.
 */
import { present } from '../../src/base/assert.ts';
import type { Result } from '../../src/base/result.ts';
import { isRunningHead } from '../../src/runtime/anchors/head-facts.ts';
import { goingOn, readSecondEnds } from '../../src/runtime/cases/second-ends.ts';
import { isOfADesk } from '../../src/runtime/facts/desk-facts.ts';
import { FACT_KINDS, listFacts } from '../../src/runtime/facts/fact.ts';
import { isDemonstration } from '../../src/runtime/sharing/marks.ts';
import type { JournalEntry } from '../../src/storage/journal-types.ts';
import { Broken } from './invariants.ts';
import type { Page } from './page.ts';
import type { Tablet } from './tablet.ts';

interface ToldCase {
  /** Hashes of the end that goes on. */
  readonly going: readonly string[];
  /** Entries of every end, by hash. */
  readonly all: ReadonlyMap<string, JournalEntry>;
}

/** What a tablet shows of everything that is shared. */
export interface ToldFold {
  readonly tablet: Tablet;
  readonly cases: ReadonlyMap<string, ToldCase>;
  /** Ids of facts, with the item that each is about. */
  readonly facts: ReadonlyMap<string, string>;
}

/** What somebody was told is kept. */
export interface Acknowledged {
  readonly tablet: Tablet;
  readonly caseId: string;
  readonly hash: string;
  readonly seq: number;
  readonly atMs: number;
}

/** Of what is planted in the store by somebody who may not speak. */
export const FORGED = 'forged-';

function read<T>(page: Page, result: Result<T, { readonly code: string }>): T {
  if (result.ok) return result.value;
  throw new Broken('I13', `${page.name} cannot be read: ${result.error.code}`);
}

/** By a clock that is years ahead cases are old: those of other tablets lie on the store, and come when they are opened. */
export async function fetchOld(page: Page): Promise<void> {
  const sharing = await page.session.sharing?.();
  for (const { caseId } of (await sharing?.storeOnly()) ?? []) {
    const brought = await sharing?.bringHere({ caseId, onProgress: () => undefined });
    if (brought?.ok === false) {
      throw new Broken('I13', `${page.name} cannot fetch ${caseId}: ${brought.error.code}`);
    }
  }
}

export async function toldBy(page: Page): Promise<ToldFold> {
  const { journal, tablet } = page;
  const cases = new Map<string, ToldCase>();
  for (const { caseId, mode } of read(page, await journal.listCases())) {
    if (mode !== 'patient') continue;
    const reading = read(page, await journal.read(caseId));
    const ends = read(page, await readSecondEnds(journal, caseId));
    const going = goingOn(reading, ends).reading.entries.map(({ hash }) => hash);
    const every = [...reading.entries, ...ends.flatMap(({ entries }) => entries)];
    cases.set(caseId, { going, all: new Map(every.map((entry) => [entry.hash, entry])) });
  }
  const facts = new Map<string, string>();
  for (const kind of FACT_KINDS) {
    for (const fact of read(page, await listFacts(journal, kind)).facts) {
      // What each tablet says for itself.
      if (isOfADesk(fact) || isDemonstration(fact) || isRunningHead(fact)) continue;
      facts.set(fact.id, `${kind} ${fact.item}`);
    }
  }
  return { tablet, cases, facts };
}

function missing(from: ReadonlyMap<string, unknown>, of: ReadonlyMap<string, unknown>): string[] {
  return [...of.keys()].filter((key) => !from.has(key));
}

function checkSame(a: ToldFold, b: ToldFold): void {
  const [here, there] = [a.tablet.name, b.tablet.name];
  for (const id of missing(b.facts, a.facts)) {
    throw new Broken('I13', `${here} has ${a.facts.get(id)}, and ${there} has not`);
  }
  for (const id of missing(b.cases, a.cases)) {
    throw new Broken('I13', `${here} has the case ${id}, and ${there} has not`);
  }
  for (const [caseId, { going, all }] of a.cases) {
    const other = present(b.cases.get(caseId), 'the case');
    const at = going.findIndex((hash, i) => other.going[i] !== hash);
    if (at >= 0) {
      const lengths = `${going.length} and ${other.going.length}`;
      throw new Broken(
        'I13',
        `${caseId} goes on differently from ${at} on at ${here} and ${there} (${lengths})`,
      );
    }
    for (const hash of missing(other.all, all)) {
      const seq = all.get(hash)?.seq;
      throw new Broken('I13', `${here} has entry ${seq} of ${caseId} apart, and ${there} has not`);
    }
  }
}

/** I13: whatever happened, the tablets end alike. */
export function checkConverged(told: readonly ToldFold[]): void {
  for (const a of told) for (const b of told) if (a !== b) checkSame(a, b);
}

/** I14: what a tablet of the clinic acknowledged stands on each of them. */
export function checkNothingLost(
  told: readonly ToldFold[],
  o: { readonly acknowledged: readonly Acknowledged[]; readonly said: ReadonlySet<string> },
): void {
  for (const { tablet, cases, facts } of told) {
    const has = new Set(facts.values());
    for (const what of o.said) {
      if (!has.has(what)) throw new Broken('I14', `${what} was kept, and ${tablet.name} has not`);
    }
    for (const { caseId, hash, seq, tablet: by } of o.acknowledged) {
      if (cases.get(caseId)?.all.has(hash)) continue;
      throw new Broken(
        'I14',
        `entry ${seq} of ${caseId} was acknowledged on ${by.name}, and ${tablet.name} has not`,
      );
    }
  }
}

/** I15: what is shown somebody did, on a tablet whose word counted then. */
export function checkNobodyElse(
  told: readonly ToldFold[],
  o: {
    readonly isPressed: (caseId: string, entry: JournalEntry) => boolean;
    /** Hashes of what was pressed on a tablet after it was put out. */
    readonly late: ReadonlySet<string>;
  },
): void {
  for (const { tablet, cases, facts } of told) {
    for (const what of facts.values()) {
      if (what.includes(FORGED)) throw new Broken('I15', `${tablet.name} shows ${what}`);
    }
    for (const [caseId, { all }] of cases) {
      for (const entry of all.values()) {
        const where = `entry ${entry.seq} of ${caseId}`;
        if (!o.isPressed(caseId, entry)) {
          throw new Broken('I15', `${tablet.name} shows ${where}, which nobody pressed`);
        }
        if (o.late.has(entry.hash)) {
          throw new Broken('I15', `${tablet.name} shows ${where} of a tablet that was put out`);
        }
      }
    }
  }
}

/** A press is kept within so long where database and files answer at once: no way to a store is as short. */
const AT_ONCE_MS = 5;

/** I16: what is pressed is kept, whatever the store does. */
export function checkAtOnce(waitedMs: number, what: string): void {
  if (waitedMs <= AT_ONCE_MS) return;
  throw new Broken(
    'I16',
    `${what} was kept after ${waitedMs} ms, and nothing of the tablet was slow`,
  );
}
