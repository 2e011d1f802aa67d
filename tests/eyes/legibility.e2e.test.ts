/**
 * How high the characters of the chair really are, on calibrated tablets of three sizes, both ways up.
 *
 * ISO 9241-303:2011 asks for 16 minutes of arc at least and prefers 20 to 22: here 22 for the seconds
 * and 16 for the step, the tooth and the words of the clock, all at 2 m. What only the hand that
 * presses reads has 16 at half a metre, an arm that reaches for the screen (common practice, no
 * source); the bar and the tooth that is worked on, 16 at 1 m at least. The standard is cited from
 * memory; the formula is checked in tests/calc/people.test.ts.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import { openToday, watchPictures } from '../tools/chair-driver.ts';
import { type StageName, visitChairStages } from './chair-stages.ts';
import { type Glyphs, measureGlyphs, setTablet, TABLETS } from './glyphs.ts';

/** Height in mm of a character of so many minutes of arc; worked here anew, not taken from the app. */
const heightMm = (arcMinutes: number, distanceM: number): number =>
  2 * distanceM * 1000 * Math.tan(((arcMinutes / 60) * Math.PI) / 180 / 2);

const ACTIVE = '.lw-tooth[data-active="true"] > .lw-tooth-body >';

/** What each text must have: minutes of arc, at which distance. */
const RULES: readonly (readonly [selector: string, arcMinutes: number, distanceM: number])[] = [
  ['.lw-clock-figure', 22, 2],
  ['.lw-step-line', 16, 2],
  ['.glance-step', 16, 2],
  ['.lw-clock-words', 16, 2],
  ['.lw-window:first-child[data-level="closing"] .lw-window-figure[data-long="false"]', 16, 1],
  ['.lw-window:first-child[data-level="broken"] .lw-window-figure[data-long="false"]', 16, 1],
  ['.lw-bar-words', 16, 1],
  [`${ACTIVE} .lw-tooth-label`, 16, 1],
  ...[
    '.lw-step-detail',
    '.lw-person-name',
    '.chair-instruction-words',
    '.chair-instruction-why',
    '.chair-instruction-caution',
    '.chair-read-back',
    '.lw-window-label',
    '.lw-window-words',
    '.lw-window-figure',
    '.lw-next-words',
    '.lw-clock-further',
    '.lw-cue-words',
    '.lw-cue-age',
    '.lw-cue-subject',
    '.lw-bar-sub',
    '.lw-undo-words',
    '.lw-undo-what',
    '.lw-tooth-label',
    '.lw-status-item',
    '.chair-ends .lw-button',
  ].map((selector) => [selector, 16, 0.5] as const),
];

/** These must be seen whole without a touch; lists may scroll, and say so. */
const WHOLE = [
  '.lw-clock-figure',
  '.lw-clock-words',
  '.lw-step-line',
  '.lw-bar-words',
  '.glance-step',
  `${ACTIVE} .lw-tooth-label`,
];

/** A font size may be rounded to 1/64 px by the browser; a glyph outline to 1/100 of the size. */
const ROUNDING = 0.99;

let served: Served;
let browser: Browser;

beforeAll(async () => {
  served = await serveBuilt();
  browser = await launchBrowser();
});

afterAll(async () => {
  await browser.close();
  await served.stop();
});

async function chairPage(): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  await watchPictures(context);
  const page = await context.newPage();
  await page.clock.install();
  await openToday(page, served.address);
  return page;
}

function shortfalls(where: string, found: readonly Glyphs[]): string[] {
  return found.flatMap((glyphs) => {
    const rule = RULES.find(([selector]) => selector === glyphs.selector);
    const wanted = rule === undefined ? 0 : heightMm(rule[1], rule[2]);
    const is = glyphs.heightMm.toFixed(2);
    const cut = WHOLE.includes(glyphs.selector) && glyphs.seenShare < 0.99;
    return [
      ...(glyphs.heightMm < wanted * ROUNDING
        ? [`${where}: ${glyphs.selector} "${glyphs.text}" ${is} mm of ${wanted.toFixed(2)} mm`]
        : []),
      ...(cut ? [`${where}: ${glyphs.selector} "${glyphs.text}" is cut off`] : []),
    ];
  });
}

describe('on tablets of 8, 10 and 13 inches', () => {
  it('the characters of every chair screen are as high as the standard asks, and none is cut off', async () => {
    const page = await chairPage();
    const found: string[] = [];
    const seen = new Map<StageName, number>();
    const smallest = new Map<string, number>();
    await visitChairStages(page, async (stage) => {
      for (const tablet of TABLETS) {
        for (const isUpright of [false, true]) {
          await setTablet(page, tablet, { isUpright });
          const selectors = RULES.map(([selector]) => selector);
          const glyphs = await measureGlyphs(page, { selectors, pxPerMm: tablet.pxPerMm });
          const where = `${stage}, ${tablet.name}, ${isUpright ? 'upright' : 'across'}`;
          found.push(...shortfalls(where, glyphs));
          seen.set(stage, (seen.get(stage) ?? 0) + glyphs.length);
          for (const { selector, heightMm: mm } of glyphs) {
            smallest.set(selector, Math.min(mm, smallest.get(selector) ?? mm));
          }
          expect(await page.locator('.chair-size').count(), where).toBe(0);
        }
      }
    });
    await page.context().close();
    const table = [...smallest].map(([selector, mm]) => `${selector} ${mm.toFixed(1)}`);
    console.info(`smallest heights in mm: ${table.join('; ')}`);
    expect(found).toEqual([]);
    expect([...seen.keys()]).toHaveLength(7);
    for (const [stage, count] of seen) expect(count, stage).toBeGreaterThan(12);
    for (const selector of ['.lw-clock-figure', '.lw-step-line', '.chair-read-back']) {
      expect(smallest.has(selector), selector).toBe(true);
    }
  }, 180_000);
});
