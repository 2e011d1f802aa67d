/** A part of the simulation with fixed seeds, and every invariant seen to fail. */
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import * as v from 'valibot';
import { beforeAll, describe, expect, test } from 'vitest';
import { isLong, runSeed, runSize } from '../tools/run-size.ts';
import { bundle } from './bundle.ts';

const run = promisify(execFile);
let file = '';

beforeAll(async () => {
  file = await bundle();
});

/** The lines that the simulator prints; it fails when something was broken. */
async function lines(...args: readonly string[]): Promise<readonly unknown[]> {
  const { stdout } = await run(process.execPath, [file, ...args], { maxBuffer: 1e8 });
  return stdout
    .trim()
    .split('\n')
    .map((line): unknown => JSON.parse(line));
}

const sumSchema = v.object({ presses: v.number(), faultsInAll: v.number(), kills: v.number() });
const spoiltSchema = v.object({ spoil: v.string(), invariant: v.string(), found: v.string() });

describe('the app on simulated time', () => {
  const presses = runSize({ long: 100_000, part: 500 });

  test(`keeps what it promises over ${presses} presses`, async () => {
    const told = await lines('--presses', `${presses}`, '--seed', `${runSeed()}`);
    const sum = v.parse(sumSchema, told.at(-1));
    expect(sum.presses).toBeGreaterThanOrEqual(presses);
    expect(sum.faultsInAll).toBeGreaterThan(presses / 10);
    expect(sum.kills).toBeGreaterThan(presses / 50);
  }, 600_000);

  test('is told from one that breaks a promise, for each of them', async () => {
    const told = (await lines('--spoilt')).map((line) => v.parse(spoiltSchema, line));
    expect(told.length).toBeGreaterThan(10);
    for (const { spoil, invariant, found } of told) {
      expect([spoil, found.split(':')[0]]).toEqual([spoil, invariant]);
    }
  });
});

describe('three tablets and one store on simulated time', () => {
  test('end alike, with everything that was acknowledged and nothing else', async () => {
    const size = isLong ? ['--hours', '3'] : ['--hours', '0.005', '--episode', '0.01'];
    const told = await lines('--clinic', ...size, '--seed', `${runSeed()}`);
    const sum = v.parse(sumSchema, told.at(-1));
    expect(sum.presses).toBeGreaterThan(20);
    expect(sum.faultsInAll).toBeGreaterThan(5);
  }, 6_000_000);

  test.runIf(isLong)(
    'are told from those that break a promise, for each of them',
    async () => {
      const told = (await lines('--clinic', '--spoilt')).map((line) => v.parse(spoiltSchema, line));
      expect(told.length).toBeGreaterThan(4);
      for (const { spoil, invariant, found } of told) {
        expect([spoil, found.split(':')[0]]).toEqual([spoil, invariant]);
      }
    },
    600_000,
  );
});
