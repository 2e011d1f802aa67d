/** Opens every state of sharing in a browser, one after the other. */
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { createServer } from 'vite';
import { played } from '../mishaps/play.ts';
import { LOOKS, type Look } from './states.ts';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** Until late parts are loaded and the layout stands, in ms. */
const SETTLE_MS = 250;

/** Cement is out: as full as the chair gets. */
const CHAIR = () => {
  const { log, stamp } = played('two-veneers', 'to end seat 11\nthen look');
  return { records: log.records, stamp };
};

async function press({ press: name, pairing, sharing }: Look, page: Page): Promise<void> {
  if (name === undefined) return;
  if (name === 'Join' && pairing !== undefined) {
    await page.getByLabel('Code').fill('k7qz m3xw 9dtr pb4f');
    await page.getByLabel('Name of this tablet').first().fill('Chair 3');
  }
  if (name === 'Show a code') {
    await page.getByLabel('Passphrase of the lead').fill('four words of one sort');
  }
  await page.getByRole('button', { name, exact: true }).click();
  if (pairing?.step === 'compare') await page.getByText('Same digits').waitFor();
  if (pairing?.founds === true) await page.getByText('Repeat it').waitFor();
  if (name.startsWith('Put out') || sharing.standing === 'alone') return;
}

/**
 * Calls `look` for each state once it stands on the page.
 * @param only the beginning of the names that are wanted; empty for all.
 */
export async function lookAtStates(
  browser: Browser,
  o: { readonly only?: string; readonly look: (page: Page, look: Look) => Promise<void> },
): Promise<void> {
  const server = await createServer({
    root: here('../..'),
    server: { port: 0, host: '127.0.0.1', hmr: false },
    appType: 'custom',
    logLevel: 'warn',
    // Found in advance: a package found in the middle would load the page anew.
    optimizeDeps: { entries: ['tests/sharing-ui/picture-page.tsx'] },
  });
  await server.listen();
  server.middlewares.use('/states.html', (_, response) => {
    response.setHeader('Content-Type', 'text/html');
    void server
      .transformIndexHtml(
        '/states.html',
        '<!doctype html><html lang="en"><title>States</title><meta name="viewport" content="width=device-width"><body><script type="module" src="/tests/sharing-ui/picture-page.tsx"></script></body></html>',
      )
      .then((html) => response.end(html));
  });
  const address = server.resolvedUrls?.local[0] ?? '';
  // axe-core looks only at pages of a context of their own.
  const context = await browser.newContext({ viewport: { width: 1180, height: 820 } });
  const page = await context.newPage();
  page.on('pageerror', (fault) => console.error(fault.message));
  await page.goto(`${address}states.html`);
  await page.waitForFunction(() => 'showSharing' in window, undefined, { timeout: 60_000 });
  const chair = CHAIR();
  for (const state of LOOKS.filter(({ name }) => name.startsWith(o.only ?? ''))) {
    await page.evaluate(([given, at]) => window.showSharing(given, at), [
      state,
      state.isInChair === true ? chair : null,
    ] as const);
    await page.locator('main').first().waitFor();
    await page.waitForTimeout(SETTLE_MS);
    await press(state, page);
    await page.waitForTimeout(SETTLE_MS);
    await o.look(page, state);
  }
  await context.close();
  await server.close();
}
