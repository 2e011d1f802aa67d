/** One walk through a case in the built application, with everything measured that looks can tell. */
import { isDeepStrictEqual } from 'node:util';
import type { Page } from 'playwright-core';
import { setTheme } from '../tools/every-screen.ts';
import { type StageName, visitChairStages } from './chair-stages.ts';
import { type Glyphs, measureGlyphs, PHONE, setTablet, TABLETS } from './glyphs.ts';
import type { Box } from './pixels.ts';

/** Where the characters were measured, and what was found there. */
export interface Measured {
  readonly stage: StageName;
  readonly where: string;
  readonly glyphs: readonly Glyphs[];
  readonly saysTooSmall: boolean;
  /** Shorter side of every button that can be pressed, in mm. */
  readonly targets: readonly { readonly name: string; readonly sideMm: number }[];
}

/** One moment as pictures of the whole screen in two looks. */
export interface Looks {
  readonly stage: StageName;
  readonly light: Uint8Array;
  readonly amber: Uint8Array;
  /** What must be read, where it stands in both. */
  readonly texts: readonly {
    readonly selector: string;
    readonly text: string;
    readonly box: Box;
  }[];
}

/** The one number with each digit in its last place. */
export interface Digits {
  readonly pictures: readonly Uint8Array[];
  readonly box: Box;
  readonly pxPerMm: number;
}

export interface Walk {
  readonly measured: readonly Measured[];
  readonly phone: { readonly words: string; readonly glyphs: readonly Glyphs[] };
  readonly looks: readonly Looks[];
  readonly digits: Digits;
}

/** What must be read in the chair, in every look. */
const READ = [
  '.lw-clock-figure',
  '.lw-clock-words',
  '.lw-step-line',
  '.lw-step-subject',
  '.lw-bar-words',
  '.lw-bar-sub',
  '.lw-window-label',
  '.lw-window-figure',
  '.lw-window-words',
  '.lw-cue-words',
  '.lw-cue-age',
  '.lw-undo-words',
  '.lw-tooth-label',
  '.lw-tooth-word',
  '.chair-instruction-words',
  '.lw-status-item',
  '.chair-ends .lw-button',
] as const;

/** The moments that are looked at in two looks. */
const LOOKED_AT: readonly StageName[] = ['etch', 'over', 'light', 'tip'];

function targetsOf(page: Page, pxPerMm: number): Promise<Measured['targets']> {
  return page.locator('main.chair button').evaluateAll(
    (buttons, density) =>
      // What is not shown cannot be pressed.
      buttons
        .filter((button) => button.checkVisibility())
        .map((button) => {
          const { width, height } = button.getBoundingClientRect();
          const name = button.getAttribute('aria-label') ?? button.textContent ?? '';
          return { name, sideMm: Math.min(width, height) / density };
        }),
    pxPerMm,
  );
}

async function measureAll(page: Page, stage: StageName, selectors: readonly string[]) {
  const measured: Measured[] = [];
  const words = await page.locator('.lw-bar-words, .far-view-step').first().textContent();
  for (const tablet of TABLETS) {
    for (const isUpright of [false, true]) {
      await setTablet(page, tablet, { isUpright });
      measured.push({
        stage,
        where: `${stage} (${words}), ${tablet.name}, ${isUpright ? 'upright' : 'across'}`,
        glyphs: await measureGlyphs(page, { selectors, pxPerMm: tablet.pxPerMm }),
        saysTooSmall: (await page.locator('.chair-size').count()) > 0,
        targets: await targetsOf(page, tablet.pxPerMm),
      });
    }
  }
  return measured;
}

/** The texts that are seen whole: inside the window and every list that scrolls, with nothing over them. */
async function textsOf(page: Page): Promise<Looks['texts']> {
  return page.evaluate((selectors) => {
    const isInside = (element: Element, box: DOMRect): boolean => {
      for (let up = element.parentElement; up !== null; up = up.parentElement) {
        if (getComputedStyle(up).overflow === 'visible') continue;
        const edge = up.getBoundingClientRect();
        if (box.top < edge.top || box.bottom > edge.bottom) return false;
        if (box.left < edge.left || box.right > edge.right) return false;
      }
      return true;
    };
    return selectors.flatMap((selector) =>
      [...document.querySelectorAll(selector)].flatMap((element) => {
        const rect = element.getBoundingClientRect();
        const { x, y, width, height } = rect;
        const isSeen =
          x >= 0 && y >= 0 && x + width <= innerWidth && y + height <= innerHeight && width > 4;
        const at = document.elementFromPoint(x + width / 2, y + height / 2);
        const isOnTop = at !== null && (element.contains(at) || at.contains(element));
        if (!isSeen || !isOnTop || !isInside(element, rect)) return [];
        return [{ selector, text: element.textContent ?? '', box: { x, y, width, height } }];
      }),
    );
  }, READ);
}

