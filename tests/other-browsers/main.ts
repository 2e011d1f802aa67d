/**
 * Runs cases in browsers other than the one that the tests use: `npm run browsers`. The beginning of one, one of
 * each family to its signature, a reload in mid-etch, and kills.
 * Each finding is one JSON line. A browser that this machine does not have is named as skipped; a
 * finding that is not as it must be ends the run with 1. Pictures go to .screens/.
 */
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildForRun, serveBuilt } from '../tools/built-app.ts';
import { goOn, openToday, pressOnce, rehearse, type Seen, see } from './chair.ts';
import { failureCount, told, until } from './findings.ts';
import { firefox } from './firefox.ts';
import { killInACase } from './kills.ts';
import { type Maker, type OtherBrowser, pause } from './other-browser.ts';
import { reloadInEtch } from './reload.ts';
import { webkit } from './webkit.ts';
import { playWholeCases } from './whole-cases.ts';

const OUT_DIR = fileURLToPath(new URL('../../.screens/', import.meta.url));
const CASE = 'Eight upper veneers';
const CLOCK_ERROR_MS_MAX = 400;

const KEEP_WORKER_STATE = `
  const look = async () => {
    const [found] = await navigator.serviceWorker.getRegistrations();
    window.workerState = found?.active?.state ?? 'none';
  };
  window.workerState = 'unknown';
  setInterval(look, 200);`;

/** The clock of the first acid, in ms to its target, and when it was read. */
const secondsOf = (figure: string): number => {
  const [minutes = 0, seconds = 0] = figure.split(':').map(Number);
  return minutes * 60 + seconds;
};

async function pressToFirstClock(browser: OtherBrowser): Promise<Seen> {
  await rehearse(browser, { title: CASE, speed: 1 });
  let seen = await see(browser);
  for (let presses = 0; presses < 40 && seen.figure === ''; presses += 1) {
    await pressOnce(browser);
    seen = await see(browser);
  }
  return seen;
}

/** Follows the figure for some seconds: it must fall as the page's own clock goes. */
async function clockError(browser: OtherBrowser): Promise<number> {
  const turnOf = async (from: Seen): Promise<Seen> => {
    for (;;) {
      const seen = await see(browser);
      if (seen.figure !== from.figure) return seen;
    }
  };
  const first = await turnOf(await see(browser));
  await pause(4000);
  const last = await turnOf(await see(browser));
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
  const heading = await openToday(browser, served.address);
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
  const { records } = await see(browser);
  await served.stop();
  await openToday(browser, served.address);
  const isThere = await goOn(browser);
  told(browser, 'with the server gone it opens again and offers the case', isThere, {
    isThere,
    words: await browser.ask<string>('return document.body.innerText.slice(0, 300);'),
  });
  const again = await until(
    () => see(browser),
    (s) => s.records >= records,
  );
  told(browser, 'nothing pressed is lost', again.records >= records, { records, again });
  await keepPicture(browser, 'resumed');
}

/** Each part that was not asked to be left out, in one browser and with one server. */
const PARTS: Readonly<Record<string, (maker: Maker) => Promise<void>>> = {
  beginning: (maker) => inBrowser(maker, runCase),
  families: (maker) =>
    atServer((address) => playWholeCases(address, (run) => inBrowser(maker, run))),
  reload: (maker) => atServer((address) => inBrowser(maker, (b) => reloadInEtch(b, address))),
  kills: (maker) => atServer((address) => killInACase(maker, address)),
};

async function atServer(run: (address: string) => Promise<void>): Promise<void> {
  const served = await serveBuilt();
  try {
    await run(served.address);
  } finally {
    await served.stop();
  }
}

async function inBrowser(
  maker: Maker,
  run: (browser: OtherBrowser) => Promise<void>,
): Promise<void> {
  const browser = await maker.make();
  if (browser === null) {
    console.log(JSON.stringify({ browser: maker.name, skipped: `not here: needs ${maker.wants}` }));
    return;
  }
  try {
    await run(browser);
  } finally {
    await browser.close();
  }
}

/** Arguments name parts and browsers; of either, all run where none is named. */
const asked = process.argv.slice(2);
const isAsked = (name: string, all: readonly string[]): boolean =>
  asked.includes(name) || !all.some((other) => asked.includes(other));
const MAKERS = [webkit, firefox];
const MAKER_NAMES = MAKERS.map(({ name }) => name);

// Broken off from outside, the run still ends the browsers that it started.
for (const signal of ['SIGINT', 'SIGTERM']) process.once(signal, () => process.exit(1));

const removeBuilt = await buildForRun();
try {
  for (const maker of MAKERS) {
    if (!isAsked(maker.name, MAKER_NAMES)) continue;
    for (const [part, run] of Object.entries(PARTS)) {
      if (!isAsked(part, Object.keys(PARTS))) continue;
      await run(maker).catch((error: unknown) =>
        told({ name: maker.name, version: '' }, `${part} comes to its end`, false, String(error)),
      );
    }
  }
} finally {
  await removeBuilt();
}
process.exit(failureCount() > 0 ? 1 : 0);
