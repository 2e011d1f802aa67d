/** The factor by which a warm room shortens a working time: read, kept in bounds, and offered to the lead. */
import { describe, expect, it } from 'vitest';
import { figuresOf } from '../../src/protocol/edit-types.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { readEntry, shownValue, windowRow } from '../../src/ui/lead/editor/editor-model.ts';
import { SMALL_WHOLE } from '../engine/fixture.ts';
import { firstTemplate } from '../plan/documents.ts';

const factor = (value: number) => ({ value, basis: { kind: 'practice' } }) as const;
const withFactor = (value: number) => ({
  ...SMALL_WHOLE,
  windows: SMALL_WHOLE.windows.map((w) =>
    w.protects === 'working' ? { ...w, q10: factor(value) } : w,
  ),
});

describe('in a protocol document', () => {
  it('is a number from 1 to 10: below 1 a warm room would lengthen the time', () => {
    const read = parseProtocol(withFactor(2.5));
    expect(read.ok && read.value.windows.some((w) => w.q10?.value === 2.5)).toBe(true);
    for (const value of [0.5, 11, -2]) {
      const refused = parseProtocol(withFactor(value));
      expect(refused).toMatchObject({
        ok: false,
        error: [{ expected: 'a number from 1 to 10', came: String(value) }],
      });
    }
  });

  it('is an assumption about the room, so no instruction is asked for it', () => {
    const found = figuresOf(withFactor(2.5)).filter((f) => f.spot.key === 'q10');
    expect(found.map((f) => f.binds)).toEqual([false]);
  });
});

describe('on the plan', () => {
  it('is offered for the working time of a mix and for nothing else', () => {
    // Only what runs from a mix is shortened by the room; an adhesive's own time is not.
    const protocol = firstTemplate();
    const offered = protocol.windows.filter((w) =>
      windowRow(w, protocol).max.some((cell) => cell.spot.key === 'q10'),
    );
    expect(offered.map((w) => w.id)).toEqual(['cement-open']);
    expect(protocol.windows.filter((w) => w.protects === 'working').length).toBeGreaterThan(1);
  });

  it.each([
    ['2,5', true],
    ['1', true],
    ['0.9', false],
    ['10.1', false],
    ['two', false],
  ])('%s is taken: %s', (text, isTaken) => {
    expect(readEntry('q10', text).ok).toBe(isTaken);
  });

  it('is shown as the plain number it is', () => {
    expect(shownValue('q10', 2.5)).toBe('2.5');
  });
});
