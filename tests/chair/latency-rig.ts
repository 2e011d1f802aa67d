/**
 * Measures how late the chair is, in a real browser, beside a bare page that does nothing but draw one
 * number at its due instant: from the instant at which something becomes due to the painted frame and to
 * the start of its tone, and the share of the processor that sixty running clocks take. Times in ms.
 */
import type { Browser, BrowserContext, CDPSession, Page } from 'playwright-core';
import { present } from '../../src/base/assert.ts';
import type { CaseEvent, Stamp } from '../../src/engine/types.ts';
import { UNWATCHED_AFTER_MS } from '../../src/runtime/windows/second-screen.ts';
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
      keys: number[];
    };
    bare: { lateMs: number[] };
  }
}

/** Without a touch no page may sound; here no person is there to touch it. */
export const SOUND_ARGS = ['--autoplay-policy=no-user-gesture-required'];

/** A screen that turns before its time must be seen too. */
const AHEAD_MS = 100;
/** Between two numbers of the bare page: as long as two frames at least, each at another phase. */
const BARE_EVERY_MS = { min: 120, max: 290 };

export interface Spread {
  readonly n: number;
  readonly p50: number;
  readonly p99: number;
  readonly max: number;
}

export function spread(values: readonly number[]): Spread {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (share: number): number =>
    present(sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))], 'a value');
  return { n: sorted.length, p50: at(0.5), p99: at(0.99), max: at(1) };
}

