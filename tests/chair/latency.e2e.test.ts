/**
 * How late the chair screen is: from the instant at which something becomes due to the painted frame
 * and to the start of its tone, with sixty running clocks.
 */
import type { Browser, CDPSession, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import type { CaseEvent, Stamp } from '../../src/engine/types.ts';
import { UNWATCHED_AFTER_MS } from '../../src/runtime/windows/second-screen.ts';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import {
  lastPicture,
  openToday,
  pressOnce,
  pressUntil,
  rehearse,
  waitUntilDue,
  watchPictures,
} from '../tools/chair-driver.ts';
import { MANY_TITLE, storeManyClocks } from './many-clocks.ts';

declare global {
  interface Window {
    latency: {
      flips: { seenMs: number; paintedMs: number }[];
      tones: { startMs: number; isCut: boolean }[];
    };
  }
}

const DUES = 24;
const FRAME_MS = 1000 / 60;
/** A screen that turns before its time must be seen too. */
const AHEAD_MS = 100;
/** Loose bounds for a busy machine; the aims are a frame and 20 ms, and 10 ms. */
const PAINT_P50_MS_MAX = 200;
const PAINT_SLOW_P50_MS_MAX = 600;
const TONE_P50_MS_MAX = 20;

let served: Served;
let browser: Browser;

beforeAll(async () => {
  served = await serveBuilt();
  browser = await launchBrowser({ args: ['--autoplay-policy=no-user-gesture-required'] });
});

afterAll(async () => {
  await browser.close();
  await served.stop();
});

/** Notes in the page, on its own monotonic clock, what was painted and what sounds. */
async function watchLatency(page: Page): Promise<void> {
  await page.addInitScript(() => {
    window.latency = { flips: [], tones: [] };
    let before = '';
    const painted = (then: (atMs: number) => void): void => {
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => then(performance.now());
        port2.postMessage(null);
      });
    };
    new MutationObserver(() => {
      const urgency = document.querySelector('.lw-bar')?.getAttribute('data-urgency') ?? '';
      const isFlip = before === 'early' && urgency !== 'early';
      before = urgency;
      if (!isFlip) return;
      const seenMs = performance.now();
      painted((paintedMs) => window.latency.flips.push({ seenMs, paintedMs }));
    }).observe(document, {
      subtree: true,
      childList: true,
      attributeFilter: ['data-urgency'],
    });
  });
}

/** Notes when each tone is set to start; the two clocks are compared over many blocks of sound. */
async function watchTones(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const aheadMs: number[] = [];
    let context: BaseAudioContext | null = null;
    setInterval(() => {
      if (context === null) return;
      aheadMs.push(performance.now() - context.currentTime * 1000);
      if (aheadMs.length > 60) aheadMs.shift();
    }, 50);
    const median = (): number => [...aheadMs].sort((a, b) => a - b)[aheadMs.length >> 1] ?? NaN;
    const { start, stop } = OscillatorNode.prototype;
    const tones = new WeakMap<OscillatorNode, { startMs: number; isCut: boolean }>();
    OscillatorNode.prototype.start = function (when = 0) {
      ({ context } = this);
      const tone = { startMs: when * 1000 + median(), isCut: false };
      tones.set(this, tone);
      window.latency.tones.push(tone);
      return start.call(this, when);
    };
    OscillatorNode.prototype.stop = function (when = 0) {
      const tone = tones.get(this);
      if (tone !== undefined && when * 1000 + median() < tone.startMs + 30) tone.isCut = true;
      return stop.call(this, when);
    };
  });
}

interface Spread {
  readonly n: number;
  readonly p50: number;
  readonly p99: number;
  readonly max: number;
}

function spread(values: readonly number[]): Spread {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (share: number): number =>
    present(sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))], 'a value');
  return { n: sorted.length, p50: at(0.5), p99: at(0.99), max: at(1) };
}

function told(title: string, { n, p50, p99, max }: Spread): void {
  const ms = (value: number): string => `${value.toFixed(1)} ms`;
  console.info(`${title}: p50 ${ms(p50)}, p99 ${ms(p99)}, worst ${ms(max)} of ${n}`);
}

/** The nearest of `instants`, as a difference. */
function off(instants: readonly number[], dueMs: number): number {
  const nearest = [...instants].sort((a, b) => Math.abs(a - dueMs) - Math.abs(b - dueMs))[0];
  return present(nearest, 'an instant to compare with') - dueMs;
}

/** How late the screen turned for each due instant, however late that was. */
function turns(dues: readonly number[], seen: readonly number[]): number[] {
  return dues.flatMap((dueMs, at) => {
    const until = dues[at + 1] ?? Number.POSITIVE_INFINITY;
    const turned = seen.find((atMs) => atMs > dueMs - AHEAD_MS && atMs < until);
    // The exposure that the last press began is still on.
    return turned === undefined ? [] : [turned - dueMs];
  });
}

/**
 * When each exposure since entry `from` was due to end, on the clock of the case: from the journal on
 * the disk, so that no picture has to be sent to anybody for it.
 */
