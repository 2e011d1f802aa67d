/** The pictures and tables of a protocol. Every number of the document must be shown with its basis. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseProtocolText } from '../../src/protocol/parse-text.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import {
  actionFigures,
  paceFigures,
  sequenceOf,
  windowFigures,
} from '../../src/ui/shared/protocol-model.ts';

const text = readFileSync(
  new URL(
    '../../shared/protocols/thin-veneers-separate-bottle-etch-and-rinse.json',
    import.meta.url,
  ),
  'utf8',
);

function template(): Protocol {
  const parsed = parseProtocolText(text);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

describe('the numbers of a protocol', () => {
  it('are all shown, each with where it is from', () => {
    const protocol = template();
    const shown = [
      ...protocol.steps.flatMap((s) => [
        ...actionFigures(s, protocol.sources),
        ...paceFigures(s, protocol.sources),
      ]),
      ...protocol.windows.flatMap((w) => windowFigures(w, protocol.sources)),
    ];
    // A way back has a basis but no value, so every pair of the two keys is one number.
    const inDocument = text.match(/"value":\s*[\d.]+/g) ?? [];
    expect(shown).toHaveLength(inDocument.length);
    expect(shown.filter((f) => f.basisKind === '' || f.basisLine === '')).toEqual([]);
  });

  it('cite a publication in full, not by its key', () => {
    const protocol = template();
    const ids = new Set(protocol.sources.map((s) => s.id));
    const lines = protocol.steps
      .flatMap((s) => actionFigures(s, protocol.sources))
      .map((f) => f.basisLine);
    expect(lines.filter((line) => ids.has(line))).toEqual([]);
    expect(lines.some((line) => line.includes('Operative Dentistry'))).toBe(true);
  });
});

describe('the sequence', () => {
  it('has a line for every step, in the order of the document', () => {
    const protocol = template();
    const lines = sequenceOf(protocol).stages.flatMap((s) => s.rows);
    expect(lines.map((r) => r.step.id)).toEqual(protocol.steps.map((s) => s.id));
    expect(lines.every((r, i) => i === 0 || r.line > (lines[i - 1]?.line ?? 0))).toBe(true);
  });

  it('never lets two windows of one lane overlap', () => {
    const { windows } = sequenceOf(template());
    for (const a of windows) {
      for (const b of windows) {
        if (a === b || a.lane !== b.lane) continue;
        expect(a.toLine < b.fromLine || b.toLine < a.fromLine).toBe(true);
      }
    }
  });
});
