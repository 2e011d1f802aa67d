import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { problemLine } from '../../src/base/problem.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { parseProtocolText } from '../../src/protocol/parse-text.ts';
import { runSize } from '../tools/run-size.ts';
import { drop, type Json, json, mutationsOf, put, templateText } from './documents.ts';

const template = json(templateText());
const step = (index: number, ...rest: (string | number)[]) => ['steps', index, ...rest];

const indexOf = (id: string): number => {
  const parsed = parseProtocol(template);
  return parsed.ok ? parsed.value.steps.findIndex((each) => each.id === id) : -1;
};
/** A dwell with all its times, and a choice before which something is read aloud. */
const ACID = indexOf('acid');
const PRIME_AGAIN = indexOf('prime-again');

const linesOf = (value: unknown): readonly string[] => {
  const parsed = parseProtocol(value);
  return parsed.ok ? [] : parsed.error.map(problemLine);
};

const basis = { kind: 'practice' };

describe('parseProtocol', () => {
  it.each<[string, Json, string]>([
    [
      'a duration in words',
      put(template, step(ACID, 'action', 'targetMs', 'value'), '20s'),
      `protocol.steps[${ACID}].action.targetMs.value: expected a whole number above 0, got "20s"`,
    ],
    [
      'a duration of nothing',
      put(template, step(ACID, 'action', 'minMs', 'value'), 0),
      `protocol.steps[${ACID}].action.minMs.value: expected a whole number above 0, got 0`,
    ],
    [
      'a bare number without its basis',
      put(template, step(ACID, 'action', 'targetMs'), 20000),
      `protocol.steps[${ACID}].action.targetMs: expected a figure { value, basis } in milliseconds, got 20000`,
    ],
    [
      'a missing basis',
      drop(template, step(ACID, 'action', 'targetMs', 'basis')),
      `protocol.steps[${ACID}].action.targetMs.basis: expected a basis of kind "instructions", "published" or "practice", got nothing`,
    ],
    [
      'an unknown key',
      put(template, step(ACID, 'action', 'maxMS'), 5),
      `protocol.steps[${ACID}].action.maxMS: expected no such key, got 5`,
    ],
    [
      'a list where an object belongs',
      put(template, step(ACID, 'pace'), []),
      `protocol.steps[${ACID}].pace: expected an object, got an empty list`,
    ],
    [
      'an empty list where an object may be empty',
      put(template, step(0, 'words'), []),
      'protocol.steps[0].words: expected an object, got an empty list',
    ],
    [
      'a class of material that is no name',
      put(template, step(ACID, 'action', 'byMaterial'), JSON.parse('{"__proto__":{}}')),
      `protocol.steps[${ACID}].action.byMaterial.__proto__: expected no such key, got an object`,
    ],
    [
      'an object where a list belongs',
      put(template, ['windows'], {}),
      'protocol.windows: expected a list of windows, got an object',
    ],
    [
      'a kind that does not exist',
      put(template, step(ACID, 'action', 'kind'), 'soak'),
      `protocol.steps[${ACID}].action.kind: expected an action of kind "confirm", "dwell", "coats", "expose", "tally" or "choose", got "soak"`,
    ],
    [
      'what is read aloud before a choice, without its kind',
      drop(template, step(PRIME_AGAIN, 'action', 'evidence', 'kind')),
      `protocol.steps[${PRIME_AGAIN}].action.evidence.kind: expected "read-back", got nothing`,
    ],
    [
      'a day that no calendar has',
      put(template, step(ACID, 'action', 'targetMs', 'basis'), {
        kind: 'instructions',
        document: 'leaflet',
        revision: '2',
        confirmedBy: 'C',
        confirmedOn: '2026-02-30',
      }),
      `protocol.steps[${ACID}].action.targetMs.basis.confirmedOn: expected a day of the calendar, got "2026-02-30"`,
    ],
    [
      'a number',
      5,
      'protocol: expected a protocol document, an object with "format": "lutewatch-protocol", got 5',
    ],
    ['a list', [1, 2], 'protocol: expected an object, got a list of 2'],
    [
      'a document of another kind',
      { format: 'lutewatch-case', units: [] },
      'protocol.format: expected "lutewatch-protocol", got "lutewatch-case"',
    ],
    [
      'a later format',
      put(template, ['formatVersion'], 2),
      'protocol.formatVersion: expected the number 1, got 2',
    ],
  ])('names the place of %s', (_, document, line) => {
    expect(linesOf(document)[0]).toBe(line);
  });

  it('tells one problem for each fault, misspelt keys last', () => {
    const noTitle = drop(template, step(2, 'title'));
    const lines = linesOf(put(put(noTitle, step(2, 'titel'), 'x'), step(0, 'by'), 'nurse'));
    expect(lines.map((line) => line.split(':')[0])).toEqual([
      'protocol.steps[0].by',
      'protocol.steps[2].title',
      'protocol.steps[2].titel',
    ]);
  });

  it('stops at twenty problems', () => {
    const steps = Array.from({ length: 300 }, () => ({ id: 'X' }));
    expect(linesOf(put(template, ['steps'], steps))).toHaveLength(20);
  });

  it('returns a frozen copy and leaves what it was given alone', () => {
    const given = structuredClone(template);
    const parsed = parseProtocol(given);
    expect(parsed.ok && Object.isFrozen(parsed.value.steps[ACID]?.action)).toBe(true);
    expect(parsed.ok && structuredClone(parsed.value)).toEqual(template);
    expect(given).toEqual(template);
    expect(Object.isFrozen(given)).toBe(false);
  });

  it('keeps a figure confirmed from product instructions whole', () => {
    const confirmed = {
      kind: 'instructions',
      document: 'leaflet',
      revision: '2024-05',
      page: '3',
      asWritten: 'Leave for 20 seconds.',
      confirmedBy: 'C',
      confirmedOn: '2026-11-25',
      reviewDue: '2028-02-29',
    };
    const parsed = parseProtocol(
      put(template, step(ACID, 'action', 'targetMs', 'basis'), confirmed),
    );
    const action = parsed.ok ? parsed.value.steps[ACID]?.action : null;
    expect(action?.kind === 'dwell' && action.targetMs.basis).toEqual(confirmed);
  });

  const CHANGED = runSize({ long: 2000, part: 600 });

  it(`survives ${CHANGED} changed documents, and every refusal names a place inside the document`, () => {
    fc.assert(
      fc.property(mutationsOf(template), (changed) => {
        const parsed = parseProtocol(changed);
        if (parsed.ok) return;
        expect(parsed.error.length).toBeGreaterThan(0);
        expect(parsed.error.length).toBeLessThanOrEqual(20);
        for (const problem of parsed.error) {
          expect(problem.place).toMatch(/^protocol(\.|\[|$)/);
          expect(problemLine(problem)).not.toMatch(/undefined|\[object|\n/);
        }
      }),
      { numRuns: CHANGED },
    );
  }, 60_000);

  it('survives anything at all', () => {
    fc.assert(
      fc.property(fc.anything({ withBigInt: true, withDate: true, withMap: true }), (value) => {
        expect(parseProtocol(value).ok).toBe(false);
      }),
      { numRuns: 500 },
    );
  });

  it('takes no key from the prototype of an object', () => {
    const parsed = parseProtocol(
      json('{"format":"lutewatch-protocol","formatVersion":1,"__proto__":{"id":"x"}}'),
    );
    expect(parsed.ok).toBe(false);
    expect(Object.hasOwn(Object.prototype, 'id')).toBe(false);
  });

  it('accepts both forms of a condition and refuses a mixture', () => {
    const withDoors = (onlyIf: Json) => linesOf(put(template, step(13, 'onlyIf'), onlyIf));
    expect(withDoors([{ step: 'shade', option: 'again' }, { wayBack: 'etch-short' }])).toEqual([]);
    expect(withDoors([{ step: 'shade', wayBack: 'etch-short' }])[0]).toBe(
      'protocol.steps[13].onlyIf[0]: expected either { step, option } or { wayBack, voided? }, got an object',
    );
  });

  it('accepts a dose without a product time, with decimals', () => {
    const action = {
      kind: 'expose',
      surfaces: ['facial'],
      doseJPerCm2: { value: 16.5, basis },
      walk: 'by-unit',
    };
    expect(linesOf(put(template, step(ACID, 'action'), action))).toEqual([]);
  });
});

describe('parseProtocolText', () => {
  it.each([
    ['{"format": tru}', 'protocol, line 1, column 12: expected a JSON value, got "tru}"'],
    ['{\n  "a": 1,\n}', 'protocol, line 3, column 1: expected a key in double quotes, got "}"'],
    ['{\n  "a" 1}', 'protocol, line 2, column 7: expected a colon, got "1}"'],
    ['[1 2]', 'protocol, line 1, column 4: expected a comma or the closing bracket, got "2]"'],
    ['{"a": 01}', 'protocol, line 1, column 8: expected a comma or the closing bracket, got "1}"'],
    ['{} {}', 'protocol, line 1, column 4: expected nothing more, got "{}"'],
    ['', 'protocol, line 1, column 1: expected a JSON value, got the end of the file'],
  ])('tells line and column of what is not JSON: %j', (text, line) => {
    const parsed = parseProtocolText(text);
    expect(parsed.ok ? [] : parsed.error.map(problemLine)).toEqual([line]);
  });

  it('answers a file cut off anywhere with exactly one problem', () => {
    const text = templateText().trimEnd();
    fc.assert(
      fc.property(fc.integer({ min: 0, max: text.length - 1 }), (length) => {
        const parsed = parseProtocolText(text.slice(0, length));
        expect(parsed.ok ? [] : parsed.error.map((problem) => problem.code)).toEqual(['not-json']);
      }),
      { numRuns: 200 },
    );
  });

  it('answers ten megabytes of noise with one short problem', () => {
    const parsed = parseProtocolText('\u0000{"'.repeat(3_400_000));
    expect(parsed.ok ? [] : parsed.error.map(problemLine)).toEqual([
      'protocol: expected a file of at most 2 MB, got 10.2 MB',
    ]);
  });

  it.each([
    ['nested beyond reason', '['.repeat(1_900_000)],
    ['one endless string', `"${'a'.repeat(1_900_000)}`],
    ['one endless number', '1'.repeat(1_900_000)],
    ['nested and closed', '['.repeat(900_000) + ']'.repeat(900_000)],
  ])('does not run out of stack on noise that is %s', (_, text) => {
    const parsed = parseProtocolText(text);
    expect(parsed.ok ? 0 : parsed.error.length).toBe(1);
  });

  it('reads past a byte order mark', () => {
    expect(parseProtocolText(`\ufeff${templateText()}`).ok).toBe(true);
  });
});
