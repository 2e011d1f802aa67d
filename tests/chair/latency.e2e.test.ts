/**
 * How late the chair screen is: from the instant at which something becomes due to the painted frame
 * and to the start of its tone, with sixty running clocks, and beside a bare page that draws one number.
 * A few readings with loose bounds, for a machine that may be busy; `npm run bench` takes three hundred.
 */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import { pressOnce } from '../tools/chair-driver.ts';
import { runSize } from '../tools/run-size.ts';
import {
  busyShare,
  letLookOn,
  measureBare,
  measureChair,
  openBare,
  openSixtyClocks,
  SOUND_ARGS,
  type Spread,
  slowed,
  spread,
} from './latency-rig.ts';

const DUES = runSize({ long: 24, part: 4 });
const IDLE_MS = 4000;
const FRAME_MS = 1000 / 60;
/** Loose bounds for a busy machine; the aims are one and a half times the bare page, and 10 ms. */
const PAINT_P50_MS_MAX = 200;
const PAINT_SLOW_P50_MS_MAX = 600;
const TONE_P50_MS_MAX = 20;

let served: Served;
let browser: Browser;

beforeAll(async () => {
  served = await serveBuilt();
  browser = await launchBrowser({ args: SOUND_ARGS });
});

afterAll(async () => {
  await browser.close();
  await served.stop();
});

function told(title: string, { n, p50, p99, max }: Spread): void {
  const ms = (value: number): string => `${value.toFixed(1)} ms`;
  console.info(`${title}: p50 ${ms(p50)}, p99 ${ms(p99)}, worst ${ms(max)} of ${n}`);
}

test('what becomes due is painted and heard at once, also when the processor is slow', async () => {
  const chair = await openSixtyClocks(browser, served.address);
  const bare = await openBare(browser);
  const { page } = chair;
  expect(chair.clocks).toBeGreaterThanOrEqual(60);
  await letLookOn(page, false);
  const idle = await busyShare(chair, IDLE_MS);
  console.info(`main thread busy while 60 clocks run and nobody presses: ${idle.toFixed(1)} %`);
  await pressOnce(page);
  for (const { rate, words, paintMs } of [
    { rate: 1, words: '', paintMs: PAINT_P50_MS_MAX },
    { rate: 6, words: ', slowed six times', paintMs: PAINT_SLOW_P50_MS_MAX },
  ]) {
    const bareLate = await slowed(bare, rate, () => measureBare(bare.page, DUES));
    told(`bare page, due to painted frame${words}`, spread(bareLate));
    const late = await slowed(chair, rate, () => measureChair(page, DUES));
    const [drawn, painted, tone] = [spread(late.drawn), spread(late.painted), spread(late.tone)];
    told(`due to drawn${words}`, drawn);
    told(`due to painted frame${words}`, painted);
    told(`due to tone, either way${words}`, tone);
    for (const { n } of [painted, tone]) expect(n).toBeGreaterThan(DUES / 2);
    expect(painted.p50).toBeLessThan(paintMs + FRAME_MS);
    expect(tone.p50).toBeLessThan(TONE_P50_MS_MAX);
    // A screen ahead of its time would be as wrong as one behind it.
    expect(drawn.p50).toBeGreaterThan(-5);
  }
  // Once more as it is with a second screen, which is sent every picture.
  await letLookOn(page, true);
  const shared = spread((await measureChair(page, DUES / 2)).painted);
  told('due to painted frame, pictures sent to another window', shared);
  expect(shared.n).toBeGreaterThan(0);
  await page.context().close();
  await bare.page.context().close();
}, 240_000);
