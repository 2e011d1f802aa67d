/**
 * Files that ask for too much: each is refused by one line that says where, what was expected and
 * what came, nothing is thrown, and the work grows with the file and not with its square.
 */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  BACKUP_LINE_LENGTH_MAX,
  CASE_ENTRIES_MAX,
  KEY_ITERATIONS_MAX,
  LABEL_LENGTH_MAX,
  TEXT_LENGTH_MAX,
} from '../../src/base/caps.ts';
import { type Problem, problemLine } from '../../src/base/problem.ts';
import { readDeviceLabel } from '../../src/calc/udi/udi.ts';
import { main } from '../../src/cli/main.ts';
import { readFileUpTo } from '../../src/cli/read-text.ts';
import { parseJournal } from '../../src/export/journal-json.ts';
import { journalJson } from '../../src/export/journal-text.ts';
import { journalsIn } from '../../src/export/journals-json.ts';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { restoreBackup } from '../../src/runtime/backup/backup.ts';
import { openLines, unlockFile } from '../../src/runtime/backup/backup-cipher.ts';
import { backupLines, LineSum } from '../../src/runtime/backup/backup-lines.ts';
import { checkLines } from '../../src/runtime/backup/backup-merge.ts';
import { verifyLeadLog } from '../../src/runtime/lead/lead-log.ts';
import { pickedText } from '../../src/runtime/lead/lead-protocol-file.ts';
import { readLines } from '../../src/storage/file-lines.ts';
import { NO_ENTRY_HASH, verifyChain } from '../../src/storage/hash-chain.ts';
import { emptyJournal, filledJournal } from '../backup/filled-journal.ts';
import { entriesOf, finished } from '../export/journals.ts';
import { passphrase, quickCrypto, sealedText, withHead } from './sealed.ts';

const BEGIN = '{"contents":"lutewatch-backup","record":"begin","version":1}\n';
const deep = (count: number): string => '['.repeat(count) + ']'.repeat(count);

/** The whole text of a backup: these lines between begin and end, with the sum that fits them. */
function textOf(lines: readonly string[], counts: object): string {
  const sum = new LineSum();
  for (const line of lines) sum.add(`${line}\n`);
  const all = { cases: 0, entries: 0, documents: 0, tombstones: 0, ...counts };
  const end = canonicalText({ record: 'end', counts: all, sha256: sum.hex() });
  return `${BEGIN}${lines.map((line) => `${line}\n`).join('')}${end}\n`;
}

