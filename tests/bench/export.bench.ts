/**
 * The forms of a record at about 200 and 2,000 entries: a followed case of the shipped template,
 * lengthened by notes pressed all along. Reading a journal back, with its chain, is measured too.
 */
import { pathToFileURL } from 'node:url';
import { present } from '../../src/base/assert.ts';
import { replay } from '../../src/engine/log.ts';
import type { Recorded } from '../../src/engine/types.ts';
import { EXPORT_FORMS, exportFile } from '../../src/export/export-forms.ts';
import { parseJournal } from '../../src/export/journal-json.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { verifyChain } from '../../src/storage/hash-chain.ts';
import { followed, sourceOf } from '../export/journals.ts';

interface Measured {
  readonly name: string;
  readonly unit: 'ms';
  readonly p50: number;
  readonly p95: number;
  readonly n: number;
}

/** The same records with notes between the presses, `count` entries in all. */
function lengthened(records: readonly Recorded[], count: number): readonly Recorded[] {
  const notes = Math.max(0, count - records.length);
  const perRecord = notes / records.length;
  const all: Recorded[] = [];
  let press = 0;
  for (const [index, record] of records.entries()) {
    const isNewPress = records[index - 1]?.press !== record.press;
    if (index > 0 && isNewPress) {
      while (all.length < index * (1 + perRecord)) {
        const before = present(all.at(-1), 'record');
        press += 1;
        const event = { type: 'note-added', words: `Note ${press}, for the length of it` } as const;
        all.push({ ...before, seq: all.length, press, event });
      }
      press += 1;
    }
    all.push({ ...record, seq: all.length, press });
  }
  return all;
}

function measure(name: string, times: number, work: () => unknown): Measured {
  work();
  const samplesMs: number[] = [];
  for (let round = 0; round < times; round += 1) {
    const startMs = performance.now();
    work();
    samplesMs.push(performance.now() - startMs);
  }
  const sorted = samplesMs.sort((a, b) => a - b);
  const at = (share: number): number =>
    sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;
  return { name, unit: 'ms', p50: at(0.5), p95: at(0.95), n: times };
}

function benchLength(count: number): Measured[] {
  const records = lengthened(followed('eight-upper-veneers').log.records, count);
  const source = sourceOf(replay(records));
  const title = (what: string): string => `export ${records.length} entries: ${what}`;
  const journal = exportFile(source, 'json').text;
  return [
    measure(title('facts alone'), 20, () => recordFacts(source)),
    ...EXPORT_FORMS.map(({ id }) => measure(title(`as ${id}`), 20, () => exportFile(source, id))),
    measure(title('read a journal back'), 10, () => parseJournal(journal, { verify: verifyChain })),
  ];
}

/** Runs all of it, a few seconds. */
export default function exportBench(): Measured[] {
  return [0, 2000].flatMap(benchLength);
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  for (const row of exportBench()) console.log(JSON.stringify(row));
}
