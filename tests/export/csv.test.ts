import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Column, csv } from '../../src/export/csv.ts';
import { NO_CLINIC } from '../../src/export/export-clinic.ts';
import { EXPORT_FORMS, exportFile } from '../../src/export/export-forms.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { stepsCsv } from '../../src/export/steps-csv.ts';
import { windowsCsv } from '../../src/export/windows-csv.ts';
import { eventful, finished, forked, sourceOf } from './journals.ts';

// Outside reference: RFC 4180 (Shafranovich, 2005) as the csv-parse package reads it.
const rowsOf = (text: string): string[][] => parse(text, { record_delimiter: '\r\n' });
const namedRows = (text: string): Record<string, string>[] =>
  parse(text, { columns: true, record_delimiter: '\r\n' });

/** What whoever reads the file does with text. */
const unguarded = (field: string): string => (field.startsWith("'") ? field.slice(1) : field);

const column: Column<string>[] = [{ name: 'words', of: (row) => row }];

describe('comma-separated values', () => {
  // RFC 4180, section 2, rules 1 to 7, examples of its own.
  it.each([
    [['aaa', 'bbb', 'ccc'], 'aaa,bbb,ccc\r\n'],
    [['b\r\nbb'], '"b\r\nbb"\r\n'],
    [['b"bb'], '"b""bb"\r\n'],
    [['a,b'], '"a,b"\r\n'],
    // Where the comma is the sign for decimals, spreadsheets split at semicolons; some split at tabs.
    [['a;b', 'a;=1'], '"a;b","a;=1"\r\n'],
    [['a\tb'], '"a\tb"\r\n'],
  ])('writes %j as RFC 4180 shows it', (cells, line) => {
    const columns = cells.map((cell, i) => ({ name: `c${i}`, of: () => cell }));
    expect(csv(columns, [null]).split('\r\n').slice(1).join('\r\n')).toBe(line);
  });

  // OWASP, "CSV Injection": a field must not begin with = + - @, tab or carriage return.
  it.each(['=1+2', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1', '\n=1', '＝1', "'x"])(
    'never begins a text field with what a spreadsheet would run: %j',
    (words) => {
      const [, [field = ''] = []] = rowsOf(csv(column, [words]));
      expect(field).toBe(`'${words}`);
      expect(unguarded(field)).toBe(words);
    },
  );

  it('leaves numbers as numbers, below zero too, and nothing where there is nothing', () => {
    const columns = [-12, 0, 3.5, null, ''].map((cell, i) => ({ name: `c${i}`, of: () => cell }));
    expect(csv(columns, [null])).toBe('c0,c1,c2,c3,c4\r\n-12,0,3.5,,\r\n');
  });

  it('gives any words back to another reader', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'binary', maxLength: 30 })), (list) => {
        const two: Column<string>[] = [{ name: 'n', of: () => 1 }, ...column];
        const read = rowsOf(csv(two, list)).slice(1);
        expect(read.map(([, field = '']) => unguarded(field))).toEqual(list);
      }),
    );
  }, 60_000);
});

