import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { main } from '../../src/cli/main.ts';
import type { Io } from '../../src/cli/output.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs a command in this process; `stdin` is what "-" reads. */
async function ran(args: readonly string[], stdin = ''): Promise<Ran> {
  let out = '';
  let err = '';
  const io: Io = {
    readFile: async () => stdin,
    stdout: (text) => {
      out += text;
    },
    stderr: (text) => {
      err += text;
    },
  };
  const code = await main(args, io);
  return { code, out, err };
}

async function answer(name: string, input: unknown): Promise<unknown> {
  const { code, out, err } = await ran(['calc', name, JSON.stringify(input), '--json']);
  expect(err).toBe('');
  expect(code).toBe(0);
  return JSON.parse(out);
}

const source = expect.stringMatching(/.{10,}/);
const near = (value: number, digits = 3): unknown => expect.closeTo(value, digits);

describe('each figure answers with its fixed keys', () => {
  test.each([
    // Sources of the values: see the tests of each figure in tests/calc.
    [
      'tooth',
      { fdi: 11 },
      {
        fdi: 11,
        universal: 8,
        palmer: { quadrant: 'UR', position: 1 },
        name: 'maxillary right central incisor',
      },
    ],
    ['dose', { irradianceMwPerCm2: 1000, seconds: 20 }, { radiantExposureJPerCm2: 20 }],
    [
      'exposure',
      { irradianceMwPerCm2: 1000, doseJPerCm2: 16, transmittance: 0.5 },
      { seconds: 32, cautions: [] },
    ],
    [
      'transmittance',
      { knownTransmittance: 0.495, knownThicknessMm: 0.5, thicknessMm: 1 },
      { transmittance: near(0.245) },
    ],
    [
      'spots',
      { widthMm: 3, heightMm: 4, tipDiameterMm: 5 },
      { count: 1, spots: [{ xMm: 1.5, yMm: 2 }] },
    ],
    [
      'warmup',
      { startC: 4, roomC: 22, timeConstantSeconds: 432, withinC: 1 },
      { seconds: near(1248.6, 1) },
    ],
    [
      'working-time',
      { referenceSeconds: 240, referenceC: 23, actualC: 28, q10: 2 },
      { seconds: near(169.7, 1) },
    ],
    [
      'ambient-light',
      { passLux: 8000, passSeconds: 60, exposures: [{ lux: 24_000, seconds: 10 }] },
      { usedFraction: 0.5, secondsLeftAtLastLux: 10 },
    ],
    [
      'rounds',
      { count: 4, applySeconds: 3, rinseSeconds: 5, minSeconds: 15, maxSeconds: 30 },
      { rounds: [[15, 17, 19, 21]] },
    ],
    [
      'mixes',
      { units: 8, workingSeconds: 240, reserveSeconds: 30, leadSeconds: 20, perUnitSeconds: 30 },
      { mixes: [4, 4] },
    ],
    [
      'blue-light',
      {
        spectrum: [
          { nm: 435, wattPerM2SrNm: 1e4 },
          { nm: 440, wattPerM2SrNm: 1e4 },
        ],
      },
      { weightedRadiance: 5e4, limitSeconds: 20, cautions: [] },
    ],
    ['legibility', { distanceM: 2, arcMinutes: 20 }, { heightMm: near(11.636) }],
    [
      'temporal',
      { constraints: [{ from: 'a', to: 'b', min: 1, max: 3 }] },
      {
        consistent: true,
        bounds: { a: { a: [0, 0], b: [1, 3] }, b: { a: [-3, -1], b: [0, 0] } },
      },
    ],
    [
      'sound',
      { priority: 'medium' },
      {
        pulses: [
          { startMs: 0, durationMs: 200, hz: 660 },
          { startMs: 400, durationMs: 200, hz: 660 },
          { startMs: 800, durationMs: 200, hz: 660 },
        ],
        repeatAfterMs: 15_000,
      },
    ],
    [
      'udi',
      { text: '(01)09504000059118(17)141120(10)7654321D(21)10987654d321' },
      expect.objectContaining({
        issuer: 'GS1',
        deviceIdentifier: '09504000059118',
        lot: '7654321D',
        expiry: '2014-11-20',
        serial: '10987654d321',
        problems: [],
      }),
    ],
  ])('%s', async (name, input, expected) => {
    const came = await answer(name, input);
    expect(came).toEqual(expect.objectContaining({ source }));
    if ('asymmetricMatch' in expected) expect(came).toEqual(expected);
    else expect(came).toEqual({ ...expected, source });
  });

  test('the network of the 1991 paper: bounds as in its table', async () => {
    // Dechter, Meiri & Pearl 1991, example 1.1: John and Fred, minutes after 7:00, the branch of the
    // paper's figure 2 (John 30 to 40, Fred 40 to 50).
    const constraints = [
      { from: 'x0', to: 'x1', min: 10, max: 20 },
      { from: 'x1', to: 'x2', min: 30, max: 40 },
      { from: 'x3', to: 'x2', min: 10, max: 20 },
      { from: 'x3', to: 'x4', min: 40, max: 50 },
      { from: 'x0', to: 'x4', min: 60, max: 70 },
    ];
    expect(await answer('temporal', { constraints })).toMatchObject({
      consistent: true,
      bounds: { x0: { x1: [10, 20], x2: [40, 50], x3: [20, 30], x4: [60, 70] } },
    });
  });

  test('a side without limit is null, and null is taken for no limit', async () => {
    const constraints = [{ from: 'a', to: 'b', min: 5, max: null }];
    expect(await answer('temporal', { constraints })).toMatchObject({
      bounds: { a: { b: [5, null] }, b: { a: [null, -5] } },
    });
  });

  test('a contradiction names the constraints of one negative cycle, not the others', async () => {
    const constraints = [
      { from: 'a', to: 'b', min: 10 },
      { from: 'b', to: 'c', min: 10 },
      { from: 'a', to: 'd', min: 1, max: 2 },
      { from: 'a', to: 'c', max: 15 },
    ];
    const came = await answer('temporal', { constraints });
    expect(came).toMatchObject({ consistent: false });
    const { conflict } = came as { conflict: number[] };
    expect(conflict.toSorted()).toEqual([0, 1, 3]);
  });
});

