import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import {
  DECISION_MS,
  type LockState,
  SILENCE_MS,
  WriterLock,
} from '../../src/storage/writer-lock.ts';

/** One exclusive lock with `ifAvailable` and `steal`, as the Web Locks API (W3C, 2024) has it. */
function fakeLocks(): Pick<LockManager, 'request'> {
  let holder: { readonly rob: () => void } | null = null;
  async function request(...args: readonly unknown[]): Promise<unknown> {
    const [, options, callback] = args;
    if (typeof callback !== 'function' || typeof options !== 'object') throw new TypeError('call');
    const isStealing = options !== null && 'steal' in options;
    if (holder !== null && !isStealing) return callback(null);
    holder?.rob();
    const robbed = new Promise<never>((_resolve, reject) => {
      holder = { rob: () => reject(new DOMException('stolen', 'AbortError')) };
    });
    const mine = holder;
    try {
      return await Promise.race([callback({ name: 'it', mode: 'exclusive' }), robbed]);
    } finally {
      if (holder === mine) holder = null;
    }
  }
  return { request };
}

interface Tab {
  readonly lock: WriterLock;
  readonly states: LockState[];
  answer: () => Promise<boolean>;
  isFrozen: boolean;
}

/** Tabs on one device; a frozen one hears nothing. */
function makeTabs(): (tabId: string) => Tab {
  const locks = fakeLocks();
  const heard = new Set<(message: unknown) => void>();
  return (tabId) => {
    const states: LockState[] = [];
    let own: ((message: unknown) => void) | null = null;
    const tab: Tab = {
      states,
      answer: async () => true,
      isFrozen: false,
      lock: new WriterLock({
        locks,
        tabId,
        onAsked: () => tab.answer(),
        onState: (state) => states.push(state),
        channel: {
          postMessage: (message: unknown) => {
            for (const hear of heard) if (hear !== own) queueMicrotask(() => hear(message));
          },
          addEventListener: (_type: string, listener: unknown) => {
            own = (data) => {
              if (!tab.isFrozen && typeof listener === 'function') listener({ data });
            };
            heard.add(own);
          },
          close: () => undefined,
        },
      }),
    };
    return tab;
  };
}

let open: (tabId: string) => Tab;

beforeEach(() => {
  vi.useFakeTimers();
  open = makeTabs();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('the writer lock', () => {
  it('is held by one tab at a time, and passes on when it is let go', async () => {
    const a = open('a');
    const b = open('b');
    expect(await a.lock.acquire()).toBe(true);
    expect(await b.lock.acquire()).toBe(false);
    a.lock.release();
    await vi.advanceTimersByTimeAsync(0);
    expect(await b.lock.acquire()).toBe(true);
    expect([a.states, b.states]).toEqual([['held', 'none'], ['held']]);
  });

  it('is handed over after the owner has finished', async () => {
    const a = open('a');
    const b = open('b');
    await a.lock.acquire();
    const order: string[] = [];
    a.answer = async () => {
      await new Promise((resolve) => setTimeout(resolve, 8000));
      order.push('finished');
      return true;
    };
    const asked = b.lock.requestHandover().then((outcome) => order.push(outcome));
    await vi.advanceTimersByTimeAsync(8100);
    await asked;
    expect(order).toEqual(['finished', 'held']);
    expect(a.states).toEqual(['held', 'none']);
  });

  it('stays where it is when the owner refuses, and cannot be forced then', async () => {
    const a = open('a');
    const b = open('b');
    await a.lock.acquire();
    a.answer = async () => false;
    const outcome = b.lock.requestHandover();
    await vi.advanceTimersByTimeAsync(SILENCE_MS + DECISION_MS + 1);
    expect(await outcome).toBe('refused');
    expect(await b.lock.takeOver()).toBe(false);
    expect(a.lock.state).toBe('held');
  });

  it('can be taken by force only after five seconds of silence', async () => {
    expect(SILENCE_MS).toBe(5000);
    const a = open('a');
    const b = open('b');
    await a.lock.acquire();
    a.isFrozen = true;
    expect(await b.lock.takeOver()).toBe(false);
    let outcome = 'none yet';
    void b.lock.requestHandover().then((found) => {
      outcome = found;
    });
    await vi.advanceTimersByTimeAsync(SILENCE_MS - 1);
    expect(outcome).toBe('none yet');
    await vi.advanceTimersByTimeAsync(1);
    expect(outcome).toBe('silent');
    expect(await b.lock.takeOver()).toBe(true);
    await vi.advanceTimersByTimeAsync(0);
    expect(a.states).toEqual(['held', 'lost']);
    expect(b.lock.state).toBe('held');
  });

  it('cannot be forced once the silent owner has spoken again', async () => {
    const a = open('a');
    const b = open('b');
    await a.lock.acquire();
    a.isFrozen = true;
    const first = b.lock.requestHandover();
    await vi.advanceTimersByTimeAsync(SILENCE_MS);
    expect(await first).toBe('silent');
    a.isFrozen = false;
    a.answer = async () => false;
    const second = b.lock.requestHandover();
    await vi.advanceTimersByTimeAsync(SILENCE_MS);
    expect(await second).toBe('refused');
    expect(await b.lock.takeOver()).toBe(false);
  });

  it('is never taken by force on its own', async () => {
    const a = open('a');
    const b = open('b');
    await a.lock.acquire();
    a.isFrozen = true;
    const outcome = b.lock.requestHandover();
    await vi.advanceTimersByTimeAsync(60_000);
    await outcome;
    expect(a.lock.state).toBe('held');
    expect(b.lock.state).toBe('none');
  });
});
