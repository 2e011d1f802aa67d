/**
 * A case from the first screen to its record with one key, twice: on the real clock at 60 times its speed, which
 * is two units in every run and eight in the long one, and with eight units on a clock that the test moves,
 * where every press comes on time.
 */
import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { builtInBrowser } from '../tools/built-in-browser.ts';
import {
  answerList,
  newestPicture,
  openToday,
  outwaitBounce,
  pressOnce,
  readBar,
  readRecords,
  rehearse,
  waitForRecords,
  waitUntilDue,
  watchPictures,
} from '../tools/chair-driver.ts';
import { holdClock } from '../tools/held-clock.ts';
import { isLong } from '../tools/run-size.ts';

const CASE = 'Eight upper veneers';
const TEETH = ['11', '21', '12', '22', '13', '23', '14', '24'];
/** Of the same protocol. */
const AT_SPEED = isLong
  ? { title: CASE, teeth: TEETH }
  : { title: 'Two upper central veneers', teeth: ['11', '21'] };
const PROTOCOL = new URL(
  '../../shared/protocols/thin-veneers-separate-bottle-etch-and-rinse.json',
  import.meta.url,
);
/**
 * Most steps are one press for the whole case. Acid and etch are two for each of eight teeth; loading,
 * seating, excess, lifted gel and each contact are one each, tack and exposures one for each spot of
 * the tip and one to end.
 */
const PRESSES_MAX = 200;
/** What a pair of practised hands needs for one tooth, in ms; common practice, no source. */
const HAND_MS = 3000;
/** The figures are drawn anew at least this often. */
const PAINT_MS = 250;

const app = builtInBrowser();

async function freshPage(): Promise<Page> {
  const context = await app.browser.newContext({ viewport: { width: 1180, height: 820 } });
  await watchPictures(context);
  return context.newPage();
}

/** Presses the key until the case is closed. Answers how many presses each stage took. */
async function runCase(
  page: Page,
  o: { readonly wait: () => Promise<void>; readonly press: () => Promise<void> },
): Promise<ReadonlyMap<string, number>> {
  const stages = new Map<string, number>();
  for (let presses = 0; presses < 2 * PRESSES_MAX; presses += 1) {
    if (/Open the record/.test((await readBar(page)).words)) return stages;
    await o.wait();
    const { stage } = await readBar(page);
    await o.press();
    stages.set(stage, (stages.get(stage) ?? 0) + 1);
  }
  throw new Error(`The case was still open after ${2 * PRESSES_MAX} presses.`);
}

function countAndPrint(title: string, stages: ReadonlyMap<string, number>): number {
  const total = [...stages.values()].reduce((sum, n) => sum + n, 0);
  const parts = [...stages].map(([stage, n]) => `${stage} ${n}`);
  console.info(`${title}: ${total} presses (${parts.join(', ')})`);
  return total;
}

/** By the same key that ran the case: the bar says where it leads. */
async function openRecord(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Open the record' }).waitFor();
  await outwaitBounce(page);
  await page.keyboard.press('Space');
  await page.getByRole('heading', { name: 'Exposure given' }).waitFor();
}

/** A table of exposures as text: a row for each tooth, a cell for each surface. */
async function readExposures(
  page: Page,
  title: string,
): Promise<{ readonly surfaces: readonly string[]; readonly rows: Map<string, string[]> }> {
  const table = page.getByRole('table', { name: title, exact: true });
  const head = await table.locator('thead th').allTextContents();
  const rows = new Map<string, string[]>();
  for (const row of await table.locator('tbody tr').all()) {
    const [tooth, ...cells] = await row.locator('th, td').allTextContents();
    rows.set(present(tooth, 'a row of the table'), cells);
  }
  return { surfaces: head.slice(1), rows };
}

/** What the protocol file sets for light; a longer time may follow from the dose. */
async function lightSteps(): Promise<
  readonly { title: string; surfaces: readonly string[]; setS: number }[]
> {
  const { steps } = JSON.parse(await readFile(PROTOCOL, 'utf8'));
  const found = [];
  for (const { title, action, where } of steps) {
    // What belongs to a choice that this case does not take is not in its record.
    if (action.kind !== 'expose' || where !== undefined) continue;
    const setS = (action.perSurfaceMs?.value ?? 0) / 1000;
    found.push({ title, surfaces: action.surfaces, setS });
  }
  return found;
}

