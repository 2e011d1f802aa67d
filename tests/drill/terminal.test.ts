/** `rehearse CASE --drill SEED` from the terminal. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { main } from '../../src/cli/main.ts';
import type { Io } from '../../src/cli/output.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

const CASE = 'demo-data/cases/two-veneers.json';

async function terminal(...args: string[]) {
  let out = '';
  let error = '';
  const io: Io = {
    readFile: (path) => readFile(join(ROOT, path), 'utf8'),
    stdout: (text: string) => {
      out += text;
    },
    stderr: (text: string) => {
      error += text;
    },
  };
  const code = await main(['rehearse', ...args], io);
  return { code, out, error };
}

test('the same seed plays the same ideal run, and nobody could do better', async () => {
  const first = await terminal(CASE, '--drill', '12');
  expect(first).toEqual(await terminal(CASE, '--drill', '12'));
  expect(first.code).toBe(0);
  expect(first.out).toContain('Drill of two-veneers, seed 12');
  expect(first.out).toMatch(/right way back, right subjects, first time: (\d+) of \1\n/);
  expect(first.out).toContain('limits broken beyond the ideal run: 0');
  // What is seen is told; the mishap is not named in it.
  expect(first.out).toMatch(/goes wrong: .*11|21/);
  const other = await terminal(CASE, '--drill', '13');
  expect(other.out).not.toBe(first.out);
});

test('as JSON, with the card, its time and its answer', async () => {
  const { out } = await terminal(CASE, '--drill', '12', '--json');
  const told = JSON.parse(out);
  expect(told.seed).toBe(12);
  for (const { card, firstRightMs } of told.score.cards) {
    const own = told.cards.find((c: { id: string }) => c.id === card);
    expect(own.shownAtMs).toBeGreaterThanOrEqual(told.beginsAtMs);
    if (own.kind === 'mishap') expect(firstRightMs).toBe(0);
  }
});

test.each([
  [[CASE, '--drill'], 'rehearse --drill: expected a whole number from 0 to 2147483647'],
  [[CASE, '--drill', '-4'], 'rehearse --drill: expected a whole number from 0 to 2147483647'],
  [[CASE, '--drill', '1.5'], 'rehearse --drill: expected a whole number from 0 to 2147483647'],
  [[CASE, '--drill', '1', '--toward', 'flood'], 'rehearse --toward: expected some of saliva,'],
  [['--drill', '1'], 'rehearse --drill: expected one case file, and no script'],
  [[CASE, 'x.json', '--drill', '1'], 'rehearse --drill: expected one case file, and no script'],
  [
    [CASE, '--drill', '1', '--loud'],
    'rehearse: expected one of --drill, --toward, --protocol, --json',
  ],
])('%j is refused in one line', async (args, line) => {
  const { code, out, error } = await terminal(...args);
  expect({ code, out }).toEqual({ code: 2, out: '' });
  expect(error).toContain(line);
  expect(error.trimEnd().split('\n')).toHaveLength(1);
});
