/** Two ends of a pairing and what lies between them, for tests. */
import { present } from '../../src/base/assert.ts';
import { makeTabletKeys } from '../../src/storage/signatures.ts';
import { newUserKey, tabletJwt } from '../../src/sync/accounts.ts';
import { type OwnKeys, requestOf } from '../../src/sync/founding.ts';
import type { PairLine, PairSide } from '../../src/sync/pair-code.ts';
import type { PairEndState } from '../../src/sync/pairing.ts';
import { makeSealingKeys } from '../../src/sync/sealed-for.ts';
import type { Bytes } from '../../src/sync/store-types.ts';
import { platform } from './clinic.ts';

/** Timers that a test moves on by hand. */
export class HandTimers {
  #now = 0;
  #waiting: { readonly at: number; readonly run: () => void }[] = [];

  later(ms: number, run: () => void): () => void {
    const each = { at: this.#now + ms, run };
    this.#waiting.push(each);
    return () => {
      this.#waiting = this.#waiting.filter((other) => other !== each);
    };
  }

  /** Moves on by steps, and lets what was begun come to its end between them. */
  async pass(ms: number): Promise<void> {
    const end = this.#now + ms;
    for (;;) {
      const [next] = this.#waiting.toSorted((a, b) => a.at - b.at);
      if (next === undefined || next.at > end) break;
      this.#waiting = this.#waiting.filter((other) => other !== next);
      this.#now = next.at;
      next.run();
      await settled();
    }
    this.#now = end;
  }
}

let pending = 0;

/** Web Crypto that knows how much of it is still going on. */
export const watched: Crypto = {
  subtle: new Proxy(platform.subtle, {
    get: (subtle, name: keyof SubtleCrypto) => {
      const run: unknown = subtle[name];
      if (typeof run !== 'function') return run;
      return async (...of: unknown[]) => {
        pending += 1;
        try {
          return await run.apply(subtle, of);
        } finally {
          pending -= 1;
        }
      };
    },
  }),
  getRandomValues: (array) => platform.getRandomValues(array),
  randomUUID: () => platform.randomUUID(),
};

const QUIET_TURNS = 20;

/** Nothing of it goes on, and nothing begins. */
export async function settled(): Promise<void> {
  for (let quiet = 0; quiet < QUIET_TURNS; ) {
    await new Promise((done) => setImmediate(done));
    quiet = pending === 0 ? quiet + 1 : 0;
  }
}

/** A line whose every message a test can lose, double or look at. */
export class Wire {
  readonly #listeners: Record<PairSide, Set<(data: Bytes) => void>> = {
    new: new Set(),
    lead: new Set(),
  };
  readonly sent: { readonly from: PairSide; readonly data: Bytes }[] = [];
  /** How often a message arrives. */
  times: (from: PairSide) => number = () => 1;

  end(side: PairSide): PairLine {
    return {
      send: (data) => {
        this.sent.push({ from: side, data });
        for (let n = this.times(side); n > 0; n -= 1) this.deliver(side, data);
      },
      onMessage: (listener) => {
        this.#listeners[side].add(listener);
        return () => this.#listeners[side].delete(listener);
      },
    };
  }

  /** Hands `data` to the other side as if `from` had sent it. */
  deliver(from: PairSide, data: Bytes): void {
    for (const listener of this.#listeners[from === 'new' ? 'lead' : 'new']) {
      queueMicrotask(() => listener(data));
    }
  }
}

export async function ownKeys(device = 'deviceNew'): Promise<OwnKeys> {
  return {
    device,
    name: 'Room 3',
    signing: present(await makeTabletKeys(platform), 'keys'),
    sealing: await makeSealingKeys(platform),
    user: newUserKey(),
  };
}

export const jwtFor = tabletJwt;
export const askedBy = (own: OwnKeys) => requestOf(platform, own);

/** Waits, in real time, until an end has come so far. */
export async function until(
  end: { onState(listener: (state: PairEndState) => void): () => void },
  step: PairEndState['step'],
): Promise<PairEndState> {
  return new Promise((resolve) => {
    let stop: () => void = () => undefined;
    stop = end.onState((state) => {
      if (state.step !== step) return;
      resolve(state);
      queueMicrotask(() => stop());
    });
  });
}