describe('the tables of a record', () => {
  const facts = recordFacts(sourceOf(finished().log));
  const steps = namedRows(stepsCsv(facts));
  const windows = namedRows(windowsCsv(facts));

  it('have one row for each step of each subject, voided runs after them', () => {
    expect(steps).toHaveLength(facts.steps.length + facts.voided.length);
    expect(steps.map((r) => `${r['step']}@${r['subject']}`)).toEqual(
      [...facts.steps, ...facts.voided].map((s) => s.key),
    );
    expect(steps.filter((r) => r['status'] === 'voided')).toHaveLength(facts.voided.length);
  });

  it('tell the times of a step as they are in the record', () => {
    // By hand from the rows of the case: 11 was etched from 70 s to 83 s, asked 15 to 30 s.
    const etch = steps.find((r) => r['step'] === 'etch' && r['subject'] === 'tooth:11');
    expect(etch).toMatchObject({
      teeth_fdi: '11',
      status: 'done',
      start_utc: '2026-11-27T09:01:10.000Z',
      end_utc: '2026-11-27T09:01:23.000Z',
      elapsed_min_ms: '13000',
      elapsed_max_ms: '13000',
      asked_min_ms: '15000',
      asked_target_ms: '20000',
      asked_max_ms: '30000',
      short_by_ms: '2000',
      over_by_ms: '0',
      by: 'Dentist A',
    });
    const expose = steps.find((r) => r['step'] === 'expose' && r['subject'] === 'unit:22');
    expect(expose).toMatchObject({ exposure_given_ms: '20000', exposure_set_ms: '20000' });
  });

  it('guard the reason of a way back and give it back', () => {
    const voided = steps.find((r) => r['status'] === 'voided' && r['step'] === 'etch');
    expect(voided?.['reason']).toBe('\'=drool, "much" of it');
  });

  it('tell every window with its margin, or that it is still open', () => {
    expect(windows).toHaveLength(facts.windows.length);
    for (const [i, row] of windows.entries()) {
      const fact = facts.windows[i];
      expect(row['margin_to_max_ms']).toBe(String(fact?.marginToMaxMs ?? ''));
      if (row['max_ms'] !== '' && row['state'] !== 'open') {
        expect(Number(row['margin_to_max_ms'])).toBe(
          Number(row['judged_max_ms']) - Number(row['elapsed_max_ms']),
        );
      }
    }
    const open = namedRows(windowsCsv(recordFacts(sourceOf(eventful().log))));
    expect(open.some((r) => r['state'] === 'open' && r['closed_utc'] === '')).toBe(true);
  });

  it('name the protocol by its hash in every row', () => {
    for (const rows of [steps, windows]) {
      expect(rows.length).toBeGreaterThan(0);
      for (const row of rows) {
        expect(row).toMatchObject({
          protocol: facts.protocol.id,
          protocol_revision: String(facts.protocol.revision),
          protocol_hash: facts.protocol.hash,
        });
        expect(Object.keys(row).at(-1)).toBe('second_end_since_local');
      }
    }
  });

  it('tell of a second end in every row, and of none where there is none', () => {
    const source = forked();
    const [end] = source.secondEnds ?? [];
    const told = recordFacts(source);
    const since = new Date(end?.entries[0]?.stamp.wallMs ?? 0).toISOString();
    const all = [stepsCsv(told), windowsCsv(told)].flatMap(namedRows);
    expect(all.length).toBeGreaterThan(1);
    for (const row of all) {
      expect(row).toMatchObject({
        second_end_tablets: 'Chair 2',
        second_end_entries: '3',
        second_end_since_utc: since,
      });
    }
    for (const row of [...steps, ...windows]) expect(row['second_end_tablets']).toBe('');
  });

  it('begin with a byte-order mark only where the clinic wants it, and no other form does', () => {
    const source = sourceOf(finished().log);
    const clinic = { ...NO_CLINIC, byteOrderMark: true };
    // RFC 3629, section 6: the mark is U+FEFF, EF BB BF in UTF-8.
    const marked = EXPORT_FORMS.filter(({ id }) => {
      const bytes = Buffer.from(exportFile(source, id, { clinic }).text, 'utf8');
      return bytes.subarray(0, 3).toString('hex') === 'efbbbf';
    });
    expect(marked.map(({ id }) => id)).toEqual(['csv-steps', 'csv-windows']);
    for (const { id } of EXPORT_FORMS) {
      expect(exportFile(source, id).text.startsWith('\ufeff'), id).toBe(false);
    }
    const text = exportFile(source, 'csv-steps', { clinic }).text;
    // csv-parse takes the mark away when it is told that there may be one.
    const read = parse(text, { bom: true, columns: true, record_delimiter: '\r\n' });
    expect(read).toEqual(steps);
  });
});