describe('bad input ends with code 2 and one line that says where, what and what came', () => {
  test.each([
    [
      ['calc', 'dose', '{"irradianceMwPerCm2":1000,"seconds":"20s"}'],
      'calc.dose.seconds: expected a number of 0 or more, got "20s"',
    ],
    [
      ['calc', 'dose', '{"irradianceMwPerCm2":1000'],
      'calc.dose: expected one JSON object, got "{\\"irradianceMwPerCm2\\":1000"',
    ],
    [
      ['calc', 'dose', '[]'],
      'calc.dose: expected an object with the keys irradianceMwPerCm2, seconds, got []',
    ],
    [
      ['calc', 'dose', '{"irradianceMwPerCm2":1e999,"seconds":1}'],
      'calc.dose.irradianceMwPerCm2: expected a number of at most 20000, got "Infinity"',
    ],
    [
      ['calc', 'dose', '{"__proto__":1,"irradianceMwPerCm2":1,"seconds":1}'],
      'calc.dose.__proto__: expected no such key (known: irradianceMwPerCm2, seconds), got 1',
    ],
    [['calc', 'dose'], 'calc.dose: expected one JSON object, or - for standard input, got nothing'],
    [
      ['calc', 'dose', '{}', '{}'],
      'calc.dose: expected one JSON object, or - for standard input, got 2 arguments',
    ],
    [
      ['calc', 'spots', '{"widthMm":1000,"heightMm":1000,"tipDiameterMm":0.001}'],
      'calc.spots.tipDiameterMm: expected a tip that covers the surface in at most 1000 positions, got 0.001',
    ],
    [
      ['calc', 'temporal', '{"constraints":[{"from":"a","to":"b","min":"1"}]}'],
      'calc.temporal.constraints[0].min: expected a number from -1000000000000 to 1000000000000, got "1"',
    ],
    [
      ['calc', 'tooth', '{"fdi":"1\\n1"}'],
      'calc.tooth.fdi: expected a permanent tooth 11-18, 21-28, 31-38 or 41-48, got "1\\n1"',
    ],
  ])('%j', async (args, line) => {
    const { code, out, err } = await ran([...args, '--json']);
    expect(out).toBe('');
    expect(err).toBe(`${line}\n`);
    expect(code).toBe(2);
  });

  test.each([[[]], [['calc']], [['calc', 'nothing', '{}']], [['--jsn']], [['../calc', 'dose']]])(
    '%j',
    async (args) => {
      const { code, out, err } = await ran(args);
      expect(code).toBe(2);
      expect(out).toBe('');
      expect(err).toMatch(/^[^\n]+: expected one of [^\n]+, got [^\n]+\n$/);
    },
  );
});

describe('the command line itself', () => {
  test('without --json the answer reads as lines', async () => {
    const { out } = await ran(['calc', 'dose', '{"irradianceMwPerCm2":1000,"seconds":20}']);
    expect(out).toMatch(/^radiantExposureJPerCm2: 20\nsource: .+\n$/);
  });

  test('a minus reads the object from standard input', async () => {
    const { out } = await ran(
      ['calc', 'dose', '-', '--json'],
      '{"irradianceMwPerCm2":1000,"seconds":20}',
    );
    expect(JSON.parse(out)).toMatchObject({ radiantExposureJPerCm2: 20 });
  });

  test('help lists only verbs that exist', async () => {
    const { code, out } = await ran(['--help']);
    expect(code).toBe(0);
    expect(out).toContain('calc');
    expect((await ran(['calc', '--help'])).out).toContain('working-time');
  });

  test('from a real terminal: JSON on standard output, one line on standard error, the right codes', () => {
    const cli = (args: readonly string[], input = '') =>
      spawnSync(process.execPath, ['--import', 'tsx', 'src/cli/main.ts', ...args], {
        cwd: root,
        encoding: 'utf8',
        input,
      });
    const good = cli(['calc', 'legibility', '-', '--json'], '{"distanceM":1,"arcMinutes":16}');
    expect(good.status).toBe(0);
    expect(good.stderr).toBe('');
    expect(JSON.parse(good.stdout)).toMatchObject({ heightMm: near(4.654) });
    const bad = cli(['calc', 'legibility', '{"distanceM":-1,"arcMinutes":16}', '--json']);
    expect(bad.status).toBe(2);
    expect(bad.stdout).toBe('');
    expect(bad.stderr).toBe('calc.legibility.distanceM: expected a number above 0, got -1\n');
  });
});
