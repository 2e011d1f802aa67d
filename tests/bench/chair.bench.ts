/**
 * How late the chair is beside a bare page, in the same run and in turn: 300 due instants each, at full
 * speed and with the processor slowed six times; and what sixty running clocks cost while nobody presses.
 * LUTEWATCH_READINGS takes fewer. Some twenty minutes.
 */
import { pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import {
  busyShare,
  letLookOn,
  measureBare,
  measureChair,
  openBare,
  openSixtyClocks,
  SOUND_ARGS,
  slowed,
  spread,
} from '../chair/latency-rig.ts';
import { launchBrowser } from '../tools/browser.ts';
import { buildForRun, serveBuilt } from '../tools/built-app.ts';
import unpackBrowser from '../tools/unpack-browser.ts';

interface Measured {
  readonly name: string;
  readonly unit: 'ms' | 'times' | 'percent';
  readonly p50?: number;
  readonly p99: number;
  readonly max?: number;
  readonly n: number;
}

const READINGS = Number(process.env['LUTEWATCH_READINGS'] ?? 300);
/** A case has ninety exposures; some are pressed before and after what is measured. */
const A_CASE = 43;
const SPEEDS = [
  { rate: 1, words: '' },
  { rate: 6, words: ', processor slowed six times' },
] as const;
const IDLE_MS = 6000;

interface Readings {
  readonly bare: number[];
  readonly painted: number[];
  readonly tone: number[];
  readonly idle: number[];
}

const none = (): Readings => ({ bare: [], painted: [], tone: [], idle: [] });

/** One case from its start; what it gives is added to `all`, by speed. */
async function oneCase(o: {
  readonly browser: Browser;
  readonly address: string;
  readonly count: number;
  readonly all: readonly Readings[];
}): Promise<void> {
  const bare = await openBare(o.browser);
  const chair = await openSixtyClocks(o.browser, o.address);
  if (chair.clocks < 60) throw new Error(`only ${chair.clocks} clocks run`);
  await letLookOn(chair.page, false);
  for (const [at, { rate }] of SPEEDS.entries()) {
    const readings = o.all[at] ?? none();
    readings.bare.push(...(await slowed(bare, rate, () => measureBare(bare.page, o.count))));
    readings.idle.push(await slowed(chair, rate, () => busyShare(chair, IDLE_MS)));
    const late = await slowed(chair, rate, () => measureChair(chair.page, o.count + 1));
    readings.painted.push(...late.painted);
    readings.tone.push(...late.tone);
  }
  await chair.page.context().close();
  await bare.page.context().close();
}

function told(words: string, { bare, painted, tone, idle }: Readings): Measured[] {
  const ms = (name: string, values: readonly number[]): Measured => ({
    name: `chair ${name}${words}`,
    unit: 'ms',
    ...spread(values),
  });
  const chair = ms('due to painted', painted);
  const page = ms('bare page, due to painted', bare);
  return [
    chair,
    page,
    {
      name: `chair due to painted, share of the time of the bare page${words}`,
      unit: 'times',
      p50: (chair.p50 ?? 0) / (page.p50 ?? 1),
      p99: chair.p99 / page.p99,
      n: chair.n,
    },
    ms('due to tone, either way', tone),
    { name: `chair main thread, sixty clocks${words}`, unit: 'percent', ...spread(idle) },
  ];
}

export default async function chairBench(): Promise<Measured[]> {
  await unpackBrowser();
  const forget = await buildForRun();
  const served = await serveBuilt();
  const browser = await launchBrowser({ args: SOUND_ARGS });
  const all = SPEEDS.map(none);
  try {
    for (let left = READINGS; left > 0; left -= A_CASE) {
      const count = Math.min(left, A_CASE);
      await oneCase({ browser, address: served.address, count, all });
    }
  } finally {
    await browser.close();
    await served.stop();
    await forget();
  }
  return SPEEDS.flatMap(({ words }, at) => told(words, all[at] ?? none()));
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  for (const row of await chairBench()) console.log(JSON.stringify(row));
}
