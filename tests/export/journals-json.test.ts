/** Many journals in one file: each comes back to the letter, and the command line reads them. */
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { exportFile } from '../../src/export/export-forms.ts';
import { parseJournal } from '../../src/export/journal-json.ts';
import { journalJson } from '../../src/export/journal-text.ts';
import { journalOf, journalsIn, journalsParts } from '../../src/export/journals-json.ts';
import { verifyChain } from '../../src/storage/hash-chain.ts';
import { publishedJournalsSchema } from './journal-schema.ts';
import { entriesOf, eventful, finished, followed, sourceOf } from './journals.ts';

const logs = {
  a: finished().log,
  b: eventful().log,
  c: followed('two-veneers', 60).log,
};
const texts = Object.entries(logs).map(([caseId, log]) =>
  journalJson({ caseId, entries: entriesOf(log.records, caseId) }),
);
const journalsJson = (texts: readonly string[]) => journalsParts(texts).join('');
const file = journalsJson(texts);

async function cli(args: readonly string[], text = file) {
  const out: string[] = [];
  const errors: string[] = [];
  const code = await main(['record', ...args], {
    readFile: async () => text,
    stdout: (words) => out.push(words),
    stderr: (words) => errors.push(words),
  });
  return { code, out: out.join(''), errors: errors.join('') };
}

describe('a file with many journals', () => {
  it('gives each journal back to the letter', () => {
    const found = journalsIn(file);
    expect(found?.count).toBe(3);
    expect(found?.journals).toEqual(
      Object.keys(logs).map((caseId, n) => ({ caseId, text: texts[n] })),
    );
  });

  it('is one JSON document, also when it is laid out in another way', () => {
    const again = JSON.stringify(JSON.parse(file), null, 2);
    const found = journalsIn(again);
    expect(found?.journals.map((j) => j.caseId)).toEqual(['a', 'b', 'c']);
    for (const { text } of found?.journals ?? []) {
      expect(parseJournal(text, { verify: verifyChain })).toMatchObject({
        ok: true,
        value: { problems: [] },
      });
    }
  });

  it('may hold none, and may hold what was set apart', () => {
    expect(journalsIn(journalsJson([]))).toEqual({ journals: [], count: 0, fault: null });
    const apart = journalJson({ caseId: 'x', entries: [], apart: [{ odd: ']}\n{"format"' }] });
    expect(journalsIn(journalsJson([apart, ...texts]))?.journals[0]).toEqual({
      caseId: 'x',
      text: apart,
    });
  });

  it('is told from a journal and from anything else', () => {
    expect(journalsIn(texts[0] ?? '')).toBeNull();
    for (const text of ['', '{', '[]', 'null', '{"format":"x"}']) {
      expect(journalsIn(text)).toBeNull();
    }
  });

  it('keeps the journals before and after a damaged one', () => {
    const hurt = file.replace('"type":"gap-found"', '"type":"gap-f').replace(']}\n', ']}\n');
    const found = journalsIn(hurt);
    expect(found?.journals.map((j) => j.caseId)).toEqual(['a', 'b', 'c']);
    expect(found?.journals[2]?.text).toBe(texts[2]);
  });

  it('says when journals are missing at its end', () => {
    const cut = file.slice(0, file.lastIndexOf('{"format":"lutewatch-journal"'));
    const found = journalsIn(cut);
    if (!found) throw new Error('not read');
    const own = journalOf(found, 'a');
    expect(own).toMatchObject({ ok: true, value: { problems: [{ code: 'head-differs' }] } });
  });
});

describe('record on a file with many journals', () => {
  it('writes the case that is named, the same bytes as from its own file', async () => {
    const text = exportFile(sourceOf(logs.b, 'b'), 'text').text;
    expect(await cli(['all.json', '--case', 'b'])).toEqual({ code: 0, out: text, errors: '' });
    expect(await cli(['--case=b', 'all.json'])).toEqual({ code: 0, out: text, errors: '' });
  });

  it('needs no name when there is only one', async () => {
    const { code, out } = await cli(['one.json'], journalsJson([texts[0] ?? '']));
    expect(code).toBe(0);
    expect(out).toBe(exportFile(sourceOf(logs.a, 'a'), 'text').text);
  });

  it.each([
    [['all.json'], 'record.--case: expected one of the 3 cases of the file: a, b, c'],
    [['all.json', '--case', 'z'], 'got "z"'],
    [['all.json', '--case'], 'record.--case: expected the id of a case'],
  ])('refuses %j with one line', async (args, words) => {
    const { code, out, errors } = await cli(args);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(errors).toContain(words);
    expect(errors.trimEnd().split('\n')).toHaveLength(1);
  });

  it('refuses a case that a single journal is not', async () => {
    const { code, errors } = await cli(['a.json', '--case', 'b'], texts[0]);
    expect(code).toBe(2);
    expect(errors).toContain('record.--case');
  });
});

// Outside reference: JSON Schema 2020-12 as the ajv validator reads it.
describe('the published schema of many journals', () => {
  const shared = (name: string): string =>
    readFileSync(new URL(`../../shared/${name}`, import.meta.url), 'utf8');

  it('is met by the file, and not by a single journal', () => {
    const ajv = new Ajv2020({ strict: true, allowUnionTypes: true });
    for (const name of ['case', 'protocol', 'journal']) {
      ajv.addSchema(JSON.parse(shared(`${name}.schema.json`)));
    }
    const validate = ajv.compile(JSON.parse(shared('journals.schema.json')));
    expect(validate(JSON.parse(file)), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
    expect(validate(JSON.parse(texts[0] ?? ''))).toBe(false);
  });

  it('is written from one place', () => {
    expect(shared('journals.schema.json')).toBe(publishedJournalsSchema());
  });
});
