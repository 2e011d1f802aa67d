/** The built app and a browser, both there for the tests of one file. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { launchBrowser } from './browser.ts';
import { type Served, serveBuilt } from './built-app.ts';

export interface BuiltInBrowser {
  /** Ends in a slash. */
  readonly address: string;
  readonly browser: Browser;
}

/** Starts both before the other hooks of the file that asks, and ends both after its last test. */
export function builtInBrowser(): BuiltInBrowser {
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
  return {
    get address() {
      return served.address;
    },
    get browser() {
      return browser;
    },
  };
}
