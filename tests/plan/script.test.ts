/** Scripts: how times are read, which documents are refused and with which line. */
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { problemLine } from '../../src/base/problem.ts';
import { parseScript, parseScriptText } from '../../src/plan/parse-script.ts';
import { clockText, scriptMs, TIME_PATTERN } from '../../src/plan/script-time.ts';
import { textOf } from './documents.ts';

const script = (...presses: object[]) => ({
  format: 'lutewatch-script',
  formatVersion: 1,
  presses,
});

const lineOf = (input: unknown): string => {
  const parsed = parseScript(input);
  return parsed.ok
    ? 'ok'
    : problemLine(parsed.error[0] ?? { code: '', place: '', expected: '', came: '' });
};

describe('a time in a script', () => {
  it.each([
    ['1:20', 80_000],
    ['0:05', 5000],
    ['1:02:03', 3_723_000],
    ['90:00', 5_400_000],
    ['1:20.5', 80_500],
    ['80 s', 80_000],
    ['80s', 80_000],
    ['1.5 min', 90_000],
    ['2 h', 7_200_000],
    ['250 ms', 250],
    [1234, 1234],
    ['-5 s', -5000],
    ['+0:30', 30_000],
  ])('%s is %d ms', (text, ms) => {
    expect(scriptMs(text)).toBe(ms);
  });

  it.each(['', '5', '1:60', '1:5', '5 sec', 's', '-5 s', '1:20 s', '1e3 s', ' 5 s', '5  s'])(
    '"%s" is none',
    (text) => {
      expect(TIME_PATTERN.test(text)).toBe(false);
    },
  );

  it('is written so that it can be read again', () => {
    fc.assert(
      fc.property(fc.nat(10 * 3_600_000), (ms) => {
        const text = clockText(ms);
        expect(TIME_PATTERN.test(text), text).toBe(true);
        expect(scriptMs(text)).toBe(ms);
      }),
    );
  });
});

describe('a script', () => {
  it.each(['follow-eight', 'two-veneers-with-slips'])('%s is read, here and outside', (name) => {
    // Outside reference: JSON Schema 2020-12 as the ajv validator reads it.
    const schema = JSON.parse(textOf('shared/script.schema.json'));
    const validate = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);
    const text = textOf(`demo-data/scripts/${name}.json`);
    expect(validate(JSON.parse(text)), JSON.stringify(validate.errors)).toBe(true);
    expect(parseScriptText(text).ok).toBe(true);
  });

  it('of the published schema and of the parser agree on what is no script', () => {
    const schema = JSON.parse(textOf('shared/script.schema.json'));
    const validate = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);
    const rows = [
      { at: '5', note: 'x' },
      { at: -1, note: 'x' },
      { at: 1.5, note: 'x' },
      { at: 0, press: 'nxt' },
      { at: 0, press: { kind: 'begin', step: 'etch' } },
      { at: 0, press: { kind: 'end', step: 'Etch!' } },
      { at: 0, retime: '5 sec' },
      { at: 0, undo: false },
      { at: 0, colour: 'blue' },
      { at: 0, probe: { mix: '1', found: 'hard' } },
    ];
    for (const row of rows) {
      expect(validate(script(row)), JSON.stringify(row)).toBe(false);
      expect(parseScript(script(row)).ok, JSON.stringify(row)).toBe(false);
    }
  });

  it.each([
    [null, 'script: expected a script, an object with "format": "lutewatch-script", got null'],
    [[], 'script: expected an object, got an empty list'],
    [
      { format: 'lutewatch-case' },
      'script.format: expected "lutewatch-script", got "lutewatch-case"',
    ],
    [
      { format: 'lutewatch-script', formatVersion: 2, presses: [] },
      'script.formatVersion: expected the number 1, got 2',
    ],
    [
      script({ at: '20s', press: 'next', hurry: true }),
      'script.presses[0].hurry: expected no such key, got true',
    ],
    [
      script({ at: 'soon', press: 'next' }),
      'script.presses[0].at: expected a time such as "1:20", "80 s" or a whole number of milliseconds, got "soon"',
    ],
    [
      script({ at: 0, press: { kind: 'confirm' } }),
      'script.presses[0].press.step: expected an id of small letters, digits and single hyphens, such as "acid-rinse", got nothing',
    ],
    [script({ press: 'next' }), 'script.presses[0].at: expected the time of this row, got nothing'],
    [
      script({ at: '10 s', press: 'next' }, { at: '9 s', press: 'next' }),
      'script.presses[1].at: expected a time not before 10000 ms, got "9 s"',
    ],
    [
      script({ at: 0, press: 'next', undo: true }),
      'script.presses[0]: expected one of press, follow, skip, undo, retime, wayBack, addMix, probe, note, role, close, sleep, moveWall, reload, settleGap, got press and undo',
    ],
    [
      script({ at: 0, after: 0, undo: true }),
      'script.presses[0]: expected at or after, not both, got "both"',
    ],
    [
      script({ at: 0, undo: true, until: 'etch' }),
      'script.presses[0]: expected paceFactor and until only beside follow, got "undo"',
    ],
    [
      script({ at: '900000000 h', undo: true }),
      'script.presses[0].at: expected at most 30 days, got "900000000 h"',
    ],
  ])('%j is answered in one line', (input, line) => {
    expect(lineOf(input)).toBe(line);
  });

  it('never throws, whatever comes', () => {
    fc.assert(
      fc.property(fc.anything(), (input) => {
        expect(parseScript(input).ok).toBe(false);
      }),
      { numRuns: 300 },
    );
    fc.assert(
      fc.property(
        fc.array(
          fc.dictionary(
            fc.constantFrom('at', 'after', 'press', 'skip', 'undo', 'follow', 'retime', 'until'),
            fc.oneof(fc.anything(), fc.constantFrom('next', '5 s', 0, true, 'etch')),
          ),
          { maxLength: 4 },
        ),
        (rows) => {
          expect(['ok', 'bad']).toContain(parseScript(script(...rows)).ok ? 'ok' : 'bad');
        },
      ),
      { numRuns: 500 },
    );
  });
});
