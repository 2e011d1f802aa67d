import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  buildHarness,
  type KillableBrowser,
  type Origin,
  removeFolder,
  serveOrigin,
  startBrowser,
  temporaryFolder,
} from './killable-browser.ts';

let built: string;
let profile: string;
let origin: Origin;
let browser: KillableBrowser;

beforeAll(async () => {
  built = await temporaryFolder();
  profile = await temporaryFolder();
  await buildHarness(built);
  origin = await serveOrigin(built);
  browser = await startBrowser(profile);
});

afterAll(async () => {
  await browser.close();
  origin.close();
  await removeFolder(built);
  await removeFolder(profile);
});

describe('two tabs of one device', () => {
  it('write one at a time: one reads along, asks, takes over; late writes are refused', async () => {
    const [a, b] = [await browser.openPage(origin), await browser.openPage(origin)];
    expect(await a.evaluate(() => window.harness.lock.acquire())).toBe(true);
    expect(await b.evaluate(() => window.harness.lock.acquire())).toBe(false);
    const first = await a.evaluate(() => window.harness.start());
    expect(first.copies).toBe(2);
    await a.evaluate(() => window.harness.write({ caseId: 'c1', from: 0, count: 3 }));
    await expect
      .poll(() => b.evaluate(() => window.harness.heard))
      .toEqual(['c1/0', 'c1/1', 'c1/2']);
    expect(await b.evaluate(() => window.harness.count('c1'))).toBe(3);

    expect(await b.evaluate(() => window.harness.lock.requestHandover())).toBe('held');
    expect((await b.evaluate(() => window.harness.start())).epoch).toBeGreaterThan(first.epoch);
    const late = await a.evaluate(() => window.harness.tryAppend({ caseId: 'c1', seq: 3 }));
    expect(late).toBe('not-writer');
    const now = await b.evaluate(() => window.harness.tryAppend({ caseId: 'c1', seq: 3 }));
    expect(now).toBe('stored in 2');
    await a.close();
    await b.close();
  });

  it('a hung owner is taken over after five seconds, and refused when it comes back', async () => {
    const [a, b] = [await browser.openPage(origin), await browser.openPage(origin)];
    await a.evaluate(() => window.harness.lock.acquire());
    const first = await a.evaluate(() => window.harness.start());
    await a.evaluate(() => window.harness.write({ caseId: 'c2', from: 0, count: 3 }));
    const hanging = a.evaluate(() => {
      const untilMs = performance.now() + 9000;
      while (performance.now() < untilMs);
      // The first thing the page does when it comes back is to write.
      return window.harness.tryAppend({ caseId: 'c2', seq: 3 });
    });

    const askedAtMs = Date.now();
    expect(await b.evaluate(() => window.harness.lock.requestHandover())).toBe('silent');
    expect(Date.now() - askedAtMs).toBeGreaterThanOrEqual(5000);
    expect(await b.evaluate(() => window.harness.lock.takeOver())).toBe(true);
    const second = await b.evaluate(() => window.harness.start());
    expect(second).toMatchObject({ copies: 2 });
    expect(second.epoch).toBeGreaterThan(first.epoch);
    const now = await b.evaluate(() => window.harness.tryAppend({ caseId: 'c2', seq: 3 }));
    expect(now).toBe('stored in 2');

    expect(await hanging).toBe('stale-epoch');
    await expect.poll(() => a.evaluate(() => window.harness.lock.state)).toBe('lost');
    const next = await b.evaluate(() => window.harness.tryAppend({ caseId: 'c2', seq: 4 }));
    expect(next).toBe('stored in 2');
    expect(await b.evaluate(() => window.harness.count('c2'))).toBe(5);
    // Nothing of the late write is in the files either: both homes agree at the next start.
    await b.evaluate(() => window.harness.lock.release());
    const third = await b.evaluate(() => window.harness.start());
    expect(third.report).toMatchObject({ rebuilt: null, conflicts: 0, unreadable: 0 });
  }, 60_000);
});
