/** For tests that take the network away: what is kept some seconds after the first start is waited for. */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { builtDir } from './built-app.ts';

/** Waits until what is seldom needed is kept too, some seconds after the start, and names it. */
export async function keptLater(page: Page): Promise<readonly string[]> {
  const worker = await readFile(join(builtDir(), 'service-worker.js'), 'utf8');
  const files = await readdir(join(builtDir(), 'assets'));
  const later = files
    .filter((file) => worker.includes(`/assets/${file}`))
    .map((file) => `/assets/${file}`);
  const missing = () =>
    page.evaluate(async (paths) => {
      const found = await Promise.all(paths.map((path) => caches.match(path)));
      return paths.filter((_, at) => found[at] === undefined);
    }, later);
  await expect.poll(missing, { timeout: 30_000, interval: 250 }).toEqual([]);
  return later;
}
