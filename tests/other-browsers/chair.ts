/** The chair screen as a browser shows it that is steered by scripts and one real key. */
import { BOUNCE_MS } from '../../src/runtime/keys/bounce.ts';
import { until } from './findings.ts';
import { type OtherBrowser, pause } from './other-browser.ts';

/** What the screen says of the case, read in one go. */
export interface Seen {
  readonly bar: string;
  readonly urgency: string;
  /** Lines of the list in hand, and those of them that have no answer yet. */
  readonly lines: number;
  readonly unanswered: number;
  readonly records: number;
  readonly pending: number;
  readonly figure: string;
  /** On the page's monotonic clock. */
  readonly atMs: number;
  readonly heading: string;
}

const SEEN = `
  const chair = document.querySelector('main.chair');
  const bar = document.querySelector('.lw-bar');
  const lines = [...document.querySelectorAll('.chair-list > li')];
  return {
    bar: document.querySelector('.lw-bar-words')?.textContent ?? '',
    urgency: bar?.getAttribute('data-urgency') ?? '',
    lines: lines.length,
    unanswered: lines.filter((line) => line.getAttribute('data-taken') !== 'true').length,
    records: Number(chair?.getAttribute('data-records') ?? -1),
    pending: Number(chair?.getAttribute('data-pending') ?? -1),
    figure: document.querySelector('.lw-clock-figure, .lw-watch-figure')?.textContent ?? '',
    atMs: performance.now(),
    heading: document.querySelector('h1')?.textContent ?? '',
  };`;

export const see = (browser: OtherBrowser): Promise<Seen> => browser.ask<Seen>(SEEN);

const CHOOSE_SPEED = (speed: number): string => `
  const labels = [...document.querySelectorAll('.today-speed label')];
  const found = labels.find((label) => label.textContent.trim() === '${speed}×');
  found?.click();
  return found !== undefined;`;

/** Opens Today and waits until it can be used. */
export async function openToday(browser: OtherBrowser, address: string): Promise<string> {
  await browser.open(address);
  const { heading } = await until(
    () => see(browser),
    (seen) => seen.heading === 'Today',
  );
  return heading;
}

/** Begins the case by a click on Today, and waits for its first entry. */
export async function rehearse(
  browser: OtherBrowser,
  o: { readonly title: string; readonly speed: 1 | 60 },
): Promise<void> {
  await until(() => browser.ask<boolean>(CHOOSE_SPEED(o.speed)), Boolean);
  const button = `button[aria-label="Rehearse ${o.title} at ${o.speed}×"]`;
  const isThere = `return document.querySelector(${JSON.stringify(button)}) !== null;`;
  await until(() => browser.ask<boolean>(isThere), Boolean);
  await browser.click(button);
  await until(
    () => see(browser),
    (seen) => seen.records > 0,
  );
}

const MARK_GO_ON = `
  const words = (b) => b.ariaLabel ?? b.textContent ?? '';
  const found = [...document.querySelectorAll('button')].find((b) => /^Go on/.test(words(b)));
  found?.setAttribute('data-go-on', '');
  return found !== undefined;`;

/**
 * Takes the unfinished case up again from Today, by a real click: sound needs one. Answers whether it was
 * offered. The row may be drawn anew between the look and the click, so both are tried again.
 */
export function goOn(browser: OtherBrowser): Promise<boolean> {
  const tried = async (): Promise<boolean> => {
    if (!(await browser.ask<boolean>(MARK_GO_ON))) return false;
    await browser.click('[data-go-on]');
    return true;
  };
  return until(tried, Boolean);
}

/** Answers one line: by its first choice, or by a number that is within the bounds of most readings. */
const ANSWER = `
  const setValue = (field, value) => {
    Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value').set.call(field, value);
    field.dispatchEvent(new Event('input', { bubbles: true }));
  };
  for (const row of document.querySelectorAll('.chair-list > li:not([data-taken="true"])')) {
    const choice = row.querySelector('.chair-list-choices button');
    const field = row.querySelector('input');
    if (choice !== null) choice.click();
    else if (field === null) continue;
    else {
      const problem = row.querySelector('.lw-field-problem')?.textContent ?? '';
      setValue(field, /expected (\\S+) to/.exec(problem)?.[1] ?? '80');
      field.dispatchEvent(new FocusEvent('focusout', { bubbles: true }));
    }
    return;
  }`;

const LIST_WORDS = /, \d+ of \d+(?:, \d+ lots? not named)?$/;

async function answerList(browser: OtherBrowser): Promise<void> {
  for (let tries = 0; tries < 60; tries += 1) {
    const seen = await see(browser);
    // The bar may name a list before its lines are there.
    if (!LIST_WORDS.test(seen.bar) || (seen.lines > 0 && seen.unanswered === 0)) return;
    await browser.ask(ANSWER);
    await pause(50);
  }
}

const pressedAtMs = new WeakMap<OtherBrowser, number>();

/** Waits until another press counts: two that follow closely are one to the application. */
export async function outwaitBounce(browser: OtherBrowser): Promise<void> {
  const sinceMs = performance.now() - (pressedAtMs.get(browser) ?? 0);
  await pause(Math.max(0, BOUNCE_MS + 10 - sinceMs));
}

/** One press of the real key, the list in hand answered before, until it is shown as stored. */
export async function pressOnce(browser: OtherBrowser): Promise<Seen> {
  await answerList(browser);
  await outwaitBounce(browser);
  const before = await see(browser);
  await browser.pressSpace();
  pressedAtMs.set(browser, performance.now());
  const isStored = (seen: Seen) => seen.records > before.records && seen.pending === 0;
  const after = await until(() => see(browser), isStored, { everyMs: 15, tries: 300 });
  if (!isStored(after)) throw new Error(`A press on "${before.bar}" was not recorded.`);
  return after;
}

/** Presses on, early or not, until the bar says so. */
export async function pressUntil(browser: OtherBrowser, words: RegExp): Promise<void> {
  for (let presses = 0; presses < 100; presses += 1) {
    if (words.test((await see(browser)).bar)) return;
    await pressOnce(browser);
  }
  throw new Error(`The bar never said ${words}.`);
}
