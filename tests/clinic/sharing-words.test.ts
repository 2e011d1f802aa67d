/** Every code that sharing can end with has words, and a wrong line of the box is told by its number. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { problem } from '../../src/base/problem.ts';
import {
  pairProblemWords,
  sharingCodeWords,
  sharingProblemWords,
} from '../../src/words/sharing-words.ts';

const SRC = fileURLToPath(new URL('../../src/', import.meta.url));

/** Codes as the source names them: the members of a union of codes, and what is handed to a refusal. */
function codesIn(file: string, pattern: RegExp): readonly string[] {
  const text = readFileSync(join(SRC, file), 'utf8');
  return [...text.matchAll(pattern)].flatMap(([, code]) => code ?? []);
}

function unionIn(file: string, name: string): readonly string[] {
  const text = readFileSync(join(SRC, file), 'utf8');
  const [, body = ''] = new RegExp(`type ${name} =([^;]*);`).exec(text) ?? [];
  return [...body.replaceAll(/\/\*[\s\S]*?\*\//g, '').matchAll(/'([a-z-]+)'/g)].flatMap(
    ([, code]) => code ?? [],
  );
}

test('the store, the box, a pairing and the page itself', () => {
  const store = unionIn('sync/store-types.ts', 'StoreProblemCode');
  const box = unionIn('sync/box.ts', 'BoxProblemCode').filter((code) => code !== 'box-line');
  const sharer = unionIn('sync/sharer.ts', 'SharerProblem');
  const files = readdirSync(join(SRC, 'runtime/sharing')).map((name) => `runtime/sharing/${name}`);
  const refused = files.flatMap((file) => [
    ...codesIn(file, /refused\(\s*'([a-z-]+)'/g),
    ...codesIn(file, /problem: '([a-z-]+)'/g),
    ...codesIn(file, /problem\([^)]*'([a-z]+-[a-z-]+)'\)/g),
  ]);
  const codes = [...new Set([...store, ...box, ...sharer, ...refused])];
  expect(codes.length).toBeGreaterThan(20);
  expect(codes).toContain('no-store');
  expect(codes.filter((code) => sharingCodeWords(code).includes(`(${code})`))).toEqual([]);
});

test('a pairing', () => {
  const codes = unionIn('sync/pairing.ts', 'PairProblemCode');
  expect(codes).toContain('two-tablets');
  const all = [...codes, ...codesIn('runtime/sharing/pairing-runs.ts', /fail\('([a-z-]+)'\)/g)];
  expect(all.filter((code) => pairProblemWords(code).includes(`(${code})`))).toEqual([]);
});

test('names the line of the box, and place, expected and came where a code has no words', () => {
  expect(
    sharingProblemWords(problem('line 3', 'the line as it was printed', 'ABCD', 'box-line')),
  ).toBe('Text of the box, line 3: the line as it was printed expected, "ABCD" came.');
  expect(sharingProblemWords(problem('the door', 'a key', 3, 'never-heard'))).toBe(
    'Not done. At the door: expected a key, came 3.',
  );
  expect(sharingProblemWords(problem('x', 'y', 1, 'database-full'))).not.toMatch(/expected/);
});
