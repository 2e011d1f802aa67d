/**
 * Measures on the rendered page how high the characters really are: the ink of the page's own font at
 * its computed size, in millimetres of a screen that was calibrated.
 */
import type { Page } from 'playwright-core';

/** A screen as a tablet has it: CSS pixels, and how many of them make a millimetre. */
export interface Tablet {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly pxPerMm: number;
}

/** Each with its long side across. Density in CSS pixels is that of common tablets of the size. */
export const TABLETS: readonly Tablet[] = [
  { name: '8 inch', width: 1133, height: 744, pxPerMm: 6.42 },
  { name: '10 inch', width: 1280, height: 800, pxPerMm: 5.88 },
  { name: '13 inch', width: 1366, height: 1024, pxPerMm: 5.2 },
];

export const PHONE: Tablet = { name: 'phone', width: 844, height: 390, pxPerMm: 6.04 };

/** Until a resized page has found its layout: at least so many ms, and so many frames. */
const SETTLE_MS = 60;
const FRAMES = 3;

/** One text on the screen. */
export interface Glyphs {
  readonly selector: string;
  readonly text: string;
  /** Height of its capitals and digits in mm. */
  readonly heightMm: number;
  /** Size of its font, CSS px. */
  readonly fontPx: number;
  /** How much of it can be seen: 1 when nothing is cut off by an edge. */
  readonly seenShare: number;
}

export async function setTablet(
  page: Page,
  tablet: Tablet,
  o: { readonly isUpright: boolean },
): Promise<void> {
  const { width, height, pxPerMm } = tablet;
  // Before the window changes, because the app looks at its sizes when it does.
  await page.evaluate((density) => {
    document.documentElement.style.setProperty('--px-per-mm', String(density));
  }, pxPerMm);
  await page.setViewportSize(o.isUpright ? { width: height, height: width } : { width, height });
  // On this side, because the clock of the page may stand still in a test.
  await page.waitForTimeout(SETTLE_MS);
  for (let frame = 0; frame < FRAMES; frame += 1) await nextFrame(page);
}

/**
 * Waits until the browser has drawn another frame and the page has answered it. An observer of sizes
 * is told of its element once in a frame, also while the clock of the page stands still.
 */
function nextFrame(page: Page): Promise<void> {
  return page.evaluate(
    () =>
      new Promise<void>((resolve) => {
        const observer = new ResizeObserver(() => {
          observer.disconnect();
          const { port1, port2 } = new MessageChannel();
          port1.onmessage = () => resolve();
          port2.postMessage(null);
        });
        observer.observe(document.documentElement);
      }),
  );
}

/**
 * The texts that match. The height is the ascent of the ink of a flat capital, drawn by the browser
 * in the computed font: character height as ISO 9241-303 means it, without accents and descenders.
 */
export function measureGlyphs(
  page: Page,
  o: { readonly selectors: readonly string[]; readonly pxPerMm: number },
): Promise<readonly Glyphs[]> {
  return page.evaluate(({ selectors, pxPerMm }) => {
    const pen = document.createElement('canvas').getContext('2d');
    if (pen === null) throw new Error('no canvas');
    return selectors.flatMap((selector) =>
      [...document.querySelectorAll(selector)].flatMap((element) => {
        const style = getComputedStyle(element);
        const box = element.getBoundingClientRect();
        if (box.width === 0 || box.height === 0 || style.visibility === 'hidden') return [];
        // Ten times as large, so that no rounding to whole pixels is measured.
        const tenfoldPx = 10 * Number.parseFloat(style.fontSize);
        pen.font = `${style.fontWeight} ${tenfoldPx}px ${style.fontFamily}`;
        let top = Math.max(0, box.top);
        let bottom = Math.min(innerHeight, box.bottom);
        let left = Math.max(0, box.left);
        let right = Math.min(innerWidth, box.right);
        for (let up = element.parentElement; up !== null; up = up.parentElement) {
          if (getComputedStyle(up).overflow === 'visible') continue;
          const edge = up.getBoundingClientRect();
          top = Math.max(top, edge.top);
          bottom = Math.min(bottom, edge.bottom);
          left = Math.max(left, edge.left);
          right = Math.min(right, edge.right);
        }
        const seen = Math.max(0, bottom - top) * Math.max(0, right - left);
        return [
          {
            selector,
            text: (element.textContent ?? '').trim().slice(0, 60),
            heightMm: pen.measureText('H').actualBoundingBoxAscent / 10 / pxPerMm,
            fontPx: Number.parseFloat(style.fontSize),
            seenShare: seen / (box.width * box.height),
          },
        ];
      }),
    );
  }, o);
}
