/** Walks through every screen of the built application, for pictures of them and for checks on each. */
import type { Page } from 'playwright-core';
import { present } from '../../src/base/assert.ts';
import {
  answerList,
  lastPicture,
  newestPicture,
  openToday,
  readBar,
  readRecords,
  rehearse,
  waitForRecords,
} from './chair-driver.ts';
import { holdClock } from './held-clock.ts';

export const THEMES = ['light', 'dark', 'amber'] as const;
export type Theme = (typeof THEMES)[number];

const CASE_ID = 'eight-upper-veneers';
const CASE = 'Eight upper veneers';
/** Of the prepared cases the one that is drawn fastest. */
const DRILLED = 'Two upper central veneers';
const PROTOCOL_ID = 'thin-veneers-separate-bottle-etch-and-rinse';

/** Screens that need no running case: their path, and what is there once they are drawn. */
const DESK: readonly (readonly [name: string, path: string, there: string | RegExp])[] = [
  ['set-up', '/set-up', 'Set up a case'],
  ['set-up-prepared', `/set-up/${CASE_ID}`, 'Change a prepared case'],
  ['plan', `/plan/${CASE_ID}`, 'Who does what, and the light'],
  ['protocols', '/protocols', 'Protocols'],
  ['protocol', `/protocols/${PROTOCOL_ID}`, 'The sequence'],
  ['lead-desk', '/lead', /desk yet/],
  ['clinic', '/clinic', 'Size of this screen'],
  ['tablets', '/clinic/tablets', 'Tablets'],
  ['cases', '/record', 'Record'],
  ['follow-up', '/follow-up', 'Follow-up'],
  ['bonded-before', '/follow-up/before', 'Bonded before'],
  ['outcomes', '/outcomes', /^On the first day/],
  ['drills', '/drill', 'Drills'],
  ['materials', '/materials', 'Materials'],
  ['backup', '/backup', 'Make a backup'],
  ['quick-card', '/clinic/card', 'Quick card'],
];

/** The same without a heading of their own. */
const BARE: readonly (readonly [name: string, path: string])[] = [
  ['chair-empty', '/chair'],
  ['far-view-empty', '/far-view'],
  ['no-such-place', '/nowhere'],
];

/** Where the chair is looked at: the words that the bar has by then. */
const CHAIR: readonly (readonly [name: string, bar: RegExp])[] = [
  ['chair-acid', /^Acid on /],
  ['chair-etch', /^Gel on /],
  ['chair-coats', /^Coat 3|^Coats 2 /],
  ['chair-cement', /^22 (loaded|seated)/],
  ['chair-light', /^Light (off|to) 12, incisal|^Light stopped/],
];

/** Common practice, no source. */
const HAND_MS = 4000;
/** What is due within this time is waited for; a quarter of an hour of warming up is not, in ms. */
const WAIT_MS_MAX = 60_000;

/** Goes to another place without loading the page anew, so that a running case goes on. */
export async function go(page: Page, path: string): Promise<void> {
  await page.evaluate((to) => history.pushState(null, '', to), path);
  await page.locator('main').first().waitFor();
}

/** Sets the look of the page for one picture, whatever the settings say. */
export async function setTheme(page: Page, theme: Theme): Promise<void> {
  await page.evaluate((name) => {
    document.documentElement.dataset['theme'] = name;
  }, theme);
}

/** Presses on, on a clock that the test moves, until the bar has these words. */
export async function pressTo(page: Page, words: RegExp): Promise<void> {
  for (let press = 0; press < 200; press += 1) {
    if (words.test((await readBar(page)).words)) return;
    const dueInMs = (await newestPicture(page)).view.offers[0]?.dueInMs ?? 0;
    if (dueInMs > 0 && dueInMs < WAIT_MS_MAX) await page.clock.runFor(dueInMs);
    await answerList(page);
    const { records } = await readRecords(page);
    await page.keyboard.press('Space');
    await waitForRecords(page, { above: records });
    // As long as hands take, so that the clocks look as they do in a real case.
    await page.clock.fastForward(HAND_MS);
    await page.clock.runFor(250);
  }
  throw new Error(`The bar never said ${words}.`);
}

async function lookAtChair(page: Page, look: (name: string) => Promise<void>): Promise<void> {
  await rehearse(page, { title: CASE, speed: 1 });
  await look('chair-first');
  for (const [name, words] of CHAIR) {
    await holdClock(page);
    await pressTo(page, words);
    await page.clock.resume();
    await look(name);
    if (name !== 'chair-etch') continue;
    await go(page, '/far-view');
    await look('far-view');
    await go(page, '/chair');
  }
}

async function lookAtFirstLook(page: Page, look: (name: string) => Promise<void>): Promise<void> {
  await page.getByRole('button', { name: 'Take a first look' }).click();
  await page.locator('.coach-words').waitFor();
  await look('first-look');
  await page.getByRole('button', { name: 'Leave the first look' }).click();
}

/** A drill at its beginning, and what is told after it. */
async function lookAtDrill(page: Page, look: (name: string) => Promise<void>): Promise<void> {
  await page.getByRole('button', { name: `Drill ${DRILLED}`, exact: true }).click();
  await page.locator('.drill-line').waitFor();
  await look('drill');
  await page.getByRole('button', { name: 'End the drill' }).click();
  await page.getByRole('heading', { name: 'After the drill' }).waitFor();
  await page.getByRole('heading', { name: 'What went right' }).waitFor();
  await look('debrief');
}

async function lookAtSheets(page: Page, look: (name: string) => Promise<void>): Promise<void> {
  const more = page.locator('.chair-ends').getByRole('button', { name: 'More' });
  for (const [name, button] of [
    ['sheet-more', null],
    ['sheet-went-wrong', 'Went wrong'],
    ['sheet-other-steps', 'Other steps'],
    ['sheet-note', 'Note'],
  ] as const) {
    await more.click();
    const open = page.locator('dialog[open]');
    if (button !== null) await open.getByRole('button', { name: button, exact: true }).click();
    await look(name);
    await page.keyboard.press('Escape');
    await page.locator('dialog[open]').waitFor({ state: 'detached' });
  }
}

/**
 * Opens one screen after the other and calls `look` with the name of each.
 *
 * @param page a page whose context had `watchPictures`, on which nothing was opened yet.
 */
export async function visitEveryScreen(
  page: Page,
  o: { readonly address: string; readonly look: (name: string) => Promise<void> },
): Promise<void> {
  await page.clock.install();
  await openToday(page, o.address);
  await o.look('today');
  await lookAtFirstLook(page, o.look);
  for (const [name, path, there] of DESK) {
    await go(page, path);
    await page.getByRole('heading', { name: there }).first().waitFor();
    await o.look(name);
  }
  for (const [name, path] of BARE) {
    await go(page, path);
    await o.look(name);
  }
  await go(page, '/');
  await lookAtDrill(page, o.look);
  await go(page, '/');
  await lookAtChair(page, o.look);
  await lookAtSheets(page, o.look);
  const { caseId } = present(await lastPicture(page), 'the picture of the running case');
  await go(page, `/record/${caseId}`);
  await page.getByRole('heading', { name: 'Exposure given' }).waitFor();
  await o.look('record');
  await go(page, '/');
  await o.look('today-running');
  await go(page, '/chair');
  await page.reload();
  await page.getByRole('heading', { name: 'A rehearsal is not finished.' }).waitFor();
  await o.look('chair-unfinished');
}
