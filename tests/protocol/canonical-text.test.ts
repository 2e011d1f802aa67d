/** The text of a value is the one that RFC 8785 prescribes, whoever writes it. */
import canonicalize from 'canonicalize';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalText, isStorable } from '../../src/protocol/canonical-text.ts';
import { templateText } from './documents.ts';

/** What the library says: its text, or that it has none. */
function byLibrary(value: unknown): string | null {
  try {
    return canonicalize(value) ?? null;
  } catch {
    return null;
  }
}

function own(value: unknown): string | null {
  try {
    return canonicalText(value);
  } catch {
    return null;
  }
}

const keys = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 4 }),
  fc.constantFrom('10', '9', '1', '-1', '01', 'a\nb', 'a', 'b', '\ud800', 'é', '\u{1f9b7}', ''),
  fc.constantFrom('__proto__', 'toJSON', 'constructor', '4294967295', '4294967294'),
);

const values = fc.letrec((tie) => ({
  any: fc.oneof(
    { maxDepth: 5 },
    fc.constantFrom(null, true, -0, 1e21, 1e-7, 0.1 + 0.2, Number.NaN, Number.POSITIVE_INFINITY),
    fc.double(),
    fc.string({ unit: 'binary' }),
    fc.constantFrom('\ud800', '\\ud800', '\u2028', undefined, new Date(0)),
    fc.array(tie('any'), { maxLength: 5 }),
    fc.array(fc.tuple(keys, tie('any')), { maxLength: 6 }).map((all) => Object.fromEntries(all)),
  ),
}));

describe('the text of a value', () => {
  it('is the same as the library writes, or there is none', () => {
    fc.assert(
      fc.property(values.any, (value) => {
        expect(own(value)).toBe(byLibrary(value));
      }),
      { numRuns: 3000 },
    );
  });

  // RFC 8785, section 3.2.3: the example of sorting.
  it('has keys in the order of their UTF-16 code units', () => {
    const example = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '1': 'One',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
    };
    expect(Object.values<string>(JSON.parse(canonicalText({ at: example })).at)).toHaveLength(7);
    expect(canonicalText(example)).toBe(
      '{"\\r":"Carriage Return","1":"One","\u0080":"Control","ö":"Latin Small Letter O With Diaeresis",' +
        '"€":"Euro Sign","\u{1f600}":"Emoji: Grinning Face","\ufb33":"Hebrew Letter Dalet With Dagesh"}',
    );
  });

  it('of objects with the same keys in other words is never mixed up', () => {
    for (const value of [
      { b: 1, a: 2 },
      { 'b\na': 1 },
      { c: 1, 'b\na': 2 },
      { c: 1, b: 2, a: 3 },
    ]) {
      expect(canonicalText(value)).toBe(canonicalize(value));
    }
  });

  it('leaves what it was given as it was', () => {
    const before = templateText();
    const value: unknown = JSON.parse(before);
    const whole = JSON.stringify(value);
    expect(canonicalText(value)).toBe(canonicalize(value));
    expect(JSON.stringify(value)).toBe(whole);
  });

  it('is none for a circle and for what nests without end', () => {
    const circle: Record<string, unknown> = { b: 1, a: 2 };
    circle['self'] = circle;
    expect(isStorable(circle)).toBe(false);
    const deep: unknown = JSON.parse('['.repeat(100_000) + ']'.repeat(100_000));
    expect(isStorable(deep)).toBe(false);
  });

  it('is written for what nests up to two hundred deep', () => {
    let value: unknown = { b: 1, a: 2 };
    for (let n = 0; n < 200; n += 1) value = { b: value, a: n };
    expect(canonicalText(value)).toBe(canonicalize(value));
  });
});
