/** One whole case of each shipped family, from Today to its record, with one key. */
import { readFileSync } from 'node:fs';
import { ONE_OF_EACH_FAMILY } from '../tools/one-of-each-family.ts';
import { openToday, outwaitBounce, pressOnce, rehearse, see } from './chair.ts';
import { told, until } from './findings.ts';
import type { OtherBrowser } from './other-browser.ts';

const PRESSES_MAX = 400;
const CLOSED = /Open the record/;
/** The longest wait of a case is an hour of its own time, a minute at this speed. */
const DUE_TRIES = 4000;

function titleOf(id: string): string {
  const file = new URL(`../../demo-data/cases/${id}.json`, import.meta.url);
  return String(JSON.parse(readFileSync(file, 'utf8')).title);
}

/** Presses when it is due until the case is signed. */
async function pressToSignature(
  browser: OtherBrowser,
): Promise<{ presses: number; records: number }> {
  for (let presses = 0; presses < PRESSES_MAX; presses += 1) {
    const seen = await until(
      () => see(browser),
      (s) => s.urgency !== 'early',
      {
        everyMs: 20,
        tries: DUE_TRIES,
      },
    );
    if (CLOSED.test(seen.bar)) return { presses, records: seen.records };
    await pressOnce(browser);
  }
  throw new Error(`The case was still open after ${PRESSES_MAX} presses.`);
}

/** The head of the record and how many limits it says were not kept. */
const RECORD = `
  return {
    title: document.querySelector('h1')?.textContent ?? '',
    sections: [...document.querySelectorAll('h2')].map((h) => h.textContent),
    notKept: document.querySelectorAll('.record-breaches > li').length,
    isOpen: document.querySelector('main.chair') === null,
  };`;

const ON_SCREEN = `
  const words = document.body.innerText;
  return { place: location.pathname, bytes: document.body.innerHTML.length, words: words.slice(0, 300) };`;

interface RecordSeen {
  readonly title: string;
  readonly sections: readonly string[];
  readonly notKept: number;
  readonly isOpen: boolean;
}

async function playCase(browser: OtherBrowser, o: { address: string; id: string }): Promise<void> {
  const title = titleOf(o.id);
  const startedAtMs = performance.now();
  await openToday(browser, o.address);
  await rehearse(browser, { title, speed: 60 });
  const { presses, records } = await pressToSignature(browser);
  await outwaitBounce(browser);
  await browser.pressSpace();
  const record = await until(
    () => browser.ask<RecordSeen>(RECORD),
    (r) => r.isOpen && r.sections.length > 0,
  );
  const tookS = Math.round((performance.now() - startedAtMs) / 1000);
  const isGood = record.isOpen && record.sections.length > 0 && records >= presses;
  const { notKept } = record;
  const measured = { presses, records, tookS, notKept, heading: record.title };
  told(browser, `a whole case to its signature: ${title}`, isGood, measured);
}

/**
 * Each case in a browser of its own: what one leaves behind is not the matter of the next.
 *
 * @param inBrowser starts a browser, hands it over and closes it.
 */
export async function playWholeCases(
  address: string,
  inBrowser: (run: (browser: OtherBrowser) => Promise<void>) => Promise<void>,
): Promise<void> {
  for (const id of ONE_OF_EACH_FAMILY) {
    await inBrowser(async (browser) => {
      try {
        await playCase(browser, { address, id });
      } catch (error) {
        const seen = await browser.ask(ON_SCREEN).catch(() => null);
        const finding = `a whole case to its signature: ${titleOf(id)}`;
        told(browser, finding, false, { error: String(error), seen });
      }
    });
  }
}
