/**
 * The page of outcomes as it ships, worked out in the planning thread: the rules of the Web Content Accessibility
 * Guidelines 2.2 (A and AA, as axe-core knows them) on each part, nothing wider than the screen in both
 * orientations, a step of the curve touched, targets of 44 px at least.
 */
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { serveBuilt } from '../tools/built-app.ts';
import { isLong } from '../tools/run-size.ts';

const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const WIDE = { width: 1180, height: 820 };
const UPRIGHT = { width: 820, height: 1180 };

/** What is wrong with the page as it stands: rules, width, small targets. */
async function wrong(page: Page, name: string): Promise<readonly string[]> {
  const { violations } = await new AxeBuilder({ page }).withTags(RULES).analyze();
  const found = violations.flatMap(({ id, nodes }) =>
    nodes.map((n) => `${id} ${n.target.join(' ')}`),
  );
  for (const size of [UPRIGHT, WIDE]) {
    await page.setViewportSize(size);
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    if (width > size.width) found.push(`${width} px wide on ${size.width}`);
  }
  const small = await page
    .locator('main button:visible, main summary:visible, main .lw-input:visible')
    .evaluateAll((all) => all.filter((one) => one.getBoundingClientRect().height < 44).length);
  if (small > 0) found.push(`${small} small targets`);
  return found.map((line) => `${name}: ${line}`);
}

test('the page of outcomes keeps the rules, and a touched step tells its cases', async () => {
  const served = await serveBuilt();
  const browser = await launchBrowser();
  const context = await browser.newContext({ viewport: WIDE });
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('pageerror', (fault) => faults.push(fault.message));
  await page.goto(`${served.address}record`);
  await page.getByRole('button', { name: 'What became of it' }).click();
  await page.getByRole('heading', { name: /^On the first day/ }).waitFor();
  const found = [...(await wrong(page, 'first day'))];
  await page.getByRole('button', { name: 'See an example' }).click();
  const picture = page.locator('svg.outcomes-picture');
  await picture.waitFor();
  const box = await picture.boundingBox();
  if (box === null) throw new Error('The curve is not drawn.');
  await picture.click({ position: { x: box.width / 2, y: box.height / 3 } });
  expect(await page.locator('.outcomes-step').textContent()).toMatch(
    /Step \d+ of \d+[\s\S]*INVENTED \d+/,
  );
  found.push(...(await wrong(page, 'years')));
  for (const part of isLong ? ['groups', 'flags', 'reviews', 'own'] : ['groups']) {
    const [radio] = await page.locator(`input[type=radio][value=${part}]`).all();
    await radio?.check({ force: true });
    await page.waitForURL(`**/outcomes/${part}`);
    found.push(...(await wrong(page, part)));
  }
  await browser.close();
  await served.stop();
  expect(found).toEqual([]);
  expect(faults).toEqual([]);
});
