/** Kills of the browser in the middle of a case, and what is there when it is started again. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { runSeed } from '../tools/run-size.ts';
import { goOn, openToday, outwaitBounce, pressOnce, rehearse, type Seen, see } from './chair.ts';
import { told, until } from './findings.ts';
import { type Maker, type OtherBrowser, pause } from './other-browser.ts';

const CASE = 'Onlay and crown, lower left';
const KILLS = Number(process.env['LUTEWATCH_BROWSER_KILLS'] ?? 20);

interface Round {
  /** Presses whose recording is waited for. */
  readonly presses: number;
  /** From the last press, which is not waited for, to the kill. */
  readonly delayMs: number;
}

/** Half of the kills come within a write's time of a press, the others anywhere between two. */
const ROUNDS: fc.Arbitrary<Round> = fc.record({
  presses: fc.integer({ min: 0, max: 2 }),
  delayMs: fc.oneof(fc.integer({ min: 0, max: 25 }), fc.integer({ min: 0, max: 600 })),
});

/**
 * Pressed by the page itself, so that the time from the press to the kill is not that of the driver.
 * What each picture showed as recorded is kept for the next question.
 */
const PRESS_AT_ONCE = `setTimeout(() => document.querySelector('.lw-bar')?.click(), 0);`;

const acknowledgedOf = (seen: Seen): number => (seen.pending === 0 ? seen.records : 0);

/** Presses, looks at what the screen shows as recorded until the very end, and kills. */
async function pressAndKill(browser: OtherBrowser, round: Round): Promise<number> {
  let acknowledged = acknowledgedOf(await see(browser));
  for (let press = 0; press < round.presses; press += 1) {
    acknowledged = Math.max(acknowledged, acknowledgedOf(await pressOnce(browser)));
  }
  await outwaitBounce(browser);
  await browser.ask(PRESS_AT_ONCE);
  let isOver = false;
  const looking = (async () => {
    while (!isOver) {
      const seen = await see(browser);
      acknowledged = Math.max(acknowledged, acknowledgedOf(seen));
    }
  })().catch(() => undefined);
  await pause(round.delayMs);
  isOver = true;
  await browser.kill();
  await looking;
  return acknowledged;
}

interface Tally {
  kills: number;
  acknowledged: number;
  /** Recorded although no picture had shown it yet. */
  unseen: number;
  lost: number;
  readonly notes: string[];
}

interface Kept {
  /** Entries that were written before this start of the app. */
  readonly before: number;
  /** The entry with which every start tells that nobody watched the clocks. */
  readonly isTakenUp: boolean;
}

/** Counts what is stored. What the app adds by itself as it goes on must not stand in for a press. */
const COUNT_KEPT = `
  window.keptEntries ??= null;
  const opening = indexedDB.open('lutewatch');
  opening.onsuccess = () => {
    const all = opening.result.transaction('entries').objectStore('entries').getAll();
    all.onsuccess = () => {
      const newest = Math.max(...all.result.map(({ epoch }) => epoch));
      const now = all.result.filter(({ epoch }) => epoch === newest);
      window.keptEntries = {
        before: all.result.length - now.length,
        isTakenUp: now.some(({ event }) => event.type === 'gap-found'),
      };
      opening.result.close();
    };
  };
  return window.keptEntries;`;

/** Takes the case up again. What was shown as recorded must be stored, and be on the screen. */
async function takeUp(browser: OtherBrowser, tally: Tally): Promise<void> {
  const isOffered = await goOn(browser);
  const shown = await until(
    () => see(browser),
    (seen) => seen.pending === 0 && seen.records > tally.acknowledged,
    { tries: 50 },
  );
  const kept = await until(
    () => browser.ask<Kept | null>(COUNT_KEPT),
    (k) => k?.isTakenUp === true,
    { tries: 50 },
  );
  const stored = isOffered && kept?.isTakenUp ? kept.before : 0;
  const found = Math.min(stored, shown.records - 1);
  if (found < tally.acknowledged) {
    tally.lost += tally.acknowledged - found;
    tally.notes.push(`kill ${tally.kills}: ${tally.acknowledged} shown, ${found} there`);
  }
  tally.unseen += Math.max(0, found - tally.acknowledged);
}

/** Kills the browser at seeded moments. Nothing that was shown as recorded may be lost. */
export async function killInACase(maker: Maker, address: string): Promise<void> {
  const profile = await mkdtemp(join(tmpdir(), 'lutewatch-profile-'));
  const seed = runSeed();
  const tally: Tally = { kills: 0, acknowledged: 0, unseen: 0, lost: 0, notes: [] };
  try {
    const rounds = fc.sample(ROUNDS, { seed, numRuns: KILLS });
    for (const round of [...rounds, null]) {
      const browser = await maker.make(profile);
      if (browser === null) {
        const skipped = `no kills: needs ${maker.wantsToKeep} to keep a profile`;
        console.log(JSON.stringify({ browser: maker.name, skipped }));
        return;
      }
      await openToday(browser, address);
      if (tally.kills === 0) await rehearse(browser, { title: CASE, speed: 1 });
      else await takeUp(browser, tally);
      if (round === null) {
        const { notes, ...counts } = tally;
        const isGood = tally.lost === 0 && tally.kills === KILLS && tally.acknowledged > 0;
        told(browser, 'no press that was shown as recorded is lost by a kill', isGood, {
          ...counts,
          seed,
          notes,
        });
        await browser.close();
        return;
      }
      tally.acknowledged = await pressAndKill(browser, round);
      tally.kills += 1;
    }
  } finally {
    await rm(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  }
}
