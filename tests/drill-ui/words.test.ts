/** What drills say is read for blame, promise and cause. The list of words is of this project, no source. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

const NEVER =
  /\b(errors?|mistakes?|fail(s|ed|ures?)?|faults?|blam\w+|too (slow|late)|bad(ly)?|poor(ly)?|competent|safer?|better|guarantee\w*|proves?|because|caused?|cured|adequate)\b/i;

/** Every literal of a file of words, without its comments. */
function literals(file: string): readonly string[] {
  const code = readFileSync(file, 'utf8').replaceAll(/\/\*[\s\S]*?\*\/|^\s*\/\/.*$/gm, '');
  return [...code.matchAll(/'([^'\n]*)'|`([^`]*)`/g)].map(([, a, b]) => a ?? b ?? '');
}

test.each(['drill', 'drill-sight'])('no word of it in %s', (topic) => {
  const found = literals(`src/words/en/${topic}.ts`);
  expect(found.length).toBeGreaterThan(20);
  expect(found.filter((words) => NEVER.test(words))).toEqual([]);
  // The check itself finds one.
  expect(NEVER.test('You failed to see it.')).toBe(true);
});