/** Every tooth and surface is listed with at least the seconds that the protocol sets. */
async function expectWholeExposures(page: Page, teeth: readonly string[]): Promise<void> {
  const steps = await lightSteps();
  expect(steps.map((s) => s.surfaces.length)).toContain(3);
  for (const { title, surfaces: wanted, setS } of steps) {
    const { surfaces, rows } = await readExposures(page, title);
    expect(
      surfaces.map((s) => s.toLowerCase()),
      title,
    ).toEqual(wanted);
    expect([...rows.keys()].sort(), title).toEqual([...teeth].sort());
    for (const [tooth, cells] of rows) {
      expect(cells, tooth).toHaveLength(wanted.length);
      for (const cell of cells) {
        // A cell with too little says "8 s of 10 s".
        const givenS = Number(/^([\d.]+)\s*s$/.exec(cell)?.[1] ?? Number.NaN);
        expect(givenS, `${title}, ${tooth}: ${cell}`).toBeGreaterThanOrEqual(setS);
      }
    }
  }
}

/** Where the tip is shown beside what to do, no word may stand under the picture. */
async function expectWordsBesideTip(page: Page): Promise<void> {
  const under = await page.evaluate(() => {
    const tip = document.querySelector('.chair-tip')?.getBoundingClientRect();
    const words = document.createRange();
    return [...document.querySelectorAll('.chair-instruction p')].filter((p) => {
      words.selectNodeContents(p);
      return [...words.getClientRects()].some(
        (r) => tip && r.right > tip.left && r.top < tip.bottom,
      );
    }).length;
  });
  expect(under).toBe(0);
}

test('at 60 times its speed, two clicks begin the case and one key brings it to its record', async () => {
  const page = await freshPage();
  await openToday(page, app.address);
  await rehearse(page, { title: AT_SPEED.title, speed: 60 });
  const startedAtMs = performance.now();
  let looks = 0;
  const stages = await runCase(page, {
    wait: () => waitUntilDue(page),
    press: async () => {
      if (/^Light on 11, facial, spot 1/.test((await readBar(page)).words)) {
        await expectWordsBesideTip(page);
        looks += 1;
      }
      await pressOnce(page);
    },
  });
  if (isLong) expect(looks).toBe(1);
  const tookS = (performance.now() - startedAtMs) / 1000;
  const total = countAndPrint(
    `${AT_SPEED.teeth.length} units at 60x in ${tookS.toFixed(0)} s`,
    stages,
  );
  expect(total).toBeLessThanOrEqual(PRESSES_MAX);
  await openRecord(page);
  await expectWholeExposures(page, AT_SPEED.teeth);
  // Two presses take 24 s of this case at least: its shortest bounds cannot all be kept.
  const breaches = await page.locator('.record-breaches > li').count();
  console.info(`bounds not kept at 60x: ${breaches}`);
  expect(breaches).toBeGreaterThan(0);
}, 360_000);

/** Lets `ms` pass on the clock of the test, and the screen be drawn at the end of it. */
async function pass(page: Page, ms: number): Promise<void> {
  if (ms > PAINT_MS) await page.clock.fastForward(ms - PAINT_MS);
  await page.clock.runFor(PAINT_MS);
}

test('pressed on time, the case keeps every bound of its protocol', async () => {
  const page = await freshPage();
  await page.clock.install();
  await openToday(page, app.address);
  await rehearse(page, { title: CASE, speed: 1 });
  await holdClock(page, 1000);
  const stages = await runCase(page, {
    wait: async () => {
      for (let bar = await readBar(page); bar.urgency === 'early'; bar = await readBar(page)) {
        const offer = (await newestPicture(page)).view.offers[0];
        await pass(page, Math.max(PAINT_MS, offer?.dueInMs ?? 0));
      }
    },
    press: async () => {
      await answerList(page);
      const { records } = await readRecords(page);
      await page.keyboard.press('Space');
      await waitForRecords(page, { above: records });
      await pass(page, HAND_MS);
    },
  });
  const total = countAndPrint('eight units on time', stages);
  expect(total).toBeLessThanOrEqual(PRESSES_MAX);
  await openRecord(page);
  await expectWholeExposures(page, TEETH);
  expect(await page.locator('.record-breaches > li').count()).toBe(0);
  expect(await page.getByText('Every limit that was judged so far was kept.').count()).toBe(1);
});
