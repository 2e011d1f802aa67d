import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runSeed, runSize } from '../tools/run-size.ts';
import {
  buildHarness,
  type Origin,
  removeFolder,
  serveOrigin,
  startBrowser,
  temporaryFolder,
} from './killable-browser.ts';

const KILLS = runSize({ long: 40, part: 8 });
/** A press every tenth of a second is fast for people; without a pause the disk is never at rest. */
const PAUSES_MS = [0, 0, 5, 100];

let built: string;
let profile: string;
let origin: Origin;

beforeAll(async () => {
  built = await temporaryFolder();
  profile = await temporaryFolder();
  await buildHarness(built);
  origin = await serveOrigin(built);
});

afterAll(async () => {
  origin.close();
  await removeFolder(built);
  await removeFolder(profile);
});

describe('a browser that is killed while presses are written', () => {
  it(`loses no acknowledged press in ${KILLS} kills at random instants`, async () => {
    const seed = runSeed();
    const delaysMs = fc.sample(fc.integer({ min: 0, max: 500 }), { seed, numRuns: KILLS });
    const acknowledged = new Map<string, number>();
    const seen = { rebuilt: 0, tornLines: 0 };
    for (const [round, delayMs] of delaysMs.entries()) {
      const browser = await startBrowser(profile);
      await browser.context.exposeFunction('acknowledged', (caseId: string, entries: number) => {
        acknowledged.set(caseId, entries);
      });
      const page = await browser.openPage(origin);
      const { report } = await page.evaluate(() => window.harness.start());
      seen.rebuilt += report.rebuilt === null ? 0 : 1;
      seen.tornLines += report.unreadable;
      const counts = await page.evaluate(() => window.harness.countAll());
      for (const [caseId, entries] of acknowledged) {
        expect(counts[caseId] ?? 0, `${caseId}, seed ${seed}`).toBeGreaterThanOrEqual(entries);
      }
      const flow = { caseId: `round-${round}`, pauseMs: PAUSES_MS[round % PAUSES_MS.length] ?? 0 };
      const writing = page.evaluate((f) => window.harness.writeForEver(f), flow);
      writing.catch(() => undefined);
      await expect.poll(() => acknowledged.has(flow.caseId), { timeout: 5000 }).toBe(true);
      await new Promise((resolve) => setTimeout(resolve, delayMs));
      await browser.kill();
    }
    const browser = await startBrowser(profile);
    const page = await browser.openPage(origin);
    await page.evaluate(() => window.harness.start());
    const counts = await page.evaluate(() => window.harness.countAll());
    await browser.close();
    const lost = [...acknowledged].filter(([caseId, entries]) => (counts[caseId] ?? 0) < entries);
    const total = [...acknowledged.values()].reduce((sum, entries) => sum + entries, 0);
    process.stdout.write(
      `${KILLS} kills, ${total} acknowledged presses, lost in ${lost.length} rounds, ` +
        `homes unequal at ${seen.rebuilt} starts, ${seen.tornLines} torn lines, seed ${seed}\n`,
    );
    expect(lost).toEqual([]);
    expect(acknowledged.size).toBe(KILLS);
    expect(total).toBeGreaterThan(KILLS * 2);
  }, 240_000);
});
