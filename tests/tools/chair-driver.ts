/**
 * Drives the chair screen of the built application the way people do: a click to begin, then one
 * key. What it knows it reads from the screen, and from the picture that the running window sends to
 * its far view.
 */
import type { BrowserContext, Locator, Page } from 'playwright-core';
import { BOUNCE_MS } from '../../src/runtime/keys/bounce.ts';
import type { LivePicture } from '../../src/runtime/windows/read-along.ts';

declare global {
  interface Window {
    /** What the last picture was, and when it came, on the page's own monotonic clock. */
    chairPictures: { last: LivePicture | null; atMs: number; offsetMs: number; looksOn: boolean };
  }
}

/** The bar as it stands: what a press would record, and whether it is wanted yet. */
export interface BarState {
  readonly words: string;
  readonly sub: string;
  readonly urgency: string;
  /** The stage of the protocol, as the heading names it. */
  readonly stage: string;
}

/**
 * Listens to the pictures in every page of the context. To be called before the first page opens.
 * `offsetMs` is the page's clock minus the clock of the case at 1x: the least that was seen.
 */
export async function watchPictures(context: BrowserContext): Promise<void> {
  await context.addInitScript(() => {
    window.chairPictures = {
      last: null,
      atMs: 0,
      offsetMs: Number.POSITIVE_INFINITY,
      looksOn: true,
    };
    let caseId = '';
    const channel = new BroadcastChannel('lutewatch-picture');
    // The running window sends pictures as long as another one says that it looks on.
    setInterval(() => {
      if (window.chairPictures.looksOn) channel.postMessage({ type: 'hello' });
    }, 250);
    channel.addEventListener('message', ({ data }) => {
      if (data?.type !== 'picture') return;
      const atMs = performance.now();
      const seen = window.chairPictures;
      seen.last = data.picture;
      seen.atMs = atMs;
      if (data.picture.now.runId !== caseId) seen.offsetMs = Number.POSITIVE_INFINITY;
      caseId = data.picture.now.runId;
      seen.offsetMs = Math.min(seen.offsetMs, atMs - data.picture.now.monoMs);
    });
  });
}

/** The newest picture that came; null before the first. */
export function lastPicture(page: Page): Promise<LivePicture | null> {
  return page.evaluate(() => window.chairPictures.last);
}

/**
 * Asks the running window for its picture, so that none that is still on its way is taken for it:
 * waiting for what an earlier press had to wait for would let a clock run over.
 */
export function newestPicture(page: Page): Promise<LivePicture> {
  return page.evaluate(
    () =>
      new Promise<LivePicture>((resolve) => {
        const channel = new BroadcastChannel('lutewatch-picture');
        channel.addEventListener('message', ({ data }) => {
          if (data?.type !== 'picture') return;
          channel.close();
          resolve(data.picture);
        });
        channel.postMessage({ type: 'hello' });
      }),
  );
}

/** Opens the first screen and waits until it can be used. */
export async function openToday(page: Page, address: string): Promise<void> {
  await page.goto(address);
  await page.getByRole('heading', { name: 'Today', level: 1 }).waitFor();
}

/** Two clicks on the first screen: the speed, and the case. The chair is there afterwards. */
export async function rehearse(
  page: Page,
  o: { readonly title: string; readonly speed: 1 | 10 | 60 },
): Promise<void> {
  if (o.speed !== 1) await page.getByRole('radio', { name: `${o.speed}×` }).click();
  await page.getByRole('button', { name: `Rehearse ${o.title} at ${o.speed}×` }).click();
  await page.locator('main.chair').waitFor();
}

/** Takes the unfinished case up again from the first screen. */
export async function goOn(page: Page): Promise<void> {
  await page
    .getByRole('button', { name: /^Go on/ })
    .first()
    .click();
  await page.locator('main.chair').waitFor();
}

/** Reads the bar in one go, so that its words belong together. */
export async function readBar(page: Page): Promise<BarState> {
  // No named function in here: some loaders add a helper to those, which the page does not have.
  const [words, sub, stage, urgency] = await page.evaluate(() => [
    document.querySelector('.lw-bar-words')?.textContent,
    document.querySelector('.lw-bar-sub')?.textContent,
    document.querySelector('.lw-step-detail > p')?.textContent?.split(',')[0],
    document.querySelector('.lw-bar')?.getAttribute('data-urgency'),
  ]);
  return { words: words ?? '', sub: sub ?? '', stage: stage ?? '', urgency: urgency ?? '' };
}

/** How many entries the screen shows, and how many presses are still on their way to the disk. */
export function readRecords(page: Page): Promise<{ records: number; pending: number }> {
  return page.locator('main.chair').evaluate((chair) => ({
    records: Number(chair.getAttribute('data-records')),
    pending: Number(chair.getAttribute('data-pending')),
  }));
}

/** Waits, at most `timeoutMs`, until the bar no longer says that it is early to press. */
export async function waitUntilDue(page: Page, timeoutMs = 60_000): Promise<void> {
  await page.waitForFunction(
    () => document.querySelector('.lw-bar')?.getAttribute('data-urgency') !== 'early',
    undefined,
    { timeout: timeoutMs, polling: 30 },
  );
}

