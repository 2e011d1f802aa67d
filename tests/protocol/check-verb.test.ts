import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/check-verb.ts';
import { main } from '../../src/cli/main.ts';
import { caseText, drop, type Json, json, put, templateText } from './documents.ts';

const template = json(templateText());

/** Runs `check` on one text and collects what it wrote. */
async function check(text: string, ...flags: string[]) {
  const out: string[] = [];
  const errors: string[] = [];
  const code = await run(['file.json', ...flags], {
    readFile: async () => text,
    stdout: (words) => out.push(words),
    stderr: (words) => errors.push(words),
  });
  return { code, out: out.join(''), errors: errors.join('') };
}

const checkJson = (value: Json, ...flags: string[]) => check(JSON.stringify(value), ...flags);

describe('check', () => {
  it('passes the first template and the prepared cases', async () => {
    // The minute for the floss is lost on a slow day: known, and told.
    expect(await check(templateText())).toEqual({
      code: 1,
      out: 'protocol.windows[8]: caution: "Floss the contact" allows 60 s, but on a slow day "Lift excess" (48 s), "Floss" (38 s) lie between: 26 s missing\n',
      errors: '',
    });
    const preparation = await readFile('shared/protocols/preparation.json', 'utf8');
    expect(await check(preparation)).toEqual({
      code: 0,
      out: 'protocol preparation: nothing found\n',
      errors: '',
    });
    expect((await check(caseText('eight-upper-veneers'))).code).toBe(0);
    expect((await check(caseText('two-veneers'))).code).toBe(0);
  });

  it('holds a case against its protocol and finds what light cannot reach', async () => {
    const two = json(caseText('two-veneers'));
    const thick = await checkJson(put(two, ['units', 0, 'thicknessMm'], 2));
    expect(thick.code).toBe(1);
    // Glass ceramics over light-cured cement are refused past 1.5 mm: a rule of the trade, on studies
    // up to 1.5 mm (Int J Prosthodont 2016;29:384).
    expect(thick.out).toBe(
      'case.units[0].thicknessMm: error: the unit "11" (lithium-disilicate) is 2 mm thick, over the 1.5 mm for a cement that sets by light alone; take a dual-cured cement\n',
    );
    const zirconia = await checkJson(put(two, ['units', 0, 'material'], 'zirconia'), '--json');
    const codes: string[] = JSON.parse(zirconia.out).findings.map((f: { code: string }) => f.code);
    expect(codes.slice(0, 2)).toEqual(['material-not-in-protocol', 'light-cured-thick']);
  });

  it('takes the protocol from a file, and refuses a case whose protocol is nowhere', async () => {
    const two = json(caseText('two-veneers'));
    const nowhere = await checkJson(put(two, ['protocol'], 'nowhere'));
    expect(nowhere.code).toBe(2);
    expect(nowhere.errors).toContain('case.protocol');
    expect((await checkJson(two, '--protocol')).code).toBe(2);
  });

  it('lists findings one a line and ends with 1', async () => {
    const value = put(drop(template, ['steps', 24, 'uses']), ['steps', 24, 'stage'], 'nowhere');
    expect(await checkJson(value)).toEqual({
      code: 1,
      out: 'protocol.steps[24].stage: error: there is no stage "nowhere"\nprotocol.slots[0].id: caution: "ceramic-acid" is not used by any step\n',
      errors: '',
    });
  });

  it('gives findings as JSON with code, place, level, values and words', async () => {
    const { code, out } = await checkJson(
      put(template, ['steps', 12, 'stage'], 'nowhere'),
      '--json',
    );
    expect(code).toBe(1);
    expect(JSON.parse(out)).toEqual({
      kind: 'protocol',
      id: 'thin-veneers-separate-bottle-etch-and-rinse',
      findings: [
        {
          code: 'unknown-stage',
          place: 'protocol.steps[12].stage',
          level: 'error',
          values: { id: 'nowhere' },
          words: 'there is no stage "nowhere"',
        },
      ],
    });
  });

  const noise = Buffer.from(Array.from({ length: 10_000_000 }, (_, i) => (i * 7919) % 251));
  const shield = ['windows', 2, 'maxMs', 'value'];

  it.each<[string, string, RegExp]>([
    [
      'a wrong type',
      JSON.stringify(put(template, ['steps', 12, 'pace'], 3)),
      /^protocol\.steps\[12\]\.pace: expected a pace .* got 3\n$/,
    ],
    [
      'an unknown tooth',
      JSON.stringify(put(json(caseText('two-veneers')), ['units', 0, 'teeth', 0], '19')),
      /^case\.units\[0\]\.teeth\[0\]: expected an FDI tooth number such as "11", got "19"\n$/,
    ],
    [
      'an impossible window',
      JSON.stringify(put(template, shield, 60_000)),
      /^protocol\.windows\[2\]: expected a window that can be kept, got "Light shield" allows 60 s, but at the usual pace "Prime again\?" \(10 s\), .* s missing\n$/,
    ],
    [
      'crossed bounds',
      JSON.stringify(
        put(template, ['windows', 2, 'minMs'], { value: 9_000_000, basis: { kind: 'practice' } }),
      ),
      /^protocol\.windows\[2\]\.minMs\.value: expected bounds that rise, got minMs \(9000000\) is above maxMs \(3600000\)\n$/,
    ],
    [
      'a truncated file',
      templateText().slice(0, 30_000),
      /^file, line \d+, column \d+: expected .* got .*\n$/,
    ],
    [
      'ten megabytes of noise',
      noise.toString('utf8'),
      /^file: expected a file of at most 2 MB, got \d+\.\d MB\n$/,
    ],
    [
      'a page of noise',
      noise.toString('latin1').slice(0, 4000),
      /^file, line 1, column 1: expected a JSON value, got .*\n$/,
    ],
    [
      'another document',
      '{"format": "recipe"}',
      /^protocol\.format: expected "lutewatch-protocol", got "recipe"\n$/,
    ],
    [
      'an empty file',
      '',
      /^file, line 1, column 1: expected a JSON value, got the end of the file\n$/,
    ],
  ])('answers %s with one line and 2', async (_, text, line) => {
    const { code, errors } = await check(text);
    expect(code).toBe(2);
    expect(errors).toMatch(line);
    expect(errors.split('\n')).toHaveLength(2);
  });

  it('says how many more problems there are, and lists them all as JSON', async () => {
    const value = drop(drop(template, ['title']), ['summary']);
    const { code, out, errors } = await checkJson(value, '--json');
    expect(code).toBe(2);
    expect(errors).toBe(
      'protocol.title: expected the title of the protocol, got nothing (and 1 more)\n',
    );
    expect(JSON.parse(out).problems).toHaveLength(2);
  });

  it('refuses a missing file, no file and two files with one line', async () => {
    for (const args of [['check', '/no/such/file'], ['check'], ['check', 'a', 'b']]) {
      const errors: string[] = [];
      const code = await main(args, {
        readFile: (path) => readFile(path, 'utf8'),
        stdout: () => undefined,
        stderr: (words) => errors.push(words),
      });
      expect(code).toBe(2);
      expect(errors.join('')).toMatch(/^(file|check): expected [^\n]*\n$/);
    }
  });
});
