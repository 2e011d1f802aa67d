/**
 * Follow-up in a real browser: a recall that is overdue on the first page is noted with three taps; at the
 * next one a unit was lost, the day that the patient states is refused and then right; the visit is corrected.
 * axe-core looks at each page by the rules of the Web Content Accessibility Guidelines 2.2 (A and AA).
 */
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import { openToday } from '../tools/chair-driver.ts';
import { isLong } from '../tools/run-size.ts';

const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const SIZES = [
  { width: 1180, height: 820 },
  { width: 820, height: 1180 },
] as const;
/** The least size of a target by the guidelines' level AAA (2.5.5), in px. */
const TARGET_PX_MIN = 44;
const FIRST_DAY = new Date('2026-12-01T10:00:00Z');
const NEXT_DAY = new Date('2027-06-10T10:00:00Z');
/** Where pictures of each page go; none are taken when left out. */
const PICTURES = process.env['LUTEWATCH_PICTURES'];

let served: Served;
let browser: Browser;
let page: Page;
const found: string[] = [];

beforeAll(async () => {
  served = await serveBuilt();
  browser = await launchBrowser();
  const context = await browser.newContext({
    viewport: SIZES[0],
    serviceWorkers: 'block',
    timezoneId: 'Europe/Lisbon',
  });
  page = await context.newPage();
  page.setDefaultTimeout(15_000);
  await page.clock.install({ time: FIRST_DAY });
});

afterAll(async () => {
  await browser.close();
  await served.stop();
});

const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true });

/** The page as it stands: rules, width and targets, and a picture each way. */
async function look(name: string, o: { readonly axe: boolean }): Promise<void> {
  await page.evaluate(() => window.scrollTo(0, 0));
  if (o.axe) {
    const { violations } = await new AxeBuilder({ page }).withTags(RULES).analyze();
    for (const { id, nodes } of violations) {
      found.push(...nodes.map(({ target }) => `${name}: ${id} ${target.join(' ')}`));
    }
  }
  for (const size of SIZES) {
    await page.setViewportSize(size);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    if (wide > size.width) found.push(`${name}: ${wide} px wide on ${size.width}`);
    if (PICTURES !== undefined) {
      const path = `${PICTURES}/${name}-${size.width}.png`;
      await page.screenshot({ path, fullPage: true });
    }
  }
  await page.setViewportSize(SIZES[0]);
  const small = await page
    .locator('main button:visible:not(.lw-pick), main a:visible, main .lw-input:visible')
    .evaluateAll((all, min) => {
      const low = all.filter((each) => each.getBoundingClientRect().height < min);
      return low.map((each) => each.textContent);
    }, TARGET_PX_MIN);
  found.push(...small.map((words) => `${name}: small, ${words}`));
}

async function addBefore(): Promise<void> {
  await page.getByRole('link', { name: 'Record', exact: true }).click();
  await button('Follow-up').click();
  await button('Add units bonded before').click();
  await page.getByLabel('Chart reference').fill('C-77');
  await page.getByLabel('What it is').fill('Veneer and bridge');
  await page.getByLabel('Day of bonding').fill('2024-10-01');
  await page.getByLabel('First day looked at').fill('2025-10-01');
  await page.getByRole('button', { name: /upper right central incisor/ }).click();
  await page.getByRole('button', { name: /upper left central incisor/ }).click();
  await page.getByLabel('Who bonded it').fill('Dr Ilves');
  await look('before', { axe: isLong });
  await button('Follow these units').click();
  await page.getByRole('heading', { name: 'Veneer and bridge', level: 1 }).waitFor();
}

it('three taps from the first page note a recall where all is in place', async () => {
  await openToday(page, served.address);
  await addBefore();
  await page.getByRole('link', { name: 'Today', exact: true }).click();
  const line = page.getByRole('link', { name: /^Recall visit of C-77/ });
  await line.waitFor();
  expect(await line.textContent()).toMatch(/Overdue since 29 Oct 2026/);
  await look('today', { axe: isLong });

  await line.click();
  await button('All in place').click();
  await button('Note it').click();

  await page.getByText('Dr Ilves looked, who had bonded it').waitFor();
  await page.getByRole('link', { name: 'Today', exact: true }).click();
  await page.getByRole('heading', { name: 'Finished' }).waitFor();
  expect(await line.count()).toBe(0);
});

it('a stated day before the last sight is refused with both days, then right, then corrected', async () => {
  await page.clock.setSystemTime(NEXT_DAY);
  await page.goto(`${served.address}follow-up`);
  await page.getByRole('link', { name: /^Follow-up of C-77/ }).click();
  await button('Recall visit').click();
  await button('All in place').click();
  const unit = page.getByRole('listitem', { name: '11' });
  await unit.getByRole('radio', { name: 'Something found' }).click();
  await unit.getByRole('checkbox', { name: /^Lost retention/ }).click();
  await unit.getByLabel('Day the patient states').fill('2026-11-20');
  await page.reload();
  await button('Note it').click();
  const words =
    'The patient states 20 Nov 2026, but it was seen in place on 1 Dec 2026. State a later day, or leave the field empty.';
  await unit.getByText(words).waitFor();
  await look('refused', { axe: true });
  await unit.getByLabel('Day the patient states').fill('2027-05-02');
  await button('Note it').click();
  await page.getByText('The patient stated 2 May 2027').waitFor();

  await page.getByRole('link', { name: 'Correct the visit of 10 Jun 2027' }).click();
  await unit.getByLabel('Day the patient states').fill('2027-05-12');
  await page.getByLabel('Why it is corrected').fill('misheard');
  await button('Note the correction').click();
  await page.getByText('The patient stated 12 May 2027').waitFor();
  await page.getByText('What it replaced').click();
  await page.getByText('Replaced: misheard').waitFor();
  await look('case', { axe: true });
  await page.getByRole('link', { name: 'All recalls' }).click();
  await page.getByRole('heading', { name: /^Ahead/ }).waitFor();
  await look('list', { axe: true });
  expect(found).toEqual([]);
});
