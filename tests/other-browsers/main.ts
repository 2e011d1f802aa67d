/**
 * Runs the beginning of a case in browsers other than the one that the tests use: `npm run browsers`.
 * Each finding is one JSON line. A browser that this machine does not have is named as skipped; a
 * finding that is not as it must be ends the run with 1. Pictures go to .screens/.
 */
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildForRun, serveBuilt } from '../tools/built-app.ts';
import { firefox } from './firefox.ts';
import { type OtherBrowser, pause } from './other-browser.ts';
import { webkit } from './webkit.ts';

const OUT_DIR = fileURLToPath(new URL('../../.screens/', import.meta.url));
const REHEARSE = 'button[aria-label="Rehearse Eight upper veneers at 1×"]';
/** Longer than two presses that count as one. */
const BETWEEN_PRESSES_MS = 600;
const CLOCK_ERROR_MS_MAX = 400;

interface Seen {
  readonly bar: string;
  readonly records: number;
  readonly pending: number;
  readonly figure: string;
  readonly atMs: number;
}

const SEEN = `
  const chair = document.querySelector('main.chair');
  return {
    bar: document.querySelector('.lw-bar-words')?.textContent ?? '',
    records: Number(chair?.getAttribute('data-records') ?? -1),
    pending: Number(chair?.getAttribute('data-pending') ?? -1),
    figure: document.querySelector('.lw-clock-figure, .lw-watch-figure')?.textContent ?? '',
    atMs: performance.now(),
  };`;

const KEEP_WORKER_STATE = `
  const look = async () => {
    const [found] = await navigator.serviceWorker.getRegistrations();
    window.workerState = found?.active?.state ?? 'none';
  };
  window.workerState = 'unknown';
  setInterval(look, 200);`;

let failures = 0;

function told(browser: OtherBrowser, finding: string, isGood: boolean, measured: unknown): void {
  if (!isGood) failures += 1;
  const { name, version } = browser;
  console.log(JSON.stringify({ browser: name, version, finding, isGood, measured }));
}

async function until<T>(ask: () => Promise<T>, isEnough: (value: T) => boolean): Promise<T> {
  for (let tries = 0; tries < 100; tries += 1) {
    const value = await ask().catch(() => undefined);
    if (value !== undefined && isEnough(value)) return value;
    await pause(100);
  }
  return ask();
}

/** The clock of the first acid, in ms to its target, and when it was read. */
const secondsOf = (figure: string): number => {
  const [minutes = 0, seconds = 0] = figure.split(':').map(Number);
  return minutes * 60 + seconds;
};

async function pressToFirstClock(browser: OtherBrowser): Promise<Seen> {
  const see = () => browser.ask<Seen>(SEEN);
  await browser.click(REHEARSE);
  let seen = await until(see, (s) => s.records > 0);
  for (let presses = 0; presses < 40 && seen.figure === ''; presses += 1) {
    const before = seen.records;
    await browser.pressSpace();
    seen = await until(see, (s) => s.records > before && s.pending === 0);
    await pause(BETWEEN_PRESSES_MS);
  }
  return see();
}

/** Follows the figure for some seconds: it must fall as the page's own clock goes. */
async function clockError(browser: OtherBrowser): Promise<number> {
  const see = () => browser.ask<Seen>(SEEN);
  const turnOf = async (from: Seen): Promise<Seen> => {
    for (;;) {
      const seen = await see();
      if (seen.figure !== from.figure) return seen;
    }
  };
  const first = await turnOf(await see());
  await pause(4000);
  const last = await turnOf(await see());
  const fellMs = (secondsOf(first.figure) - secondsOf(last.figure)) * 1000;
  return Math.abs(fellMs - (last.atMs - first.atMs));
}

async function keepPicture(browser: OtherBrowser, name: string): Promise<void> {
  await mkdir(OUT_DIR, { recursive: true });
  const file = `${browser.name.toLowerCase()}-${name}.png`;
  await writeFile(join(OUT_DIR, file), await browser.picture());
}

async function runCase(browser: OtherBrowser): Promise<void> {
  const served = await serveBuilt();
  await browser.open(served.address);
  const title = `return document.querySelector('h1')?.textContent ?? '';`;
  const heading = await until(
    () => browser.ask<string>(title),
    (h) => h === 'Today',
  );
  told(browser, 'the first screen opens', heading === 'Today', heading);
  await keepPicture(browser, 'today');
  const clocked = await pressToFirstClock(browser);
  told(browser, 'one key brings the case to its first clock', clocked.figure !== '', clocked);
  await keepPicture(browser, 'chair');
  const errorMs = await clockError(browser);
  told(browser, 'the figure falls with time', errorMs < CLOCK_ERROR_MS_MAX, { errorMs });
  await browser.ask(KEEP_WORKER_STATE);
  const state = await until(
    () => browser.ask<string>(`return window.workerState;`),
    (word) => word === 'activated',
  );
  told(browser, 'the service worker keeps the files', state === 'activated', state);
  const { records } = await browser.ask<Seen>(SEEN);
  await served.stop();
  await browser.open(served.address);
  const goOn = `return [...document.querySelectorAll('button')].some((b) => /^Go on/.test(b.ariaLabel ?? b.textContent));`;
  const isThere = await until(() => browser.ask<boolean>(goOn), Boolean);
  told(browser, 'with the server gone it opens again and offers the case', isThere, isThere);
  await browser.ask(
    `[...document.querySelectorAll('button')].find((b) => /^Go on/.test(b.ariaLabel ?? b.textContent))?.click();`,
  );
  const again = await until(
    () => browser.ask<Seen>(SEEN),
    (s) => s.records >= records,
  );
  told(browser, 'nothing pressed is lost', again.records >= records, { records, again });
  await keepPicture(browser, 'resumed');
}

const removeBuilt = await buildForRun();
try {
  for (const maker of [webkit, firefox]) {
    const browser = await maker.make();
    if (browser === null) {
      console.log(
        JSON.stringify({ browser: maker.name, skipped: `not here: needs ${maker.wants}` }),
      );
      continue;
    }
    try {
      await runCase(browser);
    } catch (error) {
      told(browser, 'the run comes to its end', false, String(error));
    } finally {
      await browser.close();
    }
  }
} finally {
  await removeBuilt();
}
process.exit(failures > 0 ? 1 : 0);
