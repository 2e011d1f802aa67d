/** Global set-up of the suites that drive a browser: makes sure that there is one to drive. */
import { existsSync } from 'node:fs';
import { browserCommand } from './browser.ts';
import { unpackBundledBrowser } from './bundled-browser.ts';

export default async function setup(): Promise<void> {
  const { executablePath } = browserCommand();
  if (!existsSync(executablePath)) await unpackBundledBrowser();
  if (!existsSync(executablePath)) throw new Error(`There is no browser at ${executablePath}.`);
}
