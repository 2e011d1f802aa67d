/** The page is loaded anew in the middle of an etch: its clock is then open by the time away. */
import type { LivePicture } from '../../src/runtime/windows/read-along.ts';
import { goOn, openToday, pressOnce, pressUntil, rehearse, see } from './chair.ts';
import { told, until } from './findings.ts';
import { type OtherBrowser, pause } from './other-browser.ts';

const CASE = 'Onlay and crown, lower left';
/** The running window notes once a second that it is alive. */
const HEARTBEAT_MS = 1000;
/** What the tools between the run and the page may add to a reading. */
const SLACK_MS = 300;

/** The running window answers a hello with its picture. Both clocks are those of one machine. */
const LISTEN = `
  const channel = new BroadcastChannel('lutewatch-picture');
  window.heardPicture = null;
  channel.addEventListener('message', ({ data }) => {
    if (data?.type !== 'picture') return;
    window.heardPicture = { picture: data.picture, atMs: Date.now() };
    channel.close();
  });
  channel.postMessage({ type: 'hello' });`;

interface Heard {
  readonly picture: LivePicture;
  readonly atMs: number;
}

async function etchClock(browser: OtherBrowser) {
  await browser.ask(LISTEN);
  const heard = await until(
    () => browser.ask<Heard | null>('return window.heardPicture;'),
    (h) => h !== null,
  );
  const clock = heard?.picture.view.clocks.find(({ of }) => of === 'etch');
  return heard === null || clock === undefined ? null : { ...clock.elapsed, atMs: heard.atMs };
}

const TIMER = `return document.querySelector('[role=timer]')?.getAttribute('aria-label') ?? '';`;

/** The true time lies between two instants, as the press does: its moment is known to within them. */
export async function reloadInEtch(browser: OtherBrowser, address: string): Promise<void> {
  await openToday(browser, address);
  await rehearse(browser, { title: CASE, speed: 1 });
  await pressUntil(browser, /Gel on 36/);
  const earliestMs = Date.now();
  const { records } = await pressOnce(browser);
  const latestMs = Date.now();
  await pause(1500);
  const leftAtMs = Date.now();
  await openToday(browser, address);
  await goOn(browser);
  const again = await until(
    () => see(browser),
    (seen) => seen.records > records,
  );
  const awayMs = Date.now() - leftAtMs;
  const clock = await etchClock(browser);
  const shown = await browser.ask<string>(TIMER);
  if (clock === null) {
    told(browser, 'after a reload in mid-etch its clock runs', false, { shown, again });
    return;
  }
  const { loMs, hiMs, atMs } = clock;
  const trueMs = { least: atMs - latestMs, most: atMs - earliestMs };
  const contains = loMs < trueMs.most + SLACK_MS && hiMs > trueMs.least - SLACK_MS;
  const isOpen = hiMs > loMs && hiMs - loMs < awayMs + HEARTBEAT_MS + SLACK_MS;
  const isGood = contains && isOpen && again.records === records + 1;
  told(
    browser,
    'after a reload in mid-etch its clock is an interval around the true time',
    isGood,
    {
      loMs: Math.round(loMs),
      hiMs: Math.round(hiMs),
      trueMs,
      awayMs,
      records: [records, again.records],
      shown,
    },
  );
}
