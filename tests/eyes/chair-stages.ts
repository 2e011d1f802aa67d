/** Takes the chair of the built application through the moments that its looks are judged at. */
import type { Page } from 'playwright-core';
import { rehearse } from '../tools/chair-driver.ts';
import { go, pressTo } from '../tools/every-screen.ts';
import { holdClock } from '../tools/held-clock.ts';

/** Moments before the light: their name, and the words of the bar by then. */
const EARLY = [
  ['instruction', /./],
  ['read-back', /^Teeth read/],
  ['watch', /^Gel on 12/],
  ['etch', /^Rinse 11/],
] as const;

/** Past the limit of an etch (30 s), and past the longest wait of a wet surface. */
const OVER_MS = 45_000;

export type StageName =
  | 'instruction'
  | 'read-back'
  | 'watch'
  | 'etch'
  | 'over'
  | 'far-view'
  | 'light'
  | 'tip';

async function pass(page: Page, ms: number): Promise<void> {
  await page.clock.fastForward(ms);
  await page.clock.runFor(400);
}

/**
 * Begins a rehearsal of eight veneers and calls `look` at each moment.
 *
 * @param page at the first screen, on a clock that the test has installed.
 */
export async function visitChairStages(
  page: Page,
  look: (name: StageName) => Promise<void>,
): Promise<void> {
  await rehearse(page, { title: 'Eight upper veneers', speed: 1 });
  await holdClock(page);
  for (const [name, words] of EARLY) {
    await pressTo(page, words);
    await look(name);
  }
  await pass(page, OVER_MS);
  await look('over');
  await go(page, '/far-view');
  await page.locator('.far-view-picture').waitFor();
  await look('far-view');
  await go(page, '/chair');
  await pressTo(page, /^Light off /);
  await look('light');
  await pressTo(page, /spot 1 of/);
  await page.keyboard.press('Space');
  await pass(page, 4000);
  await page.locator('.chair-tip').waitFor();
  await look('tip');
}
