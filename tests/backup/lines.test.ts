/**
 * The lines inside a backup, before anything is encrypted: a file that does not hold together is
 * refused as a whole, by the line at which it stops doing so.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { BackupFault } from '../../src/runtime/backup/backup-format.ts';
import { backupLines } from '../../src/runtime/backup/backup-lines.ts';
import { checkLines } from '../../src/runtime/backup/backup-merge.ts';
import { filledJournal } from './filled-journal.ts';

let whole: readonly string[];

beforeAll(async () => {
  const { journal } = await filledJournal({ cases: 3, presses: 1 });
  const lines: string[] = [];
  for await (const line of backupLines(journal)) lines.push(line.trimEnd());
  whole = lines;
});

async function* streamed(lines: readonly string[]): AsyncGenerator<string> {
  yield* lines;
}

/** What came instead of what this app writes; null when the lines hold together. */
async function refusedFor(lines: readonly string[]): Promise<string | null> {
  try {
    await checkLines(streamed(lines));
    return null;
  } catch (fault) {
    if (!(fault instanceof BackupFault)) throw fault;
    return fault.problem.came;
  }
}

describe('the lines of a backup', () => {
  it('hold together as they are written, and are counted', async () => {
    const { counts } = await checkLines(streamed(whole));
    const of = (record: string) =>
      whole.filter((line) => line.includes(`"record":"${record}"`)).length;
    expect(counts).toEqual({
      cases: 3,
      entries: of('entry'),
      documents: of('document'),
      tombstones: of('tombstone'),
    });
  });

  it.each<{
    readonly what: string;
    readonly change: (lines: readonly string[]) => readonly string[];
    readonly came: (lines: readonly string[]) => string;
  }>([
    { what: 'the beginning is missing', change: (l) => l.slice(1), came: () => 'line 1' },
    {
      what: 'there is a second beginning',
      change: (l) => [...l.slice(0, 3), present(l[0], 'begin'), ...l.slice(3)],
      came: () => 'line 4',
    },
    { what: 'nothing is there', change: () => [], came: () => 'no end' },
    { what: 'the end is missing', change: (l) => l.slice(0, -1), came: () => 'no end' },
    {
      what: 'something stands behind the end',
      change: (l) => [...l, present(l[1], 'entry')],
      came: (l) => `line ${l.length + 1}`,
    },
    {
      what: 'there are two ends',
      change: (l) => [...l, present(l.at(-1), 'end')],
      came: (l) => `line ${l.length + 1}`,
    },
    {
      what: 'a document is missing',
      change: (l) => l.filter((line) => !line.includes('"record":"document"')),
      came: () => 'another sum',
    },
    {
      what: 'a document claims another version',
      change: (l) => l.map((line) => line.replace('"version":3', '"version":4')),
      came: () => 'another sum',
    },
    {
      what: 'a line is not JSON',
      change: (l) => [...l.slice(0, 2), '{', ...l.slice(2)],
      came: () => 'line 3 is not JSON',
    },
  ])('are refused when $what', async ({ change, came }) => {
    expect(await refusedFor(change(whole))).toBe(JSON.stringify(came(whole)));
  });

  it('are refused when the entries of a case stand apart', async () => {
    const at = whole.findIndex((line) => line.includes('case-00001'));
    const moved = [...whole.slice(0, 1), ...whole.slice(at, at + 1), ...whole.slice(1)];
    expect(await refusedFor(moved)).toContain('case-00001');
  });
});
