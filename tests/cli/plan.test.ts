import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { main } from '../../src/cli/main.ts';
import type { Io } from '../../src/cli/output.ts';
import { alternativeLines, lengthWords, percentWords } from '../../src/cli/plan-words.ts';
import type { Alternative } from '../../src/plan/alternatives.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { shippedCase, shippedProtocol } from '../plan/shipped.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const TWO = 'demo-data/cases/two-veneers.json';

interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs `plan` in this process; files named in `files` are made up, all others are read. */
async function ran(
  args: readonly string[],
  files: Readonly<Record<string, unknown>> = {},
): Promise<Ran> {
  let out = '';
  let err = '';
  const io: Io = {
    readFile: async (path) =>
      path in files ? JSON.stringify(files[path]) : readFile(`${ROOT}/${path}`, 'utf8'),
    stdout: (text) => {
      out += text;
    },
    stderr: (text) => {
      err += text;
    },
  };
  const code = await main(['plan', ...args], io);
  return { code, out, err };
}

interface Answer {
  readonly plan: { readonly mixes: unknown };
  readonly timeline: { readonly chairMs: number };
  readonly risk: { readonly chair: { readonly p50Ms: number; readonly p90Ms: number } };
  readonly explanations: readonly unknown[];
  readonly alternatives: readonly { readonly words: string }[];
}

async function planned(args: readonly string[]): Promise<Answer> {
  const { code, out, err } = await ran([...args, '--json']);
  expect(err).toBe('');
  expect(code).toBe(0);
  return JSON.parse(out);
}

describe('plan', () => {
  test('answers with the whole plan as data', async () => {
    const answer = await planned([TWO]);
    expect(Object.keys(answer)).toEqual([
      'case',
      'protocol',
      'plan',
      'timeline',
      'risk',
      'careful',
      'heat',
      'findings',
      'explanations',
      'alternatives',
      'anaesthesia',
      'rests',
    ]);
    expect(answer.plan.mixes).toEqual([['11', '21']]);
    expect(answer.risk.chair.p90Ms).toBeGreaterThan(answer.risk.chair.p50Ms);
    expect(answer.explanations.length).toBeGreaterThan(10);
  });

  test('the seed decides the draws, and nothing else', async () => {
    const [one, again, other] = [
      await planned([TWO, '--seed', '7']),
      await planned([TWO, '--seed', '7']),
      await planned([TWO, '--seed', '8']),
    ];
    expect(again).toEqual(one);
    expect(other.risk.chair.p50Ms).not.toBe(one.risk.chair.p50Ms);
    expect(other.timeline.chairMs).toBe(one.timeline.chairMs);
  });

  test('tells people in words', async () => {
    const { code, out } = await ran([TWO]);
    expect(code).toBe(0);
    expect(out).toMatch(/^chair time: \d+ min in the middle case, \d+ min on a slow day/m);
    expect(out).toMatch(
      /^ {2}one mix of 2: outside in fewer than 1 of 2000 simulated runs \(planned\)$/m,
    );
    // "light-cured" stands in the title of a source.
    expect(out).not.toMatch(/(?<!light-)\b(cured|safe|adequate)\b/i);
  });

  test('a window that cannot be kept gives exit code 1 and is named', async () => {
    const protocol = shippedProtocol();
    const windows = protocol.windows.map((w) =>
      w.id === 'cement-open' && w.maxMs ? { ...w, maxMs: { ...w.maxMs, value: 20_000 } } : w,
    );
    const files = { 'tight.json': { ...protocol, windows } };
    const { code, out } = await ran([TWO, '--protocol', 'tight.json'], files);
    expect(code).toBe(1);
    expect(out).toMatch(/too long, outside in \d+ % of simulated runs; cannot be kept/);
  });

  test('what light cannot reach is said first, with exit code 1', async () => {
    const spec = shippedCase('two-veneers');
    const units = spec.units.map((unit) => ({ ...unit, thicknessMm: 2 }));
    const { code, out } = await ran(['thick.json'], { 'thick.json': { ...spec, units } });
    expect(code).toBe(1);
    expect(out).toContain('what speaks against it:');
    // Over light-cured cement glass ceramics are refused past 1.5 mm (rule of the trade).
    expect(out).toContain(
      'case.units[0].thicknessMm: error: the unit "11" (lithium-disilicate) is 2 mm',
    );
    expect(out).toContain('cause ceramic, way out dual-cured-cement');
  });

  test.each([
    [[], 'plan: expected one case file'],
    [[TWO, 'more.json'], 'plan: expected one case file'],
    [[TWO, '--seed', 'x'], 'plan.--seed: expected a whole number'],
    [[TWO, '--seed'], 'plan.--seed: expected a whole number'],
    [[TWO, '--protocol'], 'plan.--protocol: expected a file'],
    [[TWO, '--colour'], 'plan: expected one of --protocol, --seed, --why, --json'],
    [['nowhere.json'], 'file: expected a file that can be read at nowhere.json'],
    [['package.json'], 'case.format: expected "lutewatch-case"'],
    [[TWO, '--protocol', TWO], 'protocol.format'],
  ])('%j is refused in one line', async (args, words) => {
    const { code, out, err } = await ran(args);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toContain(words);
    expect(err.trimEnd()).not.toContain('\n');
  });

  test('a case that names no protocol of the project is refused', async () => {
    const spec = JSON.parse(await readFile(`${ROOT}/${TWO}`, 'utf8'));
    const { code, err } = await ran(['own.json'], {
      'own.json': { ...spec, protocol: 'elsewhere' },
    });
    expect(code).toBe(2);
    expect(err).toContain('case.protocol');
  });

  test('a protocol that waits in a circle is refused before anything is planned', async () => {
    const protocol = shippedProtocol();
    const [first, ...rest] = protocol.steps;
    const last = rest.at(-1);
    const steps = [{ ...first, after: [{ step: last?.id, link: 'all' }] }, ...rest];
    const { code, err } = await ran([TWO, '--protocol', 'circle.json'], {
      'circle.json': { ...protocol, steps },
    });
    expect(code).toBe(2);
    expect(err).toContain('circle');
  });
});

