/** The box on paper: its lines as they are sealed, with the numbers that a wrong line is told by. */
import { webcrypto } from 'node:crypto';
import { expect, test } from 'vitest';
import { boxFromText, boxText } from '../../src/sync/box.ts';
import { boxLines } from '../../src/ui/clinic/tablets/box-lines.ts';

const random = (bytes: number) =>
  Buffer.from(webcrypto.getRandomValues(new Uint8Array(bytes))).toString('hex');

test('what stands on the sheet is the text of the box, and its numbers are those of the problems', () => {
  const text = boxText({ format: 'lutewatch-box', formatVersion: 1, sealed: random(700) });
  const lines = boxLines(text);
  expect(lines.map(({ line }) => line).join('\n')).toBe(text);
  expect(lines.map(({ at }) => at)).toEqual(lines.map((_, n) => n + 1));
  const [, , third] = lines;
  if (third === undefined) throw new Error('a box of three lines at least');
  const wrong = third.line.startsWith('0')
    ? third.line.replace('0', '1')
    : `0${third.line.slice(1)}`;
  const typed = lines.map(({ at, line }) => (at === 3 ? wrong : line)).join('\n');
  expect(boxFromText(typed)).toMatchObject({ ok: false, error: { code: 'box-line', line: 3 } });
});