function duesOf(page: Page, from: number): Promise<{ dues: number[]; to: number }> {
  return page.evaluate(async (above) => {
    const open = indexedDB.open('lutewatch');
    await new Promise((resolve, reject) => {
      open.onsuccess = resolve;
      open.onerror = reject;
    });
    const entries: IDBRequest<{ seq: number; stamp: Stamp; event: CaseEvent }[]> = open.result
      .transaction('entries', 'readonly')
      .objectStore('entries')
      .getAll();
    await new Promise((resolve, reject) => {
      entries.onsuccess = resolve;
      entries.onerror = reject;
    });
    open.result.close();
    const dues = entries.result.flatMap(({ seq, stamp, event }) =>
      seq > above && event.type === 'exposure-started' ? [stamp.monoMs + event.setMs] : [],
    );
    return { dues, to: Math.max(...entries.result.map(({ seq }) => seq)) };
  }, from);
}

/** Runs `count` exposures, each ended as soon as it is due, and reads off how late the screen was. */
async function measure(page: Page, count: number) {
  await page.evaluate(() => {
    window.latency.flips = [];
    window.latency.tones = [];
  });
  const { to: from } = await duesOf(page, 0);
  for (let press = 0; press < count; press += 1) {
    await waitUntilDue(page);
    await page.waitForTimeout(150);
    await pressOnce(page);
  }
  const { latency, offsetMs } = await page.evaluate(() => ({
    latency: window.latency,
    offsetMs: window.chairPictures.offsetMs,
  }));
  const dues = (await duesOf(page, from)).dues.map((dueMs) => dueMs + offsetMs);
  const tones = latency.tones.filter((t) => !t.isCut).map((t) => t.startMs);
  const sounded = dues.filter((dueMs) => tones.some((s) => Math.abs(s - dueMs) < 500));
  const drawn = turns(
    dues,
    latency.flips.map((f) => f.seenMs),
  );
  const painted = turns(
    dues,
    latency.flips.map((f) => f.paintedMs),
  );
  return {
    drawn: spread(drawn),
    painted: spread(painted),
    tone: spread(sounded.map((dueMs) => Math.abs(off(tones, dueMs)))),
  };
}

/** The share of the time in which the page's main thread is busy, in percent, over some seconds. */
async function busyShare(page: Page, session: CDPSession): Promise<number> {
  const read = async (): Promise<number> => {
    const { metrics } = await session.send('Performance.getMetrics');
    return present(
      metrics.find((m) => m.name === 'TaskDuration'),
      'the metric',
    ).value;
  };
  const before = await read();
  const startedAtMs = performance.now();
  await page.waitForTimeout(6000);
  const busyS = (await read()) - before;
  return (100 * busyS * 1000) / (performance.now() - startedAtMs);
}

async function sixtyClocks(): Promise<{ page: Page; session: CDPSession }> {
  const context = await browser.newContext({ viewport: { width: 1180, height: 820 } });
  await watchPictures(context);
  const page = await context.newPage();
  await watchLatency(page);
  await watchTones(page);
  await openToday(page, served.address);
  await storeManyClocks(page);
  await openToday(page, served.address);
  await rehearse(page, { title: MANY_TITLE, speed: 1 });
  await pressUntil(page, /^Light on/);
  const clocks = (await lastPicture(page))?.view.clocks.length ?? 0;
  expect(clocks).toBeGreaterThanOrEqual(60);
  const session = await context.newCDPSession(page);
  // Time of the thread itself, not of the wall: other programs of the machine do not count.
  await session.send('Performance.enable', { timeDomain: 'threadTicks' });
  return { page, session };
}

test('what becomes due is painted and heard at once, also when the processor is slow', async () => {
  const { page, session } = await sixtyClocks();
  const watched = await busyShare(page, session);
  console.info(`the same, pictures sent to another window: ${watched.toFixed(1)} %`);
  await page.evaluate(() => {
    window.chairPictures.looksOn = false;
  });
  await page.waitForTimeout(UNWATCHED_AFTER_MS + 500);
  const idle = await busyShare(page, session);
  console.info(`main thread busy while 60 clocks run and nobody presses: ${idle.toFixed(1)} %`);
  await pressOnce(page);
  const usual = await measure(page, DUES);
  await session.send('Emulation.setCPUThrottlingRate', { rate: 6 });
  const slow = await measure(page, DUES);
  const slowIdle = await busyShare(page, session);
  console.info(`the same, processor slowed six times: ${slowIdle.toFixed(1)} %`);
  // Once more as it is with a second screen, which is sent every picture.
  await page.evaluate(() => {
    window.chairPictures.looksOn = true;
  });
  await session.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  const shared = await measure(page, DUES / 2);
  told('due to drawn', usual.drawn);
  told('due to painted frame', usual.painted);
  told('due to tone, either way', usual.tone);
  told('due to drawn, slowed six times', slow.drawn);
  told('due to painted frame, slowed six times', slow.painted);
  told('due to tone, slowed six times', slow.tone);
  told('due to painted frame, pictures sent to another window', shared.painted);
  for (const { n } of [usual.painted, slow.painted]) expect(n).toBeGreaterThan(DUES / 2);
  for (const { n } of [usual.tone, slow.tone]) expect(n).toBeGreaterThan(DUES / 2);
  expect(usual.painted.p50).toBeLessThan(PAINT_P50_MS_MAX + FRAME_MS);
  expect(slow.painted.p50).toBeLessThan(PAINT_SLOW_P50_MS_MAX + FRAME_MS);
  expect(usual.tone.p50).toBeLessThan(TONE_P50_MS_MAX);
  expect(slow.tone.p50).toBeLessThan(TONE_P50_MS_MAX);
  // A screen ahead of its time would be as wrong as one behind it.
  expect(usual.drawn.p50).toBeGreaterThan(-5);
  await page.context().close();
}, 240_000);
