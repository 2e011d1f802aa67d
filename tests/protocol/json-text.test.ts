import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseJsonText } from '../../src/protocol/json-text.ts';
import { caseText } from './documents.ts';

// Outside reference: the JavaScript engine's own JSON parser (ECMA-404) and, where its message
// gives one, its position.

const text = caseText('two-veneers');

function engine(source: string): { readonly isJson: boolean; readonly position: number | null } {
  try {
    JSON.parse(source);
    return { isJson: true, position: null };
  } catch (thrown) {
    const position = /at position (\d+)/.exec(String(thrown))?.[1];
    return { isJson: false, position: position === undefined ? null : Number(position) };
  }
}

const edits = fc
  .tuple(
    fc.integer({ min: 0, max: text.length - 1 }),
    fc.integer({ min: 0, max: 3 }),
    fc.constantFrom('', ',', ':', '"', '{', '}', '[', ']', '\\', 'e', '-', '0', ' ', '\n', 'null'),
  )
  .map(([at, cut, added]) => text.slice(0, at) + added + text.slice(at + cut));

describe('parseJsonText', () => {
  it('calls JSON what the engine calls JSON', () => {
    fc.assert(
      fc.property(edits, (source) => {
        const parsed = parseJsonText(source, 'file');
        // A key said twice and an unseen character are refused for themselves; what follows is not read.
        if (!parsed.ok && parsed.error.code !== 'not-json') return;
        expect(parsed.ok).toBe(engine(source).isJson);
      }),
      { numRuns: 2000, examples: [[text.replace('formatVersion', 'format"Version')]] },
    );
  });

  it('points where the engine points when a mark is missing', () => {
    const marks = [...text].flatMap((char, i) => (',:'.includes(char) ? [i] : []));
    let compared = 0;
    for (const at of marks) {
      const source = text.slice(0, at) + text.slice(at + 1);
      const { isJson, position } = engine(source);
      const parsed = parseJsonText(source, 'file');
      if (isJson || position === null || parsed.ok) continue;
      const before = source.slice(0, position);
      const line = before.split('\n').length;
      const column = position - before.lastIndexOf('\n');
      expect(parsed.error.place).toBe(`file, line ${line}, column ${column}`);
      compared += 1;
    }
    expect(compared).toBeGreaterThan(20);
  });
});
