import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NESTING_MAX, TEXT_LENGTH_MAX } from '../../src/base/caps.ts';
import { problemLine } from '../../src/base/problem.ts';
import { parseJsonText } from '../../src/protocol/json-text.ts';
import { parseProtocolText } from '../../src/protocol/parse-text.ts';
import { templateText } from './documents.ts';

// Outside references: JSON.stringify and JSON.parse of the engine (ECMA-404); the Unicode Character
// Database for which characters are controls (general category Cc) and which turn the direction of
// text (property Bidi_Control, UAX #9): U+061C, 200E, 200F, 202A-202E and 2066-2069.

function lineOf(text: string, name = 'file'): string {
  const parsed = parseJsonText(text, name);
  return parsed.ok ? 'read' : problemLine(parsed.error);
}

describe('a key that is said twice', () => {
  it.each([
    [
      '{"a":1,"a":2}',
      'file, line 1, column 8: expected each key once, got "a" again (first on line 1, column 2)',
    ],
    [
      '{\n  "steps": [\n    { "id": "etch" },\n    { "id": "rinse",\n      "title": "R",\n      "id": "dry" }\n  ]\n}',
      'file.steps[1], line 6, column 7: expected each key once, got "id" again (first on line 4, column 7)',
    ],
    // The same key, once of them escaped.
    [
      '{"a\\u0062":1,"ab":2}',
      'file, line 1, column 14: expected each key once, got "ab" again (first on line 1, column 2)',
    ],
    [
      '{"__proto__":1,"__proto__":2}',
      'file, line 1, column 16: expected each key once, got "__proto__" again (first on line 1, column 2)',
    ],
    [
      '[{"x y":{"b":1,\r\n"b":2}}]',
      'file[0]["x y"], line 2, column 1: expected each key once, got "b" again (first on line 1, column 10)',
    ],
  ])('is refused with its place: %j', (text, line) => {
    expect(JSON.parse(text)).toBeDefined();
    expect(lineOf(text)).toBe(line);
    const parsed = parseJsonText(text, 'file');
    expect(parsed.ok ? '' : parsed.error.code).toBe('duplicate-key');
  });

  it('may stand in objects beside and inside each other', () => {
    const text = '{"a":{"a":[{"a":1},{"a":2}]},"b":{"a":3}}';
    expect(parseJsonText(text, 'file')).toEqual({ ok: true, value: JSON.parse(text) });
  });

  it('is refused in a protocol, by whatever value it has', () => {
    const text = templateText().replace('"steps":', '"title": "Other", "steps":');
    const parsed = parseProtocolText(text);
    expect(parsed.ok).toBe(false);
    if (parsed.ok) return;
    expect(parsed.error.map(problemLine)).toEqual([
      expect.stringMatching(
        /^protocol, line \d+, column \d+: expected each key once, got "title" /,
      ),
    ]);
  });

  it('is refused wherever it stands, and named', () => {
    const key = fc.oneof(fc.constantFrom('a', 'id', '__proto__', 'toString'), fc.string());
    fc.assert(
      fc.property(
        fc.array(fc.tuple(key, fc.jsonValue()), { maxLength: 5 }),
        key,
        fc.jsonValue(),
        fc.jsonValue(),
        fc.nat({ max: 5 }),
        (others, twice, one, two, depth) => {
          const member = ([k, value]: readonly [string, unknown]): string =>
            `${JSON.stringify(k)}:${JSON.stringify(value)}`;
          const distinct = new Map(others.filter(([k]) => k !== twice));
          const members = [[twice, one] as const, ...distinct, [twice, two] as const].map(member);
          const object = `{${members.join(', ')}}`;
          const text = '[0,{"in":'.repeat(depth) + object + '}]'.repeat(depth);
          const parsed = parseJsonText(text, 'file');
          if (parsed.ok) throw new Error(`read: ${text}`);
          // A key of control characters is refused for those; either way it has a place.
          if (parsed.error.code === 'unseen-character') return;
          expect(parsed.error.code).toBe('duplicate-key');
          expect(parsed.error.place).toMatch(/^file(\[1\]\.in)*, line 1, column \d+$/);
          expect(parsed.error.came).toContain(' again (first on line 1, column ');
          if (/^\w+$/.test(twice)) expect(parsed.error.came).toContain(`"${twice}" again`);
        },
      ),
      { numRuns: 1000 },
    );
  });
});

const isUnseen = (text: string): boolean =>
  [...text].some((char) => {
    const code = char.codePointAt(0) ?? 0;
    if (code === 0x0a || code === 0x09) return false;
    const isControl = code < 0x20 || (code >= 0x7f && code <= 0x9f);
    const turns =
      code === 0x061c ||
      (code >= 0x200e && code <= 0x200f) ||
      (code >= 0x202a && code <= 0x202e) ||
      (code >= 0x2066 && code <= 0x2069);
    return isControl || turns;
  });

function textsOf(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => [key, ...textsOf(inner)]);
}

