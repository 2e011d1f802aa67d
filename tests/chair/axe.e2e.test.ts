/**
 * Every screen in every theme against the automatic checks of the Web Content Accessibility
 * Guidelines 2.2, levels A and AA (W3C Recommendation, 2023), as axe-core knows them.
 */
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { serveBuilt } from '../tools/built-app.ts';
import { watchPictures } from '../tools/chair-driver.ts';
import { setTheme, THEMES, visitEveryScreen } from '../tools/every-screen.ts';

const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

interface Verdict {
  readonly violations: readonly string[];
  readonly passes: number;
}

async function judge(page: Page): Promise<Verdict> {
  const { violations, passes } = await new AxeBuilder({ page }).withTags(RULES).analyze();
  const lines = violations.flatMap(({ id, help, nodes }) =>
    nodes.map(
      ({ target, failureSummary }) => `${id}: ${help}\n  ${target.join(' ')}\n  ${failureSummary}`,
    ),
  );
  return { violations: lines, passes: passes.length };
}

test('no screen breaks a rule in any theme', async () => {
  const served = await serveBuilt();
  const browser = await launchBrowser();
  const context = await browser.newContext({ viewport: { width: 1180, height: 820 } });
  await watchPictures(context);
  const page = await context.newPage();
  const found: string[] = [];
  let looks = 0;
  let fewestPasses = Number.POSITIVE_INFINITY;
  await visitEveryScreen(page, {
    address: served.address,
    look: async (screen) => {
      for (const theme of THEMES) {
        await setTheme(page, theme);
        const { violations, passes } = await judge(page);
        found.push(...violations.map((line) => `${screen}, ${theme}: ${line}`));
        fewestPasses = Math.min(fewestPasses, passes);
        looks += 1;
      }
    },
  });
  await browser.close();
  await served.stop();
  console.info(`axe: ${looks} looks, at least ${fewestPasses} rules passed at each`);
  expect(found).toEqual([]);
  expect(fewestPasses).toBeGreaterThan(8);
}, 240_000);