/** Waits until more than `above` entries are on the screen and none is on its way. */
export async function waitForRecords(
  page: Page,
  o: { readonly above: number; readonly timeoutMs?: number },
): Promise<void> {
  await page.waitForFunction(
    (above) => {
      const chair = document.querySelector('main.chair');
      const isMore = Number(chair?.getAttribute('data-records')) > above;
      return isMore && chair?.getAttribute('data-pending') === '0';
    },
    o.above,
    { timeout: o.timeoutMs ?? 20_000, polling: 15 },
  );
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

const lastPressAtMs = new WeakMap<Page, number>();

/** Waits until another press would count: two that follow closely are one to the application. */
export async function outwaitBounce(page: Page): Promise<void> {
  const sinceMs = performance.now() - (lastPressAtMs.get(page) ?? 0);
  await pause(Math.max(0, BOUNCE_MS + 10 - sinceMs));
}

/** "Opening pause read, 5 of 10": the words of a list, with what else is said of it. */
const LIST_WORDS = /, \d+ of \d+(?:, \d+ lots? not named)?$/;
/** Within the bounds of every reading that is asked for, but those that say otherwise. */
const ANY_READING = '80';

/**
 * Gives every line of the list in hand the answer that it wants: the first choice, or a number within its
 * bounds. Does nothing where something else is in hand.
 */
export async function answerList(page: Page): Promise<void> {
  if (!LIST_WORDS.test((await readBar(page)).words)) return;
  const rows = page.locator('.chair-list > li');
  await rows.first().waitFor();
  for (let at = 0; at < (await rows.count()); at += 1) await answerLine(rows.nth(at));
}

/** A line that is held back by one before it is answered too: it is taken once that is. */
async function answerLine(row: Locator): Promise<void> {
  const field = row.getByRole('textbox');
  const choices = row.locator('.chair-list-choices button');
  if ((await row.getAttribute('data-taken')) === 'true') return;
  if ((await choices.count()) > 0) await choices.first().click();
  else if ((await field.count()) > 0) {
    await field.fill(ANY_READING);
    const problem = (await row.locator('.lw-field-problem').allInnerTexts()).join(' ');
    const least = /expected (\S+) to/.exec(problem);
    if (least) await field.fill(least[1] ?? ANY_READING);
    await field.blur();
  } else return;
  await row.and(row.page().locator('[data-taken="true"]')).waitFor({ timeout: 10_000 });
}

/**
 * Presses the key once, what is asked on a list answered before, and waits until the press is on the screen and stored.
 *
 * @returns when the key went down, on this process's monotonic clock, in ms.
 */
export async function pressOnce(page: Page, key = 'Space'): Promise<number> {
  await answerList(page);
  await outwaitBounce(page);
  const above = (await readRecords(page)).records;
  const atTestMs = performance.now();
  await page.keyboard.press(key);
  lastPressAtMs.set(page, performance.now());
  await waitForRecords(page, { above });
  return atTestMs;
}

/** Presses on, early or not, until the bar's words match. Returns the number of presses. */
export async function pressUntil(page: Page, words: RegExp): Promise<number> {
  for (let presses = 0; presses < 300; presses += 1) {
    const bar = await readBar(page);
    if (words.test(bar.words)) return presses;
    await pressOnce(page);
  }
  throw new Error(`The bar never said ${words}.`);
}

/** What one clock read, and when on the test's own clock. */
export interface ClockReading {
  readonly of: string;
  readonly kind: string;
  readonly subject: string;
  readonly loMs: number;
  readonly hiMs: number;
  readonly targetMs: number | null;
  /** On this process's monotonic clock (`performance.now()`), in ms. */
  readonly atTestMs: number;
}

/** The running clocks of the newest picture, one for each subject. */
export async function readClocks(page: Page): Promise<readonly ClockReading[]> {
  const askedAtMs = performance.now();
  const { last, ageMs } = await page.evaluate(() => ({
    last: window.chairPictures.last,
    ageMs: performance.now() - window.chairPictures.atMs,
  }));
  const atTestMs = (askedAtMs + performance.now()) / 2 - ageMs;
  return (last?.view.clocks ?? []).flatMap((clock) =>
    clock.subjects.map((subject) => ({
      of: clock.of,
      kind: clock.kind,
      subject,
      loMs: clock.elapsed.loMs,
      hiMs: clock.elapsed.hiMs,
      targetMs: clock.targetMs,
      atTestMs,
    })),
  );
}

/** The events that the store holds, in order: what the screen does not tell apart. */
export function storedEvents(page: Page): Promise<readonly Record<string, unknown>[]> {
  return page.evaluate(async () => {
    const open = indexedDB.open('lutewatch');
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      open.onsuccess = () => resolve(open.result);
      open.onerror = () => reject(open.error);
    });
    const all = database.transaction('entries').objectStore('entries').getAll();
    const rows = await new Promise<{ event?: Record<string, unknown> }[]>((resolve) => {
      all.onsuccess = () => resolve(all.result);
    });
    database.close();
    return rows.flatMap(({ event }) => (event === undefined ? [] : [event]));
  });
}

/** Events that the app notes by itself: nobody watched for a while, or it was found whether tones are heard. */
const NOTED: ReadonlySet<unknown> = new Set(['gap-found', 'tones-heard']);

/** Whether an event came of a press. What the app notes by itself comes once more on a slow machine. */
export const isPressed = ({ type }: { readonly type?: unknown }): boolean => !NOTED.has(type);

/** How many stored events of all cases came of presses. */
export async function storedPresses(page: Page): Promise<number> {
  return (await storedEvents(page)).filter(isPressed).length;
}
