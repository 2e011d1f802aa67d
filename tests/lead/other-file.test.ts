import { describe, expect, it } from 'vitest';
import { parseProtocolFileText } from '../../src/runtime/lead/lead-protocol-file.ts';
import { leadProblemWords } from '../../src/words/lead-words.ts';

function wordsFor(text: string): string {
  const parsed = parseProtocolFileText(text);
  return parsed.ok ? '' : leadProblemWords(parsed.error);
}

const OTHER_FILE = /^This is not a protocol file that a desk exported\. /;

describe('a file that another clinic is said to have sent', () => {
  it.each([
    ['a picture', '\u0089PNG\u0000\u0001'],
    ['another document', '{"format":"lutewatch-case"}'],
    ['a document of no kind', '{"a":1}'],
    ['a list', '[1]'],
    ['nothing', ''],
  ])('says in words that %s is none, and where it shows', (_what, text) => {
    expect(wordsFor(text)).toMatch(OTHER_FILE);
    expect(wordsFor(text)).toMatch(/file.*: expected/);
  });

  it('says only what is wrong where it is a protocol file', () => {
    const words = wordsFor('{"format":"lutewatch-protocol-file","formatVersion":1}');
    expect(words).not.toBe('');
    expect(words).not.toMatch(OTHER_FILE);
  });
});
