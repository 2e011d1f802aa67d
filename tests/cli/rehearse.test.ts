/** The verb `rehearse`: its answers, its exit codes, and one clear line for every bad input. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { textOf } from '../plan/documents.ts';

const EIGHT = 'demo-data/cases/eight-upper-veneers.json';
const TWO = 'demo-data/cases/two-veneers.json';
const FOLLOW = 'demo-data/scripts/follow-eight.json';
const SLIPS = 'demo-data/scripts/two-veneers-with-slips.json';
const TEMPLATE = 'shared/protocols/thin-veneers-separate-bottle-etch-and-rinse.json';

/** Runs the verb; `files` stand in for files of that name. */
async function ran(args: readonly string[], files: Readonly<Record<string, string>> = {}) {
  let out = '';
  let err = '';
  const code = await main(['rehearse', ...args], {
    readFile: async (path) =>
      files[path] ?? (path.startsWith('/') ? readFileSync(path, 'utf8') : textOf(path)),
    stdout: (text) => {
      out += text;
    },
    stderr: (text) => {
      err += text;
    },
  });
  return { code, out, err };
}

const rows = (...presses: object[]): string =>
  JSON.stringify({ format: 'lutewatch-script', formatVersion: 1, presses });

describe('rehearse', () => {
  it('ends with 0 when every bound was kept, and tells the whole story', async () => {
    const { code, out, err } = await ran([EIGHT, FOLLOW]);
    expect(err).toBe('');
    expect(code).toBe(0);
    expect(out).toContain('revision 1: finished at ');
    expect(out).toMatch(/presses: \d+ \(opening \d+, /);
    expect(out).toContain('step-started etch tooth:11');
    expect(out).toContain('target reached: etch on tooth:11');
    expect(out).toContain('limits not kept: 0');
  }, 30_000);

  it('ends with 1 when something was outside its bounds, and names by how many seconds', async () => {
    const { code, out } = await ran([TWO, SLIPS]);
    expect(code).toBe(1);
    expect(out).toContain('etch on tooth:11: ended 3 s before its minimum');
    expect(out).toContain('window etched-surface of tooth:21: closed 30 s after its maximum');
  }, 30_000);

  it('answers as JSON with the same content', async () => {
    const { code, out } = await ran([TWO, SLIPS, '--json']);
    expect(code).toBe(1);
    const answer = JSON.parse(out);
    expect(Object.keys(answer)).toEqual([
      'case',
      'protocol',
      'script',
      'finished',
      'endedAtMs',
      'presses',
      'pressesByStage',
      'events',
      'breaches',
      'waysBack',
      'voided',
      'gaps',
      'cues',
      'progress',
      'clocks',
      'agenda',
    ]);
    expect(answer.breaches[1]).toMatchObject({
      kind: 'short',
      of: 'etch',
      subject: 'tooth:11',
      by: 3000,
    });
    expect(answer.progress.teeth).toHaveLength(2);
    expect(answer.finished).toBe(true);
  }, 30_000);

  it('takes a protocol file instead of the shipped one', async () => {
    const changed = textOf(TEMPLATE).replace('"revision": 1', '"revision": 7');
    const { code, out } = await ran([TWO, 's', '--protocol', 'p'], {
      s: rows({ at: 0, press: 'next' }),
      p: changed,
    });
    expect(code).toBe(0);
    expect(out).toContain('revision 7: not finished at 0:00');
  });

  it('shows what comes next when the script stops half-way', async () => {
    const script = rows({ follow: true, until: 'etch' });
    const { out } = await ran([TWO, 's'], { s: script });
    expect(out).toContain('start etch tooth:11');
  });

  it('writes null for the slack of an offer only where no limit binds it', async () => {
    // The worst that a script can do to the clocks: JSON would write an unknown slack as null too.
    const script = rows(
      { follow: true, until: 'etch' },
      { after: 0, press: 'next' },
      { after: '1 s', sleep: '2 s' },
      { after: '1 s', moveWall: '-1:00' },
      { after: 0, reload: '5 s' },
    );
    const slackOf = async (presses: string, kind: string): Promise<unknown> => {
      const { out } = await ran([TWO, 's', '--json'], { s: presses });
      const offers: { kind: string; slackMs: number | null }[] = JSON.parse(out).agenda;
      return offers.find((o) => o.kind === kind)?.slackMs;
    };
    // The etch has a maximum.
    expect(await slackOf(script, 'end')).toBeTypeOf('number');
    expect(await slackOf(rows({ at: 0, press: 'next' }), 'list')).toBeNull();
  });
});

describe('bad input', () => {
  const good = rows({ at: 0, press: 'next' });
  // Letters of a fixed generator: noise that is alike in every run.
  const noise = (bytes: number): string => {
    let state = 42;
    const codes = new Array<string>(bytes);
    for (let i = 0; i < bytes; i += 1) {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      codes[i] = String.fromCharCode(33 + ((state >>> 16) % 90));
    }
    return codes.join('');
  };

  it.each([
    { what: 'no arguments', args: [], line: /^rehearse: expected a case file and a script/ },
    { what: 'one argument', args: [TWO], line: /^rehearse: expected a case file and a script/ },
    { what: 'three files', args: [TWO, 's', 's'], line: /^rehearse: expected a case file/ },
    {
      what: 'a strange option',
      args: [TWO, 's', '--fast'],
      line: /^rehearse: expected no such option, got "--fast"/,
    },
    {
      what: 'a flag without its file',
      args: [TWO, 's', '--protocol'],
      line: /^rehearse --protocol: expected a protocol file/,
    },
    {
      what: 'a missing file',
      args: [TWO, 'nowhere.json'],
      line: /^file: expected a file that can be read at nowhere\.json, got "ENOENT"/,
    },
    {
      what: 'a case as script',
      args: [TWO, TWO],
      line: /^script\.format: expected "lutewatch-script", got "lutewatch-case"/,
    },
    {
      what: 'a script as case',
      args: [SLIPS, SLIPS],
      line: /^case\.format: expected "lutewatch-case"/,
    },
    {
      what: 'a protocol that is none',
      args: [TWO, 's', '--protocol', TWO],
      line: /^protocol\.format: expected "lutewatch-protocol"/,
    },
  ])('$what: one line, exit 2', async ({ args, line }) => {
    const { code, out, err } = await ran(args, { s: good });
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(line);
    expect(err.split('\n')).toHaveLength(2);
  });

  it.each([
    {
      what: 'a wrong type',
      text: rows({ at: true, press: 'next' }),
      line: /presses\[0\]\.at: expected a time/,
    },
    {
      what: 'an unknown tooth',
      text: rows({ at: 0, press: { kind: 'start', step: 'etch', subjects: ['48'] } }),
      line: /subjects\[0\]: expected once each: tooth:11, tooth:21, got "48"/,
    },
    {
      what: 'an unknown step',
      text: rows({ at: 0, press: { kind: 'start', step: 'etsh', subjects: ['11'] } }),
      line: /press\.step: expected a step of the protocol, got "etsh"/,
    },
    {
      what: 'time that goes backwards',
      text: rows({ at: '9 s', press: 'next' }, { at: '8 s', press: 'next' }),
      line: /presses\[1\]\.at: expected a time not before 9000 ms, got "8 s"/,
    },
    {
      what: 'a press out of turn',
      text: rows({ at: 0, press: { kind: 'start', step: 'etch', subjects: ['11'] } }),
      line: /presses\[0\]: expected something that can be done at 0 ms, got "etch" on tooth:11 still waits for prime-again@case/,
    },
    {
      what: 'a truncated file',
      text: good.slice(0, -9),
      line: /^script, line 1, column \d+: expected/,
    },
    {
      what: 'an empty file',
      text: '',
      line: /^script, line 1, column 1: expected a JSON value, got the end of the file/,
    },
    {
      what: 'a million open brackets',
      text: '['.repeat(1_000_000),
      line: /^script, line 1, column/,
    },
    {
      what: '10 MB of noise',
      text: noise(10_000_000),
      line: /^script: expected a file of at most 2 MB, got 10\.0 MB/,
    },
    {
      what: '1 MB of noise',
      text: noise(1_000_000),
      line: /^script, line 1, column 1: expected a JSON value, got/,
    },
    { what: 'null', text: 'null', line: /^script: expected a script/ },
  ])('$what in the script: one line, exit 2, no stack trace', async ({ text, line }) => {
    const { code, out, err } = await ran([TWO, 's'], { s: text });
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(line);
    expect(err.length).toBeLessThan(300);
    expect(err.split('\n')).toHaveLength(2);
    expect(err).not.toMatch(/\bat .*\.ts/);
  });

  it('an impossible window in the protocol: one line, exit 2', async () => {
    const protocol = JSON.parse(textOf(TEMPLATE));
    const window = protocol.windows.find((w: { id: string }) => w.id === 'cement-open');
    window.maxMs.value = 20_000;
    const { code, err } = await ran([TWO, 's', '--protocol', 'p'], {
      s: good,
      p: JSON.stringify(protocol),
    });
    expect(code).toBe(2);
    expect(err).toMatch(
      /^protocol\.windows\[\d+\].*expected a protocol without faults, got .*missing/,
    );
  });

  it('a protocol that nobody ships: one line that says where it was looked for', async () => {
    const spec = textOf(TWO).replace(/"protocol": "[^"]+"/, '"protocol": "nowhere"');
    const { code, err } = await ran(['c', 's'], { c: spec, s: good });
    expect(code).toBe(2);
    expect(err).toBe(
      'case.protocol: expected a protocol in shared/protocols, or --protocol FILE, got "nowhere"\n',
    );
  });
});