/** How often a picture is taken again because something moved while it was taken. */
const TRIES_MAX = 20;

/**
 * The amber picture and where its texts stand in it. The clock of the page stands still, but the plan
 * that a worker is still making may yet move the list of windows: a picture counts only when the texts
 * stood at the same places before it and after it.
 */
async function stillAmber(page: Page): Promise<Pick<Looks, 'amber' | 'texts'>> {
  let texts = await textsOf(page);
  for (let tries = 0; tries < TRIES_MAX; tries += 1) {
    const amber = await page.screenshot();
    const after = await textsOf(page);
    if (isDeepStrictEqual(texts, after)) return { amber, texts };
    texts = after;
  }
  throw new Error(`The chair never stood still: something moved in each of ${TRIES_MAX} pictures.`);
}

async function lookBothWays(page: Page, stage: StageName): Promise<Looks> {
  const before = await page.evaluate(() => document.documentElement.dataset['theme']);
  await setTheme(page, 'light');
  const light = await page.screenshot();
  await setTheme(page, 'amber');
  const { amber, texts } = await stillAmber(page);
  await setTheme(page, before === 'amber' ? 'amber' : 'light');
  return { stage, light, amber, texts };
}

/** Writes each digit into the last place of the figure. The clock of the page stands still. */
async function photographDigits(page: Page, pxPerMm: number): Promise<Digits> {
  const figure = page.locator('.lw-clock-figure');
  const box = await figure.evaluate((element) => {
    const letters = document.createTreeWalker(element, NodeFilter.SHOW_TEXT).nextNode();
    if (letters === null) throw new Error('no figure');
    const range = document.createRange();
    range.setStart(letters, (letters.nodeValue ?? '').length - 1);
    range.setEnd(letters, (letters.nodeValue ?? '').length);
    const { x, y, width, height } = range.getBoundingClientRect();
    return { x, y, width, height };
  });
  const set = (text: string | null) =>
    figure.evaluate((element, next) => {
      const letters = document.createTreeWalker(element, NodeFilter.SHOW_TEXT).nextNode();
      if (letters === null) throw new Error('no figure');
      const was = letters.nodeValue ?? '';
      letters.nodeValue = next === null ? was : `${was.slice(0, -1)}${next}`;
      return was;
    }, text);
  const was = (await set(null)).slice(-1);
  const pictures: Uint8Array[] = [];
  for (const digit of '0123456789') {
    await set(digit);
    pictures.push(await page.screenshot());
  }
  await set(was);
  return { pictures, box, pxPerMm };
}

/**
 * Walks through the case.
 *
 * @param page at the first screen, on a clock that the test has installed.
 */
export async function walkThrough(page: Page, selectors: readonly string[]): Promise<Walk> {
  const measured: Measured[] = [];
  const looks: Looks[] = [];
  let phone: Walk['phone'] | undefined;
  let digits: Digits | undefined;
  await visitChairStages(page, async (stage) => {
    measured.push(...(await measureAll(page, stage, selectors)));
    const tablet = TABLETS[1] ?? PHONE;
    if (stage === 'etch') {
      await setTablet(page, PHONE, { isUpright: true });
      phone = {
        words: (await page.locator('.chair-size').textContent({ timeout: 5000 })) ?? '',
        glyphs: await measureGlyphs(page, { selectors, pxPerMm: PHONE.pxPerMm }),
      };
      await setTablet(page, tablet, { isUpright: false });
      digits = await photographDigits(page, tablet.pxPerMm);
    }
    await setTablet(page, tablet, { isUpright: false });
    if (LOOKED_AT.includes(stage)) looks.push(await lookBothWays(page, stage));
  });
  if (phone === undefined || digits === undefined) throw new Error('The walk met no etch.');
  return { measured, phone, looks, digits };
}
