import type { Page } from 'playwright-core';

/** What the browser says when the page's clock went past the instant meanwhile. */
const GONE_PAST = /Cannot fast-forward to the past/;

/**
 * Holds the clock of a page: from now on it moves only when it is told to.
 *
 * The browser holds a clock at an instant to come, and a busy machine can take longer than that to
 * ask for it. The clock then stands all the same, so the second time cannot come too late.
 *
 * @param page a page whose clock the test has installed.
 * @param aheadMs how far ahead of the page's own now, in ms.
 */
export async function holdClock(page: Page, aheadMs = 100): Promise<void> {
  const hold = async (): Promise<void> =>
    page.clock.pauseAt(await page.evaluate((ms) => Date.now() + ms, aheadMs));
  try {
    await hold();
  } catch (error) {
    if (!GONE_PAST.test(String(error))) throw error;
    await hold();
  }
}
