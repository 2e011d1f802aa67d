/**
 * A tab that the browser may hide. The driver keeps every page it knows of visible and unthrottled,
 * so this one lives in a browser context that only the browser itself knows, and is spoken to in the
 * browser's own protocol.
 */
import type { Browser, CDPSession } from 'playwright-core';
import { BOUNCE_MS } from '../../src/runtime/keys/bounce.ts';
import { launchBrowser } from '../tools/browser.ts';

/** What a driver tells a browser so that hidden pages are not slowed; here they shall be. */
const SPARING_ARGS = [
  '--disable-background-timer-throttling',
  '--disable-backgrounding-occluded-windows',
  '--disable-renderer-backgrounding',
];

export interface RawTab {
  /** Evaluates an expression and answers its value as JSON text. */
  evaluate(expression: string): Promise<unknown>;
  pressSpace(): Promise<void>;
  /** Puts this tab in front of the others of its window. */
  show(): Promise<void>;
  /** Stops the page and its workers, as a device does with a page that was left; or lets it go on. */
  setFrozen(options: { readonly isFrozen: boolean }): Promise<void>;
}

export interface RawWindow {
  openTab(url: string): Promise<RawTab>;
  close(): Promise<void>;
}

interface Link {
  send(method: string, params: object): Promise<unknown>;
}

function valueAt(answer: unknown, ...path: readonly string[]): unknown {
  let value = answer;
  for (const key of path) {
    value = typeof value === 'object' && value !== null ? Reflect.get(value, key) : undefined;
  }
  return value;
}

/** Speaks to one target through the session of the whole browser. */
function link(session: CDPSession, sessionId: string): Link {
  const waiting = new Map<unknown, (answer: unknown) => void>();
  let lastId = 0;
  session.on('Target.receivedMessageFromTarget', (event) => {
    if (event.sessionId !== sessionId) return;
    const answer: unknown = JSON.parse(event.message);
    waiting.get(valueAt(answer, 'id'))?.(answer);
  });
  return {
    send(method, params) {
      lastId += 1;
      const id = lastId;
      const message = JSON.stringify({ id, method, params });
      return new Promise((resolve, reject) => {
        waiting.set(id, resolve);
        session.send('Target.sendMessageToTarget', { sessionId, message }).catch(reject);
      });
    },
  };
}

async function openTab(
  session: CDPSession,
  o: { readonly url: string; readonly browserContextId: string },
): Promise<RawTab> {
  const { targetId } = await session.send('Target.createTarget', o);
  const attached = await session.send('Target.attachToTarget', { targetId, flatten: false });
  const { send } = link(session, attached.sessionId);
  const key = { key: ' ', code: 'Space', text: ' ', windowsVirtualKeyCode: 32 };
  return {
    async evaluate(expression) {
      const params = { expression, returnByValue: true, awaitPromise: true };
      return valueAt(await send('Runtime.evaluate', params), 'result', 'result', 'value');
    },
    async pressSpace() {
      await send('Input.dispatchKeyEvent', { type: 'keyDown', ...key });
      await send('Input.dispatchKeyEvent', { type: 'keyUp', ...key });
    },
    async setFrozen({ isFrozen }) {
      await send('Page.setWebLifecycleState', { state: isFrozen ? 'frozen' : 'active' });
    },
    async show() {
      await session.send('Target.activateTarget', { targetId });
    },
  };
}

/** Opens a window of its own in a new browser. */
export async function openRawWindow(): Promise<RawWindow> {
  const browser: Browser = await launchBrowser({ ignoreDefaultArgs: SPARING_ARGS });
  const session = await browser.newBrowserCDPSession();
  const { browserContextId } = await session.send('Target.createBrowserContext');
  return {
    openTab: (url) => openTab(session, { url, browserContextId }),
    close: () => browser.close(),
  };
}

/** Whether this browser ever hides a page. Some never do; then there is nothing to look at. */
export async function hidesPages(): Promise<boolean> {
  const window = await openRawWindow();
  const behind = await window.openTab('about:blank');
  const isHidden = await cover(behind, await window.openTab('about:blank'));
  await window.close();
  return isHidden;
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** Waits until the expression is true in the tab. */
export async function waitInTab(tab: RawTab, expression: string): Promise<void> {
  for (let turn = 0; turn < 500; turn += 1) {
    if ((await tab.evaluate(expression)) === true) return;
    await pause(30);
  }
  throw new Error(`The tab never came to ${expression}`);
}

const bigRehearsal =
  "[...document.querySelectorAll('button')].find((b) => /^Rehearse Eight/.test(b.ariaLabel ?? ''))";
const barWords = "document.querySelector('.lw-bar-words')?.textContent";

/** Begins a rehearsal in the tab and brings it to acid on the first unit. Answers when, in ms. */
export async function toAcidInTab(tab: RawTab): Promise<number> {
  await waitInTab(tab, `${bigRehearsal} !== undefined`);
  await tab.evaluate(`${bigRehearsal}.click()`);
  await waitInTab(tab, `${barWords} !== undefined`);
  while ((await tab.evaluate(barWords)) !== 'Acid on 11') {
    await tab.pressSpace();
    await pause(BOUNCE_MS + 50);
  }
  const begunAtMs = performance.now();
  await tab.pressSpace();
  await waitInTab(tab, "document.querySelector('.lw-clock-figure, .lw-watch-figure') !== null");
  return begunAtMs;
}

/** Covers the tab with another one. False in a browser that never hides a page. */
export async function cover(tab: RawTab, by: RawTab): Promise<boolean> {
  await by.show();
  await pause(300);
  return (await tab.evaluate('document.visibilityState')) === 'hidden';
}
