/** Journals with many invented cases, documents and deletions. */
import type { Result } from '../../src/base/result.ts';
import type { Recorded } from '../../src/engine/types.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { opening, pressOf, stampAt } from '../storage/sample-case.ts';

export function must<T, E>(result: Result<T, E>): T {
  if (!result.ok) throw new Error(`refused: ${JSON.stringify(result.error)}`);
  return result.value;
}

export interface Filled {
  readonly journal: Journal;
  readonly epoch: number;
}

/** A journal that may write and holds nothing. */
export async function emptyJournal(): Promise<Filled> {
  const journal = createMemoryJournal();
  return { journal, epoch: must(await journal.startWriting()).epoch };
}

/** Numbers from 0 to 1 that are the same in every run (Lehmer, modulus 2^31 - 1, factor 48271). */
export function lehmer(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

const caseName = (index: number): string => `case-${String(index).padStart(5, '0')}`;

/** The opening and `presses` presses of one to three entries. */
function recordedCase(caseId: string, presses: number, next: () => number): readonly Recorded[] {
  const all: Recorded[] = [opening(caseId)];
  for (let press = 0; press < presses; press += 1) {
    all.push(...pressOf(1 + Math.floor(next() * 3), all.length));
  }
  return all;
}

/** `cases` cases of different lengths, a document for every tenth, and one deletion for every fiftieth. */
export async function filledJournal(o: {
  readonly cases: number;
  readonly presses?: number;
  readonly seed?: number;
  /** Where they are written; into memory when left out. */
  readonly into?: Filled;
}): Promise<Filled> {
  const filled = o.into ?? (await emptyJournal());
  const { journal, epoch } = filled;
  const next = lehmer(o.seed ?? 20_261_125);
  for (let index = 0; index < o.cases; index += 1) {
    const caseId = caseName(index);
    const presses = o.presses ?? 1 + Math.floor(next() * 8);
    must(await journal.append({ caseId, epoch, recorded: recordedCase(caseId, presses, next) }));
    if (index % 10 === 0) {
      const value = { lot: `L${index}`, note: 'Große Tube – 2 °C', opened: index % 20 === 0 };
      const document = { kind: 'scanner', id: `m${index}`, epoch };
      must(await journal.documents.put({ ...document, value }));
      if (index % 30 === 0) must(await journal.documents.put({ ...document, value: { lot: 'B' } }));
      if (index % 70 === 0) must(await journal.documents.delete(document));
    }
    if (index % 50 === 49) {
      const deletion = { caseId, epoch, stamp: stampAt(0), by: 'p1', reason: 'kept long enough' };
      must(await journal.deleteCase(deletion));
    }
  }
  return filled;
}
