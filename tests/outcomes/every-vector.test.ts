/** No vector without a check: every id is named by a test beside this file, or by one of those below. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { vectorIds } from './vectors.ts';

const here = fileURLToPath(new URL('.', import.meta.url));

/** Checked where lives are derived. */
const LIVES = { id: 'visits-to-times', file: '../follow-up/lives.test.ts' };

test('every vector has a check', () => {
  const named = readdirSync(here)
    .filter((name) => name.endsWith('.test.ts'))
    .flatMap((name) => {
      const text = readFileSync(`${here}/${name}`, 'utf8');
      return [...text.matchAll(/\bvector<.*?>\(\s*'([a-z0-9-]+)',?\s*\)/gs)].map((hit) => hit[1]);
    });
  expect(vectorIds.length).toBe(45);
  expect(new Set(vectorIds).size).toBe(45);
  expect([...new Set([...named, LIVES.id])].toSorted()).toEqual(vectorIds.toSorted());
});

test(`${LIVES.id} is named where lives are derived`, () => {
  expect(readFileSync(`${here}/${LIVES.file}`, 'utf8')).toContain(`'${LIVES.id}'`);
});
