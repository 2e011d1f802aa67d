import { describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { journalJson } from '../../src/export/journal-text.ts';
import { journalsParts } from '../../src/export/journals-json.ts';
import { entriesOf, finished, followed } from '../export/journals.ts';
import { caseText, templateText } from '../protocol/documents.ts';

// Outside references: general category Cc of the Unicode Character Database, ECMA-48 for what
// control characters do to a terminal, and Unicode Standard Annex 9 for Bidi_Control.

const TURN = '\u202e';
const CLEAR = '\u001b[2J';
const C1 = '\u009b';

async function cli(args: readonly string[], files: Readonly<Record<string, string>> = {}) {
  let out = '';
  let errors = '';
  const code = await main(args, {
    readFile: async (path) => {
      const text = files[path];
      if (text === undefined) throw Object.assign(new Error('no such file'), { code: 'ENOENT' });
      return text;
    },
    stdout: (words) => {
      out += words;
    },
    stderr: (words) => {
      errors += words;
    },
  });
  return { code, out, errors };
}

/** Control and direction characters, line feeds, tabs and the line ends of a table aside. */
function rawIn(text: string): string[] {
  return [...text.replaceAll('\r\n', '\n')].filter((char) => {
    const code = char.codePointAt(0) ?? 0;
    if (code === 9 || code === 10) return false;
    return (
      code < 0x20 ||
      (code >= 0x7f && code <= 0x9f) ||
      [0x061c, 0x200e, 0x200f].includes(code) ||
      (code >= 0x202a && code <= 0x202e) ||
      (code >= 0x2066 && code <= 0x2069)
    );
  });
}

/** A journal whose note holds what no terminal should get, chained well. */
function journalWithNote(words: string): string {
  const records = finished().log.records.map((record) =>
    record.event.type === 'note-added' ? { ...record, event: { ...record.event, words } } : record,
  );
  return journalJson({ caseId: 'case-1', entries: entriesOf(records) });
}

const NOTE = `Rinsed ${TURN}again${CLEAR}${C1}1A\u0007\rOver`;
// A record in text keeps every note on one line.
const ESCAPED = 'Rinsed \\u202eagain\\u001b[2J\\u009b1A\\u0007 / Over';

describe('what the command line writes', () => {
  it('shows a name with direction and control characters as escapes', async () => {
    for (const verb of ['check', 'plan', 'record', 'rehearse']) {
      const rest = verb === 'rehearse' ? ['script.json'] : [];
      const { code, out, errors } = await cli([verb, `a${TURN}b${CLEAR}${C1}.json`, ...rest]);
      expect({ code, out }).toEqual({ code: 2, out: '' });
      expect(rawIn(errors)).toEqual([]);
      expect(errors).toContain('a\\u202eb\\u001b[2J\\u009b.json');
      expect(errors.trimEnd().split('\n')).toHaveLength(1);
    }
  });

  it('shows an unknown verb and an unknown figure as escapes', async () => {
    for (const args of [[`pl${TURN}an`], ['calc', `do${TURN}se`], ['plan', `--${TURN}`]]) {
      const { code, errors } = await cli(args);
      expect(code).toBe(2);
      expect(rawIn(errors)).toEqual([]);
      expect(errors).toContain('\\u202e');
    }
  });

  it('shows what a note of a past journal holds, in every form', async () => {
    const journal = journalWithNote(NOTE);
    for (const form of ['text', 'json', 'facts', 'csv-steps', 'csv-windows', 'fhir', 'ical']) {
      const { code, out, errors } = await cli(['record', 'j.json', '--as', form], {
        'j.json': journal,
      });
      expect(code, form).toBe(0);
      expect(rawIn(out), form).toEqual([]);
      expect(rawIn(errors), form).toEqual([]);
      expect(errors, form).toMatch(
        /^journal\.entries\[\d+\]\.event\.words, line \d+, column \d+: expected text without control or direction characters, got \\u202e\n$/,
      );
      if (form === 'text') expect(out).toContain(ESCAPED);
      if (['json', 'facts', 'fhir'].includes(form)) expect(() => JSON.parse(out)).not.toThrow();
      if (form === 'json') {
        expect(JSON.parse(out)).toEqual(JSON.parse(journal));
        const again = await cli(['record', 'again.json'], { 'again.json': out });
        expect(again).toMatchObject({ code: 0, errors });
      }
    }
  });

  it('stays JSON with --json, and the value keeps its characters', async () => {
    const { code, out } = await cli(['record', 'j.json', '--as', 'text', '--json'], {
      'j.json': journalWithNote(NOTE),
    });
    expect(code).toBe(0);
    expect(rawIn(out)).toEqual([]);
    const answer: unknown = JSON.parse(out);
    expect(answer).toMatchObject({
      text: expect.stringContaining(NOTE.replace('\r', ' / ')),
      problems: [],
      // The case has two notes.
      warnings: [
        expect.objectContaining({ code: 'unseen-character' }),
        expect.objectContaining({ code: 'unseen-character' }),
      ],
    });
  });

  it('tells nothing of a scanned label, whose separators are control characters', async () => {
    const scanned = ']d201095040000591181727123110\u001d21X';
    const records = followed('two-veneers', 20).log.records.map((record) =>
      record.event.type === 'material-named' && record.event.material.scanned
        ? {
            ...record,
            event: {
              ...record.event,
              material: { ...record.event.material, scanned: { text: scanned, issuer: 'GS1' } },
            },
          }
        : record,
    );
    const journal = journalJson({ caseId: 'case-1', entries: entriesOf(records) });
    expect(journal).toContain('\\u001d');
    const { code, errors } = await cli(['record', 'j.json'], { 'j.json': journal });
    expect({ code, errors }).toEqual({ code: 0, errors: '' });
  });
});

describe('what the command line reads', () => {
  const turned = templateText().replace('"title": "', `"title": "${TURN}`);
  const doubled = templateText().replace('"steps":', '"title": "Other", "steps":');
  const deep = '['.repeat(100_000);

  it.each([
    ['check', ['check', 'x'], { x: doubled }, /^file, line \d+, column \d+: .* "title" again /],
    ['check', ['check', 'x'], { x: turned }, /^file\.title, line \d+.* got \\u202e$/],
    ['check', ['check', 'x'], { x: deep }, /^file, line 1, column 101: .*inside each other/],
    [
      'plan',
      ['plan', 'x'],
      { x: caseText('two-veneers').replace('"units":', '"id": "b", "units":') },
      /^case, line \d+, column \d+: .* "id" again /,
    ],
    [
      'plan with a protocol',
      ['plan', 'x', '--protocol', 'p'],
      { x: caseText('two-veneers'), p: doubled },
      /"title" again/,
    ],
    [
      'rehearse',
      ['rehearse', 'x', 's'],
      { x: caseText('two-veneers'), s: '{"format":"a","format":"a"}' },
      /^script, line 1, column 15: .* "format" again \(first on line 1, column 2\)$/,
    ],
    ['calc', ['calc', 'dose', '{"seconds":1,"seconds":2}'], {}, /^calc\.dose, line 1, column 14: /],
    ['calc', ['calc', 'dose', deep], {}, /^calc\.dose, line 1, column 101: /],
    ['record', ['record', 'x'], { x: deep }, /^journal, line 1, column 101: /],
    [
      'record',
      ['record', 'x'],
      { x: `{"format":"lutewatch-journal","caseId":"a","caseId":"b","entries":[]}` },
      /^journal, line 1, column 44: .*"caseId" again/,
    ],
  ])('%s refuses with one line', async (_, args, files, line) => {
    const { code, out, errors } = await cli(args, files);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(errors.trimEnd()).toMatch(line);
    expect(errors.trimEnd().split('\n')).toHaveLength(1);
  });

  it('a journal with a key said twice in an entry is kept up to there, and told', async () => {
    const good = journalWithNote('Slept');
    const lines = good.split('\n');
    const at = 3;
    const hurt = (lines[at] ?? '').replace('{', '{"by":"x",');
    const text = lines.toSpliced(at, 1, hurt).join('\n');
    const { code, out, errors } = await cli(['record', 'x'], { x: text });
    expect(code).toBe(1);
    expect(out).toContain(`${at - 1} entries hold`);
    expect(errors).toMatch(
      /^journal\.entries\[2\], line 4, column \d+: expected each key once, got "by" again \(first on line 4, column 2\)\n$/,
    );
  });

  it('a file of many journals that says a key twice is refused in the same words', async () => {
    const one = journalWithNote('Slept');
    const many = journalsParts([one]).join('').replace('"count":1', '"count":1,"count":1');
    const { code, errors } = await cli(['record', 'x'], { x: many });
    expect(code).toBe(2);
    expect(errors).toMatch(
      /^journals, line 1, column \d+: expected each key once, got "count" again/,
    );
    const laidOut = JSON.stringify(JSON.parse(journalsParts([one]).join('')), null, 1);
    const doubled = laidOut.replace('"head":', '"count": 3, "head":');
    const other = await cli(['record', 'x'], { x: doubled });
    expect(other.code).toBe(2);
    expect(other.errors).toMatch(/^journals\.journals\[0\], line \d+, column \d+: .*"count" again/);
  });

  it('a script with direction characters is refused', async () => {
    const files = {
      x: caseText('two-veneers'),
      s: `{"format":"lutewatch-script","title":"${TURN}"}`,
    };
    const { code, errors } = await cli(['rehearse', 'x', 's'], files);
    expect(code).toBe(2);
    expect(errors).toMatch(/^script\.title, line 1, column 39: .*got \\u202e\n$/);
  });
});