describe('words', () => {
  test.each([
    [400, 'under 1 s'],
    [0, '0 s'],
    [45_000, '45 s'],
    [270_000, '4 min 30 s'],
    [300_000, '5 min'],
    [5_580_000, '93 min'],
  ])('%i ms is told as %s', (ms, words) => {
    expect(lengthWords(ms)).toBe(words);
  });

  test('a share too small to be seen in the draws is not told as never', () => {
    expect(percentWords(0)).toBe('under 1 %');
    expect(percentWords(0.004)).toBe('under 1 %');
    expect(percentWords(0.583)).toBe('58 %');
    expect(percentWords(0.997)).toBe('over 99 %');
    expect(percentWords(1)).toBe('100 %');
  });

  test('alternatives are told side by side', () => {
    const base = {
      kind: 'mixes',
      step: null,
      order: [],
      choice: {},
      chairMs: 0,
      chairP90Ms: 0,
      judgedBy: [],
      pAnyBroken: 0,
      canBeKept: true,
    } as const;
    const list: readonly Alternative[] = [
      { ...base, id: 'a', sizes: [8], isPlanned: true, pBroken: 0.58, chairDeltaMs: 0 },
      { ...base, id: 'b', sizes: [4, 4], isPlanned: false, pBroken: 0.03, chairDeltaMs: 120_000 },
      { ...base, id: 'c', sizes: [3, 3, 2], isPlanned: false, pBroken: 0, chairDeltaMs: -70_000 },
    ];
    expect(alternativeLines(list, shippedProtocol(), 2000)).toEqual([
      'one mix of 8: outside in 58 % of simulated runs (planned)',
      'two mixes of 4: outside in 3 % of simulated runs, 2 min longer',
      'three mixes of 3, 3 and 2: outside in fewer than 1 of 2000 simulated runs, 1 min shorter',
    ]);
  });
});

describe('what set-up would ask to be settled', () => {
  test('zirconia in a protocol with hydrofluoric acid is a fault', async () => {
    const spec: CaseFile = JSON.parse(await readFile(`${ROOT}/${TWO}`, 'utf8'));
    const units = spec.units.map((unit) => ({ ...unit, material: 'zirconia' }));
    const { code, out } = await ran(['own.json'], { 'own.json': { ...spec, units } });
    expect(code).toBe(1);
    expect(out).toMatch(/case\.units\[0\]\.material: error: .*zirconia/);
  });

  test('what the steps depend on and nobody answered is found by name', async () => {
    const { teeth: _, ...spec } = JSON.parse(await readFile(`${ROOT}/${TWO}`, 'utf8'));
    const { out } = await ran(['own.json'], { 'own.json': spec });
    expect(out).toMatch(/case\.teeth: caution: .*11/);
  });
});

describe('the text', () => {
  test('tells how the numbers came about only when it is asked', async () => {
    const [short, long] = [await ran([TWO]), await ran([TWO, '--why'])];
    expect(short.out).not.toContain('decided by');
    expect(short.out).toContain('--why');
    expect(long.out).toContain('how the numbers came about (');
    expect(long.out).toMatch(/^ {2}mixes = 2 units, decided by hands/m);
  });

  test('tells units that receive the same light in one line', async () => {
    const { out } = await ran(['demo-data/cases/eight-upper-veneers.json']);
    const lines = out.split('\n').filter((line) => line.startsWith('  "Tack"'));
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(/^ {2}"Tack", tooth 11 21 12 22 13 23 14 24: /);
  });

  test('tells what rounds and mixes cost, what the case risks, and published visits', async () => {
    const { out } = await ran(['demo-data/cases/eight-upper-veneers.json']);
    expect(out).toMatch(/^any limit of the case broken: in .* of .*simulated runs$/m);
    expect(out).toMatch(/fewest that break their limits in fewer than 5 % of simulated runs/);
    expect(out).toMatch(/^ {2}three mixes of 3, 3 and 2 instead of 4 \+ 4: outside in/m);
    expect(out).toMatch(/^ {2}price: \d+ (s|min).* more than with the fewest$/m);
    // 53:11 min with much assistance: Wurbs et al., J Dent 2006;34:450-453.
    expect(out).toMatch(/much assistance: 53 min on average .*J Dent 2006;34:450-453/);
  });
});
