import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { EXPORT_FORMS, exportFile } from '../../src/export/export-forms.ts';
import { journalJson } from '../../src/export/journal-text.ts';
import { entriesOf, finished, sourceOf } from './journals.ts';

const source = sourceOf(finished().log);
const { entries } = source;
const good = journalJson({ caseId: 'case-1', entries });

async function cli(args: readonly string[], text: string | null = good) {
  const out: string[] = [];
  const errors: string[] = [];
  const code = await main(['record', ...args], {
    readFile: async () => {
      if (text === null) throw Object.assign(new Error('no such file'), { code: 'ENOENT' });
      return text;
    },
    stdout: (words) => out.push(words),
    stderr: (words) => errors.push(words),
  });
  return { code, out: out.join(''), errors: errors.join('') };
}

describe('record on the command line', () => {
  it.each(EXPORT_FORMS.map((f) => f.id))(
    'writes the form %s, the same bytes as the app',
    async (id) => {
      const { text } = exportFile(source, id);
      expect(await cli(['case.json', '--as', id])).toEqual({ code: 0, out: text, errors: '' });
      expect(await cli([`--as=${id}`, '-'])).toEqual({ code: 0, out: text, errors: '' });
    },
  );

  it('writes text when no form is named', async () => {
    const { code, out } = await cli(['case.json']);
    expect(code).toBe(0);
    expect(out).toBe(exportFile(source, 'text').text);
  });

  it('tells a case that names no zone in the one that is given, else in UTC, and says so', async () => {
    const given = await cli(['case.json', '--zone', 'Asia/Kathmandu']);
    expect(given.out).toBe(exportFile({ ...source, clinicZone: 'Asia/Kathmandu' }, 'text').text);
    expect(given.out).toContain('zone, Asia/Kathmandu; the case itself names none (UTC+05:45)');
    expect((await cli(['case.json', '--zone=Asia/Kathmandu'])).out).toBe(given.out);
    expect((await cli(['case.json'])).out).toContain('In UTC; the case itself names no zone');
  });

  it('wraps the file in one JSON document when asked', async () => {
    const { out } = await cli(['case.json', '--as', 'csv-steps', '--json']);
    expect(JSON.parse(out)).toEqual({
      form: 'csv-steps',
      ...exportFile(source, 'csv-steps'),
      problems: [],
    });
  });

  it.each([
    [[], 'record: expected one journal file'],
    [['a.json', 'b.json'], 'record: expected one journal file'],
    [['--pdf'], 'record: expected one journal file'],
    [['a.json', '--zone'], 'record.--zone: expected a name of the IANA time zone database'],
    [['a.json', '--zone', 'Mars/Olympus'], 'record.--zone: expected a name of the IANA'],
    [['a.json', '--as'], 'record.--as: expected one of text, json'],
    [['a.json', '--as', 'pdf'], 'record.--as: expected one of text, json'],
  ])('refuses %j with one line', async (args, words) => {
    const { code, out, errors } = await cli(args);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(errors).toContain(words);
    expect(errors.split('\n')).toHaveLength(2);
  });

  it.each([
    ['a file that is not there', null, 'ENOENT'],
    ['an empty file', '', 'journal, line 1, column 1'],
    ['no JSON', '{"format":', 'journal, line 1'],
    ['a case file', '{"format":"lutewatch-case"}', 'journal.format'],
    ['a journal without entries', journalJson({ caseId: 'c', entries: [] }), 'entries'],
    [
      'a journal whose first entry was edited',
      good.replace('"chartRef":"SB-0001"', '"chartRef":"SB-0002"'),
      'journal.entries[0]',
    ],
    [
      'a journal that tells of what cannot be',
      journalJson({
        caseId: 'case-1',
        entries: entriesOf(
          finished().log.records.map((r) =>
            r.seq === 0
              ? r
              : {
                  ...r,
                  event:
                    r.event.type === 'step-started' ? { ...r.event, step: 'nowhere' } : r.event,
                },
          ),
        ),
      }),
      'journal.entries: expected events that follow',
    ],
    [
      'a journal that never opened a case',
      journalJson({
        caseId: 'c',
        entries: entriesOf(
          finished()
            .log.records.slice(1)
            .map((r, seq) => ({ ...r, seq })),
        ),
      }),
      'journal.entries: expected events that follow',
    ],
  ])('refuses %s with one line and no trace', async (_, text, words) => {
    const { code, out, errors } = await cli(['x.json'], text);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(errors).toContain(words);
    expect(errors.trimEnd().split('\n')).toHaveLength(1);
    expect(errors).not.toMatch(/\bat .*\.ts/);
  });

  it('writes what holds of a damaged journal, says where it was damaged, and exits with 1', async () => {
    const damaged = good.replace('Slept; the lid was shut', 'Slept; the lid was open');
    const at = entries.findIndex((e) => e.event.type === 'note-added');
    const { code, out, errors } = await cli(['x.json'], damaged);
    expect(code).toBe(1);
    expect(out).toContain(`${at} entries hold`);
    expect(out).toContain(`${entries.length - at} set apart`);
    expect(errors).toContain(`journal.entries[${at}]`);
    expect(errors.trimEnd().split('\n')).toHaveLength(1);
  });
});

describe('the forms of a record', () => {
  it('make files with plain names', () => {
    for (const { id } of EXPORT_FORMS) {
      expect(exportFile(source, id).name).toMatch(/^SB-0001-2026-11-27-[a-z]+\.[a-z]+$/);
    }
  });

  it('never claim what a timer cannot know', () => {
    // Rule of this project: time elapsed and exposure given, never a claim about what they did.
    for (const { id } of EXPORT_FORMS.filter((f) => f.id !== 'json')) {
      expect(exportFile(source, id).text, id).not.toMatch(/\b(cured|safe|adequate)\b/i);
    }
    const words = readFileSync(new URL('../../src/words/en/export.ts', import.meta.url), 'utf8');
    expect(words).toContain('exposure given');
    expect(words).not.toMatch(/\b(cured|safe|adequate)\b/i);
  });
});