describe('characters that nobody sees', () => {
  const CODES = [
    ...Array.from({ length: 0x20 }, (_, code) => code).filter((code) => code !== 9 && code !== 10),
    ...Array.from({ length: 0x21 }, (_, at) => 0x7f + at),
    ...[0x061c, 0x200e, 0x200f],
    ...[0x202a, 0x202b, 0x202c, 0x202d, 0x202e, 0x2066, 0x2067, 0x2068, 0x2069],
  ];
  const hex = (code: number): string => code.toString(16).padStart(4, '0');

  it('are refused in a value, written as an escape', () => {
    for (const code of CODES) {
      expect(lineOf(`{"a":[\n "x\\u${hex(code)}y"]}`)).toBe(
        `file.a[0], line 2, column 4: expected text without control or direction characters, got \\u${hex(code)}`,
      );
    }
  });

  it('are refused in a value as they are, and in a key', () => {
    for (const code of CODES.filter((each) => each >= 0x20)) {
      const char = String.fromCharCode(code);
      expect(lineOf(`{"a":"\\\\\\"${char}"}`)).toBe(
        `file.a, line 1, column 11: expected text without control or direction characters, got \\u${hex(code)}`,
      );
      expect(lineOf(`{"${char}":1}`)).toBe(
        `file, line 1, column 3: expected text without control or direction characters, got \\u${hex(code)}`,
      );
    }
  });

  it('are no JSON between the values, and are told as escapes', () => {
    expect(lineOf('{"a":\u202e1}')).toBe(
      'file, line 1, column 6: expected a JSON value, got "\\u202e1}"',
    );
    expect(lineOf('{"a":1}\u0000')).toMatch(/^file, line 1, column 8: .*got "\\u0000"$/);
  });

  it('leave line feeds, tabs and every other letter alone', () => {
    for (const text of ['a\nb\tc', 'é', 'שלום', '\u{1f9b7}', '\u200d', '\u00a0', '\ud800']) {
      const json = JSON.stringify({ text });
      expect(parseJsonText(json, 'file')).toEqual({ ok: true, value: { text } });
    }
    expect(parseJsonText('\ufeff{\r\n\t"a": 1\r\n}\r\n', 'file').ok).toBe(true);
  });
});

describe('any JSON value', () => {
  it('that the engine writes is read back equal, unless it holds what nobody sees', () => {
    fc.assert(
      fc.property(
        fc.jsonValue({ stringUnit: 'binary', maxDepth: 6 }),
        fc.constantFrom(undefined, 2),
        (value, indent) => {
          const text = JSON.stringify(value, null, indent);
          const parsed = parseJsonText(text, 'file');
          if (textsOf(value).some(isUnseen)) {
            expect(parsed.ok ? 'read' : parsed.error.code).toBe('unseen-character');
            return;
          }
          expect(parsed).toEqual({ ok: true, value: JSON.parse(text) });
        },
      ),
      { numRuns: 2000 },
    );
  });
});

describe('a document that asks for too much', () => {
  it.each([
    ['[', 'column 101'],
    ['{"a":', 'column 501'],
  ])('of 100,000 times %j is one line with its place', (open, column) => {
    const line = lineOf(open.repeat(100_000));
    expect(line).toMatch(new RegExp(`, line 1, ${column}: expected at most 100 brackets `));
    expect(line).toContain('inside each other, got more');
    expect(line).not.toContain('\n');
  });

  it('is read up to the last bracket that is allowed', () => {
    const nested = (depth: number): string => '['.repeat(depth) + ']'.repeat(depth);
    expect(parseJsonText(nested(NESTING_MAX), 'file').ok).toBe(true);
    expect(parseJsonText(nested(NESTING_MAX + 1), 'file').ok).toBe(false);
  });

  it('is too large above its length', () => {
    expect(lineOf(' '.repeat(TEXT_LENGTH_MAX + 1))).toBe(
      'file: expected a file of at most 2 MB, got 2.0 MB',
    );
  });

  it.each([
    ['one string', `"${'x'.repeat(TEXT_LENGTH_MAX - 2)}"`],
    ['escapes', `"${'\\n'.repeat(TEXT_LENGTH_MAX / 2 - 1)}"`],
    ['an unended string', `"${'x'.repeat(TEXT_LENGTH_MAX - 2)}`],
    ['a direction character at the end', `"${'\\n'.repeat(TEXT_LENGTH_MAX / 2 - 2)}\u202e"`],
    ['many keys', `{${Array.from({ length: 150_000 }, (_, n) => `"k${n}":1`).join(',')}}`],
    ['one key many times', `{${'"k":1,'.repeat(300_000)}"k":1}`],
    ['many empty lists', `[${'[],'.repeat(600_000)}[]]`],
  ])('on one line of 2 MB costs little time: %s', (_, text) => {
    const beganMs = performance.now();
    parseJsonText(text, 'file');
    // Quadratic work on two million characters takes minutes; this much is room for a busy machine.
    expect(performance.now() - beganMs).toBeLessThan(5000);
  });
});