/** Notes in the page, on its own monotonic clock, what was painted and which keys came. */
async function watchLatency(page: Page): Promise<void> {
  await page.addInitScript(() => {
    window.latency = { flips: [], tones: [], keys: [] };
    let before = '';
    const painted = (then: (atMs: number) => void): void => {
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => then(performance.now());
        port2.postMessage(null);
      });
    };
    addEventListener('keydown', () => window.latency.keys.push(performance.now()), true);
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
    const { createGain } = BaseAudioContext.prototype;
    BaseAudioContext.prototype.createGain = function () {
      context = this;
      return createGain.call(this);
    };
    const { start, stop } = OscillatorNode.prototype;
    const tones = new WeakMap<OscillatorNode, { startMs: number; isCut: boolean }>();
    OscillatorNode.prototype.start = function (when = 0) {
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

/** A page with its own line to the browser. */
export interface Watched {
  readonly page: Page;
  readonly session: CDPSession;
}

async function watched(context: BrowserContext, page: Page): Promise<Watched> {
  const session = await context.newCDPSession(page);
  // Time of the thread itself, not of the wall: other programs of the machine do not count.
  await session.send('Performance.enable', { timeDomain: 'threadTicks' });
  return { page, session };
}

/** Some loaders add a helper to every named function, which a page does not have. */
async function newContext(browser: Browser): Promise<BrowserContext> {
  const context = await browser.newContext({ viewport: { width: 1180, height: 820 } });
  await context.addInitScript('globalThis.__name ??= (named) => named;');
  return context;
}

/** A rehearsal with sixty running clocks, at the first exposure. */
export async function openSixtyClocks(
  browser: Browser,
  address: string,
): Promise<Watched & { readonly clocks: number }> {
  const context = await newContext(browser);
  await watchPictures(context);
  const page = await context.newPage();
  await watchLatency(page);
  await watchTones(page);
  await openToday(page, address);
  await storeManyClocks(page);
  await openToday(page, address);
  await rehearse(page, { title: MANY_TITLE, speed: 1 });
  await pressUntil(page, /^Light on/);
  const clocks = (await lastPicture(page))?.view.clocks.length ?? 0;
  return { ...(await watched(context, page)), clocks };
}

/** Pictures for another window: wanted, or no longer sent. */
export async function letLookOn(page: Page, looksOn: boolean): Promise<void> {
  await page.evaluate((wanted) => {
    window.chairPictures.looksOn = wanted;
  }, looksOn);
  if (!looksOn) await page.waitForTimeout(UNWATCHED_AFTER_MS + 500);
}

/** A page that draws a number at a due instant, and knows how late each was painted. */
export async function openBare(browser: Browser): Promise<Watched> {
  const context = await newContext(browser);
  const page = await context.newPage();
  await page.goto('about:blank');
  await page.setContent('<title>bare</title><p style="font-size:200px" id="number">0</p>');
  return watched(context, page);
}

/** How late the bare page painted, for as many due instants. */
export async function measureBare(page: Page, count: number): Promise<number[]> {
  return page.evaluate(
    ({ wanted, every }) =>
      new Promise<number[]>((resolve) => {
        const lateMs: number[] = [];
        const number = document.getElementById('number');
        let dueMs = 0;
        const next = (): void => {
          if (lateMs.length === wanted) {
            resolve(lateMs);
            return;
          }
          dueMs = performance.now() + every.min + Math.random() * (every.max - every.min);
          setTimeout(draw, dueMs - performance.now());
        };
        const draw = (): void => {
          if (number) number.textContent = String(lateMs.length + 1);
          requestAnimationFrame(() => {
            const { port1, port2 } = new MessageChannel();
            port1.onmessage = () => {
              lateMs.push(performance.now() - dueMs);
              next();
            };
            port2.postMessage(null);
          });
        };
        next();
      }),
    { wanted: count, every: BARE_EVERY_MS },
  );
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

interface Begun {
  /** When the press was made and when its exposure ends, on the clock of the case. */
  readonly atMs: number;
  readonly dueMs: number;
}

/**
 * The exposures since entry `from`, from the journal on the disk, so that no picture has to be sent to
 * anybody for them.
 */
function begunSince(page: Page, from: number): Promise<{ begun: Begun[]; to: number }> {
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
    const begun = entries.result.flatMap(({ seq, stamp, event }) =>
      seq > above && event.type === 'exposure-started'
        ? [{ atMs: stamp.monoMs, dueMs: stamp.monoMs + event.setMs }]
        : [],
    );
    return { begun, to: Math.max(...entries.result.map(({ seq }) => seq)) };
  }, from);
}

/**
 * The page's clock minus the clock of the case. A picture comes after its instant and a key before that of
 * its press, so the truth lies between; the side of the keys is taken, which makes nothing look earlier
 * than it was.
 */
function offsetOf(o: { keys: readonly number[]; begun: readonly Begun[]; byPictures: number }) {
  const byKeys = o.begun.flatMap(({ atMs }) => {
    const key = o.keys.findLast((keyMs) => keyMs <= atMs + o.byPictures);
    return key === undefined || atMs + o.byPictures - key > AHEAD_MS ? [] : [key - atMs];
  });
  return byKeys.length === 0 ? o.byPictures : Math.max(...byKeys);
}

/** How late the chair was, one number for each due instant. */
export interface Late {
  readonly drawn: readonly number[];
  readonly painted: readonly number[];
  readonly tone: readonly number[];
}

/** Runs `count` exposures, each ended as soon as it is due, and reads off how late the screen was. */
export async function measureChair(page: Page, count: number): Promise<Late> {
  await page.evaluate(() => {
    window.latency.flips = [];
    window.latency.tones = [];
    window.latency.keys = [];
  });
  const { to: from } = await begunSince(page, 0);
  for (let press = 0; press < count; press += 1) {
    await waitUntilDue(page);
    await page.waitForTimeout(100);
    await pressOnce(page);
  }
  const { latency, byPictures } = await page.evaluate(() => ({
    latency: window.latency,
    byPictures: window.chairPictures.offsetMs,
  }));
  const { begun } = await begunSince(page, from);
  const offsetMs = offsetOf({ keys: latency.keys, begun, byPictures });
  const dues = begun.map(({ dueMs }) => dueMs + offsetMs);
  const tones = latency.tones.filter((t) => !t.isCut).map((t) => t.startMs);
  const sounded = dues.filter((dueMs) => tones.some((s) => Math.abs(s - dueMs) < 500));
  return {
    drawn: turns(
      dues,
      latency.flips.map((f) => f.seenMs),
    ),
    painted: turns(
      dues,
      latency.flips.map((f) => f.paintedMs),
    ),
    tone: sounded.map((dueMs) => Math.abs(off(tones, dueMs))),
  };
}

/**
 * Does something with the processor slowed for one page; 1 leaves it as it is. Never two at a time: a slowed
 * page keeps a processor busy with doing nothing, and would slow the other one besides.
 */
export async function slowed<T>(
  { session }: Watched,
  rate: number,
  work: () => Promise<T>,
): Promise<T> {
  await session.send('Emulation.setCPUThrottlingRate', { rate });
  const done = await work();
  await session.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  return done;
}

/** The share of the time in which the page's main thread is busy, in percent, over some seconds. */
export async function busyShare({ page, session }: Watched, forMs: number): Promise<number> {
  const read = async (): Promise<number> => {
    const { metrics } = await session.send('Performance.getMetrics');
    return present(
      metrics.find((m) => m.name === 'TaskDuration'),
      'the metric',
    ).value;
  };
  const before = await read();
  const startedAtMs = performance.now();
  await page.waitForTimeout(forMs);
  const busyS = (await read()) - before;
  return (100 * busyS * 1000) / (performance.now() - startedAtMs);
}