async function refusal(file: Blob): Promise<Problem> {
  const restored = await restoreBackup({
    ...(await emptyJournal()),
    crypto: quickCrypto().crypto,
    file,
    passphrase,
  });
  if (restored.ok) throw new Error('restored');
  expect(problemLine(restored.error)).not.toMatch(/\n|\[object|call stack/);
  return restored.error;
}

describe('the lines of a backup', () => {
  async function openMs(length: number): Promise<number> {
    const file = await sealedText('x'.repeat(length));
    const { crypto } = quickCrypto();
    const opened = await unlockFile(crypto, { file, passphrase });
    const beganMs = performance.now();
    for await (const line of openLines(crypto, opened)) expect(line).toHaveLength(length);
    return performance.now() - beganMs;
  }

  it('cost time in proportion to their length', async () => {
    const lengths = [500_000, 4_000_000] as const;
    const best = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
    for (let round = 0; round < 3; round += 1) {
      for (const [at, length] of lengths.entries()) {
        best[at] = Math.min(best[at] ?? 0, await openMs(length));
      }
    }
    // Eight times the length: eight times the time when it is in proportion, 64 times by the square.
    expect((best[1] ?? 0) / (best[0] ?? 1)).toBeLessThan(24);
  });

  it('are refused above their length, without being read to their end', async () => {
    const part = 'x'.repeat(1_000_000);
    const parts = Array.from({ length: BACKUP_LINE_LENGTH_MAX / 1_000_000 + 1 }, () => part);
    expect(problemLine(await refusal(await sealedText(BEGIN, ...parts)))).toBe(
      'backup: expected lines of at most 32 MB, got "more in line 2"',
    );
  });

  it('keep what stands between line feeds, wherever the pieces are cut', async () => {
    const lines = Array.from({ length: 3000 }, (_, n) => 'é漢\u{1f9b7}x'.repeat(n % 40));
    const file = await sealedText(lines.map((line) => `${line}\n`).join(''), 'last');
    const { crypto } = quickCrypto();
    const read: string[] = [];
    const opened = await unlockFile(crypto, { file, passphrase });
    for await (const line of openLines(crypto, opened)) read.push(line);
    expect(read).toEqual([...lines, 'last']);
  });

  it.each([101, 100_000])('are refused when they nest %i deep', async (depth) => {
    const apart = `{"caseId":"a","content":${deep(depth)},"record":"apart"}`;
    expect((await refusal(await sealedText(textOf([apart], {})))).came).toBe(
      '"line 2 is not nested at most 100 deep"',
    );
  });

  it('are refused with half a character in what was set apart or in a document', async () => {
    const document = { kind: 'k', id: 'i', version: 1, epoch: 0, value: 'VALUE' };
    for (const line of [
      '{"caseId":"a","content":"\\ud800","record":"apart"}',
      canonicalText({ record: 'document', body: document }).replace('VALUE', '\\ud800'),
    ]) {
      const refused = await refusal(await sealedText(textOf([line], { documents: 1 })));
      expect(refused.came).toMatch(/^"line 2 is not /);
    }
  });

  it('are refused when a case has more entries than any case has', async () => {
    const { journal } = await filledJournal({ cases: 2, presses: 3 });
    const lines: string[] = [];
    for await (const line of backupLines(journal)) lines.push(line.trimEnd());
    async function* streamed(): AsyncGenerator<string> {
      yield* lines;
    }
    const counts = await checkLines(streamed());
    const most = Math.max(...lines.map((line) => Number(/"seq":(\d+)/.exec(line)?.[1] ?? 0))) + 1;
    expect(await checkLines(streamed(), { caseEntriesMax: most })).toEqual(counts);
    await expect(checkLines(streamed(), { caseEntriesMax: most - 1 })).rejects.toMatchObject({
      problem: { came: expect.stringContaining(`more than ${most - 1} entries`) },
    });
  });
});

describe('the first line of a backup', () => {
  let file: Blob;

  beforeAll(async () => {
    file = await sealedText(textOf([], {}));
  });

  it.each([
    ['more rounds of key derivation than are ever written', { iterations: KEY_ITERATIONS_MAX + 1 }],
    ['a tenth of a round', { iterations: 0.1 }],
    ['salt of another length', { salt: 'AAAA' }],
    ['salt that is no base64', { salt: 'A===' }],
    ['another length of the nonce', { noncePrefix: 'AAAAAAAAAAAAAAAA' }],
    ['a check that ends in other bits', { check: 'AAAAAAAAAAB=' }],
    ['chunks of a gigabyte', { chunkBytes: 2 ** 30 }],
  ])('is refused with %s before a key is derived', async (_, change) => {
    const { crypto, asked } = quickCrypto();
    const restored = await restoreBackup({
      ...(await emptyJournal()),
      crypto,
      file: await withHead(file, change),
      passphrase,
    });
    expect(restored).toMatchObject({ ok: false, error: { code: 'backup-altered' } });
    expect(asked).toEqual([]);
  });

  it('may ask for more rounds than are written today', async () => {
    const { crypto, asked } = quickCrypto();
    const other = await withHead(file, { iterations: 1_200_000 });
    // The head is bound to the contents, so that another number of rounds opens nothing.
    await restoreBackup({ ...(await emptyJournal()), crypto, file: other, passphrase });
    expect(asked).toEqual([1_200_000]);
  });
});

describe('a journal', () => {
  const good = journalJson({ caseId: 'case-1', entries: entriesOf(finished().log.records) });

  it('with a key said twice and nesting behind it is refused or kept up to there', () => {
    const lines = good.split('\n');
    const hurt = lines.map((line, n) =>
      n === 3 ? line.replace('{', `{"by":"x","by":${deep(100_000)},`) : line,
    );
    const parsed = parseJournal(hurt.join('\n'), { verify: verifyChain });
    if (!parsed.ok) throw new Error(parsed.error.map(problemLine).join('\n'));
    expect(parsed.value.entries).toHaveLength(2);
    expect(parsed.value.problems.map(problemLine).join('\n')).not.toMatch(/\[object|call stack/);
  });

  it('of more entries than any case has is refused before the first is looked at', () => {
    const entries = Array.from({ length: CASE_ENTRIES_MAX + 1 }, () => 0);
    const head = { format: 'lutewatch-journal', formatVersion: 1, caseId: 'a' };
    const read = (some: readonly number[]) =>
      parseJournal(JSON.stringify({ ...head, entries: some }), { verify: verifyChain });
    const refused = read(entries);
    expect(refused.ok ? [] : refused.error.map(problemLine)).toEqual([
      'journal.entries: expected at most 50000 entries, got a list of 50001',
    ]);
    expect(read(entries.slice(1)).ok).toBe(true);
  });

  it('in a file of many that nests too deep throws nothing', () => {
    const many = `\n{"format":"lutewatch-journals","journals":[${deep(100_000)}]}`;
    expect(journalsIn(many)).toBeNull();
  });

  it('in the private file is an unreadable line when it nests too deep', () => {
    const line = `{"body":${deep(100_000)},"record":"document","sum":"x"}\n`;
    const { records, unreadable } = readLines(new TextEncoder().encode(line));
    expect(records).toEqual([]);
    expect(unreadable.map((u) => u.reason)).toEqual(['not-json']);
  });
});

describe('other doors', () => {
  it('an entry of the lead’s log with half a character is one break', () => {
    const entry = {
      seq: 0,
      atWallMs: 0,
      by: '\ud800',
      deed: 'opened',
      values: {},
      prev: NO_ENTRY_HASH,
    };
    const log = verifyLeadLog([{ ...entry, hash: 'a'.repeat(64) }]);
    expect(log).toMatchObject({ entries: [], broken: 1 });
  });

  it('a file of another clinic is not read when it is too large, and told when it is gone', async () => {
    const line = async (file: Blob): Promise<string> => {
      const text = await pickedText(file);
      return text.ok ? text.value : problemLine(text.error);
    };
    const large = new Blob(['x']);
    Object.defineProperty(large, 'size', { value: 3 * TEXT_LENGTH_MAX + 1 });
    Object.defineProperty(large, 'text', { value: () => Promise.reject(new Error('was read')) });
    expect(await line(large)).toBe('file: expected a file of at most 2 MB, got 6.0 MB');
    const gone = new Blob(['x']);
    const cause = new DOMException('gone', 'NotReadableError');
    Object.defineProperty(gone, 'text', { value: () => Promise.reject(cause) });
    expect(await line(gone)).toBe('file: expected a file that can be read, got "NotReadableError"');
    expect(await line(new Blob(['x']))).toBe('x');
  });

  it('a label is read up to its length', () => {
    const read = (text: string) => readDeviceLabel({ text, presentYear: 2026 }).faults;
    expect(read('+'.padEnd(LABEL_LENGTH_MAX + 1, '1'))).toEqual([
      { code: 'too-long', max: LABEL_LENGTH_MAX },
    ]);
    expect(read('+'.padEnd(LABEL_LENGTH_MAX, '1'))).not.toContainEqual(
      expect.objectContaining({ code: 'too-long' }),
    );
  });
});

describe('the command line', () => {
  let folder: string;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'caps-'));
  });

  afterAll(() => rm(folder, { recursive: true }));

  async function refused(...args: readonly string[]): Promise<string> {
    let errors = '';
    const code = await main(args, {
      readFile: readFileUpTo,
      stdout: () => undefined,
      stderr: (words) => {
        errors += words;
      },
    });
    expect(code).toBe(2);
    expect(errors.trimEnd()).not.toContain('\n');
    return errors.trimEnd();
  }

  it.each([['check'], ['plan'], ['rehearse', 'script.json']])(
    'does not read a file for %s to its end when it has none',
    async (verb, ...more) => {
      expect(await refused(verb, '/dev/zero', ...more)).toBe(
        'file: expected a file of at most 2 MB, got more',
      );
    },
  );

  it('reads every file whose text is short enough, whatever its bytes', async () => {
    const path = join(folder, 'wide.json');
    await writeFile(path, '漢'.repeat(TEXT_LENGTH_MAX));
    expect(await readFileUpTo(path, TEXT_LENGTH_MAX)).toHaveLength(TEXT_LENGTH_MAX);
    await expect(readFileUpTo(path, TEXT_LENGTH_MAX - 1)).rejects.toThrow();
  });

  it('shows the beginning of a path that nobody can read', async () => {
    const line = await refused('check', 'x'.repeat(100_000));
    expect(line.length).toBeLessThan(300);
  });

  it('says of a folder and of a path with a zero what they are', async () => {
    expect(await refused('check', folder)).toMatch(/, got "EISDIR"$/);
    expect(await refused('check', 'a\u0000b')).toMatch(
      /at a\\u0000b, got "ERR_INVALID_ARG_VALUE"$/,
    );
  });
});
