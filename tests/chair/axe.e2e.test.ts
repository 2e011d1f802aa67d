/**
 * Every screen in every theme against the automatic checks of the Web Content Accessibility
 * Guidelines 2.2, levels A and AA (W3C Recommendation, 2023), as axe-core knows them.
 */
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { serveOneByOne } from '../tools/built-app.ts';
import { watchPictures } from '../tools/chair-driver.ts';
import { setTheme, THEMES, type Theme, visitEveryScreen } from '../tools/every-screen.ts';
import { isLong } from '../tools/run-size.ts';

const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

interface Verdict {
  readonly violations: readonly string[];
  readonly passes: number;
}

/** The looks differ in their colours only, so all the other rules are checked in the first. */
async function judge(page: Page, theme: Theme): Promise<Verdict> {
  const builder = new AxeBuilder({ page });
  const rules = theme === 'light' ? builder.withTags(RULES) : builder.withRules(['color-contrast']);
  const { violations, passes } = await rules.analyze();
  const lines = violations.flatMap(({ id, help, nodes }) =>
    nodes.map(
      ({ target, failureSummary }) => `${id}: ${help}\n  ${target.join(' ')}\n  ${failureSummary}`,
    ),
  );
  return { violations: lines, passes: passes.length };
}

/** All three looks on each screen in the long run; else the light one on two of three, and one of the others in turn on the first of them. */
function themesOf(screens: number): readonly Theme[] {
  if (isLong) return THEMES;
  if (screens % 3 === 2) return [];
  if (screens % 3 !== 0) return ['light'];
  return ['light', screens % 2 === 0 ? 'dark' : 'amber'];
}

test('the check finds a planted fault of each kind that it is relied on for', async () => {
  const browser = await launchBrowser();
  // axe-core looks only at pages of a context of their own.
  const page = await (await browser.newContext()).newPage();
  await page.setContent(`<html lang="en"><title>Faults</title><main>
    <p style="color:#ccc;background:#fff">Pale words</p><button></button><img src="x"></main>`);
  const { violations } = await judge(page, 'light');
  await browser.close();
  const ids = violations.map((line) => line.split(':')[0]);
  expect(ids).toEqual(expect.arrayContaining(['color-contrast', 'button-name', 'image-alt']));
});

test('no screen breaks a rule in the light look, nor any that is looked at in another', async () => {
  const served = await serveOneByOne();
  const browser = await launchBrowser();
  const context = await browser.newContext({ viewport: { width: 1180, height: 820 } });
  await watchPictures(context);
  const page = await context.newPage();
  const found: string[] = [];
  let screens = 0;
  let looks = 0;
  let fewestPasses = Number.POSITIVE_INFINITY;
  await visitEveryScreen(page, {
    address: served.address,
    look: async (screen) => {
      for (const theme of themesOf(screens)) {
        await setTheme(page, theme);
        const { violations, passes } = await judge(page, theme);
        found.push(...violations.map((line) => `${screen}, ${theme}: ${line}`));
        if (theme === 'light') fewestPasses = Math.min(fewestPasses, passes);
        else expect(passes + violations.length).toBeGreaterThan(0);
        looks += 1;
      }
      screens += 1;
    },
  });
  await browser.close();
  await served.stop();
  console.info(`axe: ${looks} looks, at least ${fewestPasses} rules passed in the light one`);
  expect(found).toEqual([]);
  expect(fewestPasses).toBeGreaterThan(8);
}, 300_000);
