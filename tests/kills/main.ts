/**
 * Kills the browser in the midst of its work, again and again, and looks whether everything that it had
 * acknowledged is there: `npm run kills -- N --seed S`. Works at presses, confirmations, exports, restores,
 * deletions, the taking over of what was kept before, and the first start. One JSON line at the end for
 * each kind; the run ends with 1 when anything is lost. `--spoil` claims something that was never written.
 */
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import type { Page } from 'playwright-core';
import { build } from 'vite';
import { Dice } from '../simulate/dice.ts';
import {
  type KillableBrowser,
  type Origin,
  removeFolder,
  serveOrigin,
  startBrowser,
  temporaryFolder,
} from '../storage/killable-browser.ts';
import { type Acknowledged, WORK_KINDS, type WorkKind } from './work.ts';

const KINDS = [...WORK_KINDS, 'first-start'] as const;
const DELAY_MS_MAX = 400;
const FIRST_WITHIN_MS = 15_000;

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { seed: { type: 'string', default: '1' }, spoil: { type: 'boolean', default: false } },
});
const kills = Number(positionals[0] ?? 20);
const seed = Number(values.seed);
if (!Number.isInteger(kills) || kills < 1 || !Number.isInteger(seed)) {
  process.stderr.write('kills: expected a whole number of kills and of --seed\n');
  process.exit(2);
}

const random = new Dice(seed);
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

interface Tally {
  kills: number;
  acknowledged: number;
  lost: number;
}

const tallies = new Map<string, Tally>(
  KINDS.map((kind) => [kind, { kills: 0, acknowledged: 0, lost: 0 }]),
);
const wanted = new Map<string, Acknowledged & { readonly kind: WorkKind }>();

function note(kind: WorkKind, done: Acknowledged): void {
  const key = `${done.what} ${done.id}`;
  const tally = tallies.get(kind);
  if (tally) tally.acknowledged += done.count - (wanted.get(key)?.count ?? 0);
  wanted.set(key, { ...done, kind });
}

async function opened(browser: KillableBrowser, origin: Origin, kind: WorkKind): Promise<Page> {
  await browser.context.exposeFunction('workAcknowledged', (done: Acknowledged) =>
    note(kind, done),
  );
  const page = await browser.context.newPage();
  await page.goto(origin.address);
  await page.waitForFunction(() => 'page' in window);
  return page;
}

/** Looks for everything that was acknowledged; what is lost is told once and no longer looked for. */
async function look(page: Page): Promise<void> {
  const all = [...wanted.values()];
  const plain = all.map(({ what, id, count }) => ({ what, id, count }));
  const lost = await page.evaluate((w) => window.page.missing(w), plain);
  for (const text of lost) {
    const { what, id } = JSON.parse(text) as Acknowledged;
    const kind = wanted.get(`${what} ${id}`)?.kind ?? 'press';
    const tally = tallies.get(kind);
    if (tally) tally.lost += 1;
    process.stdout.write(`${JSON.stringify({ lost: { kind, what, id }, seed })}\n`);
    wanted.delete(`${what} ${id}`);
  }
}

async function killAtWork(o: { profile: string; origin: Origin; kind: WorkKind; round: number }) {
  const browser = await startBrowser(o.profile);
  const page = await opened(browser, o.origin, o.kind);
  await page.evaluate(() => window.page.start());
  await look(page);
  const before = wanted.size;
  const name = `${o.kind}-${o.round}`;
  const pauseMs = random.of([0, 5, 30]) ?? 5;
  const working = page.evaluate((w) => window.page.work(w), { kind: o.kind, name, pauseMs });
  working.catch(() => undefined);
  for (let waitedMs = 0; wanted.size === before && waitedMs < FIRST_WITHIN_MS; waitedMs += 10) {
    await pause(10);
  }
  await pause(random.unit() * DELAY_MS_MAX);
  await browser.kill();
}

/** A tablet that is switched off while it starts for the first time starts the next time. */
async function killAtFirstStart(origin: Origin): Promise<void> {
  const profile = await temporaryFolder();
  const browser = await startBrowser(profile);
  const page = await opened(browser, origin, 'press');
  page.evaluate(() => window.page.start()).catch(() => undefined);
  await pause(random.unit() * DELAY_MS_MAX);
  await browser.kill();
  const again = await startBrowser(profile);
  const next = await opened(again, origin, 'press');
  const hasStarted = await next.evaluate(() =>
    window.page.start().then(
      () => true,
      () => false,
    ),
  );
  await again.close();
  await removeFolder(profile);
  const tally = tallies.get('first-start');
  if (tally && !hasStarted) tally.lost += 1;
}

// Something that was never written: the run must miss it.
if (values.spoil) note('confirm', { what: 'fact', id: '0'.repeat(64), count: 1 });

const built = await temporaryFolder();
await build({
  configFile: false,
  root: fileURLToPath(new URL('page', import.meta.url)),
  logLevel: 'warn',
  build: { outDir: built, emptyOutDir: true, target: 'es2022', assetsInlineLimit: 0 },
});
const origin = await serveOrigin(built);
const profile = await temporaryFolder();
const startedAtMs = performance.now();
for (let round = 0; round < kills; round += 1) {
  const kind = KINDS[round % KINDS.length] ?? 'press';
  const tally = tallies.get(kind);
  if (tally) tally.kills += 1;
  if (kind === 'first-start') await killAtFirstStart(origin);
  else await killAtWork({ profile, origin, kind, round });
}
const browser = await startBrowser(profile);
const page = await opened(browser, origin, 'press');
await page.evaluate(() => window.page.start());
await look(page);
await browser.close();
origin.close();
await removeFolder(built);
await removeFolder(profile);

let lost = 0;
let acknowledged = 0;
for (const [kind, tally] of tallies) {
  lost += tally.lost;
  acknowledged += tally.acknowledged;
  process.stdout.write(`${JSON.stringify({ kind, ...tally })}\n`);
}
const seconds = Math.round((performance.now() - startedAtMs) / 1000);
process.stdout.write(`${JSON.stringify({ kills, seed, acknowledged, lost, seconds })}\n`);
// A run in which some kind of work was never done has shown nothing.
const isIdle = [...tallies].some(
  ([kind, t]) => kind !== 'first-start' && t.kills > 0 && t.acknowledged === 0,
);
process.exit(lost > 0 || isIdle ? 1 : 0);
