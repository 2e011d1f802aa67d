import 'fake-indexeddb/auto';
import { afterEach, describe, expect, it } from 'vitest';
import { err } from '../../src/base/result.ts';
import { MemoryHub } from '../../src/sync/memory-store.ts';
import { Outbox } from '../../src/sync/outbox.ts';
import { Sharer, type SharerState } from '../../src/sync/sharer.ts';
import { openSharingDatabase } from '../../src/sync/sharing-database.ts';
import type { ClinicStore, StoredMessage } from '../../src/sync/store-types.ts';
import { storeProblem } from '../../src/sync/store-words.ts';

let stop: () => Promise<void> = async () => undefined;
afterEach(() => stop());

let names = 0;

/** Timers that come when the test says so. */
function handTimers() {
  const waiting = new Map<() => void, number>();
  return {
    later(ms: number, run: () => void) {
      waiting.set(run, ms);
      return () => void waiting.delete(run);
    },
    /** Lets everything happen that waits for at most so long. */
    pass(ms: number): void {
      for (const [run, at] of [...waiting]) {
        if (at > ms) continue;
        waiting.delete(run);
        run();
      }
    },
  };
}

const until = async (what: () => boolean): Promise<void> => {
  for (let n = 0; n < 1000; n += 1) {
    if (what()) return;
    await new Promise((resolve) => setTimeout(resolve, 1));
  }
  throw new Error('waited in vain');
};

const quiet = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 40));

async function sharer(
  o: {
    readonly hub?: MemoryHub;
    readonly take?: (portion: readonly StoredMessage[]) => void;
    readonly pace?: { readonly atOnce: number; readonly restMs: number };
    /** Whether nobody is there to answer a message. */
    readonly isUnanswered?: () => boolean;
  } = {},
) {
  names += 1;
  const hub = o.hub ?? new MemoryHub();
  const store = hub.open('a');
  const database = openSharingDatabase(`sharer-${names}`);
  const timers = handTimers();
  const asked = { puts: 0, gets: 0 };
  const counted: ClinicStore = {
    put: (message) => {
      asked.puts += 1;
      if (o.isUnanswered?.() !== true) return store.put(message);
      return Promise.resolve(err(storeProblem('not-connected', message.subject)));
    },
    get: (at) => {
      asked.gets += 1;
      return store.get(at);
    },
    last: (stream) => store.last(stream),
    onStored: (listener) => store.onStored(listener),
    live: store.live,
    onLine: (listener) => store.onLine(listener),
    close: () => store.close(),
  };
  const taken: (readonly StoredMessage[])[] = [];
  const states: SharerState[] = [];
  const outbox = new Outbox(database, {
    onAdded: () => made.owes(),
    onChange: () => made.tell(),
  });
  const made: Sharer = new Sharer({
    store: counted,
    database,
    outbox,
    timers,
    random: () => 1,
    take: async (portion) => {
      o.take?.(portion);
      if (portion.length > 0) taken.push(portion);
      return [];
    },
    isErased: async () => false,
    wentBack: (_, along) => database.change(along),
    onRead: () => undefined,
    pace: () => o.pace ?? { atOnce: 64, restMs: 0 },
    onState: (state) => void states.push(state),
  });
  await outbox.open();
  await made.start();
  stop = async () => {
    await made.stop();
    database.close();
  };
  await until(() => states.at(-1)?.isRead === true);
  return { hub, made, outbox, timers, asked, taken, states, database };
}

const message = (n: number) => ({
  stream: 'F' as const,
  subject: `f.s.a.material.${n}`,
  data: new Uint8Array([n]),
});
const plant = (hub: MemoryHub, n: number) =>
  hub.plant({ stream: 'F', subject: `f.s.b.material.${n}`, data: new Uint8Array([n % 256]) });

describe('between a tablet and the store', () => {
  it('asks a full store again only when its time has come', async () => {
    const { hub, outbox, timers, asked, states } = await sharer();
    hub.full(true);
    await outbox.add([message(1)]);
    await until(() => states.at(-1)?.problem === 'store-full');
    await quiet();
    expect(asked.puts).toBe(1);
    timers.pass(29_999);
    await quiet();
    expect(asked.puts).toBe(1);
    hub.full(false);
    timers.pass(30_000);
    await until(() => states.at(-1)?.owed === 0 && states.at(-1)?.problem === null);
    expect(asked.puts).toBe(2);
  });

  it('waits longer after each answer that did not come', async () => {
    const { hub, outbox, timers, asked } = await sharer();
    hub.loseMessages('a', 3);
    await outbox.add([message(1)]);
    for (const [n, ms] of [500, 1000, 2000].entries()) {
      await until(() => asked.puts === n + 1);
      await quiet();
      timers.pass(ms - 1);
      await quiet();
      expect(asked.puts).toBe(n + 1);
      timers.pass(ms);
    }
    await until(() => hub.messages('F').length === 1);
  });

  // As while the streams of a server come up: its line is open, and nobody answers for them.
  it('sends once more what found nobody to answer over a line that stays open', async () => {
    let isUnanswered = true;
    const { hub, outbox, timers, asked } = await sharer({ isUnanswered: () => isUnanswered });
    await outbox.add([message(1)]);
    await until(() => asked.puts === 1);
    await quiet();
    isUnanswered = false;
    timers.pass(500);
    await until(() => hub.messages('F').length === 1);
    expect(asked.puts).toBe(2);
  });

  it('reads once a minute what it was not told of', async () => {
    const { hub, timers, taken } = await sharer();
    hub.tellStored(false);
    plant(hub, 1);
    timers.pass(59_999);
    await quiet();
    expect(taken).toEqual([]);
    timers.pass(60_000);
    await until(() => taken.length === 1);
  });

  it('reads again what could not be kept, and puts it aside when that goes on, so that the rest comes', async () => {
    let isBroken = true;
    const { hub, timers, taken, states, database } = await sharer({
      take: (portion) => {
        const isBad = portion.some(({ subject }) => subject.endsWith('.1'));
        if (isBad && isBroken) throw new Error('not now');
      },
    });
    plant(hub, 1);
    await until(() => states.at(-1)?.problem === 'not-kept');
    plant(hub, 2);
    for (let n = 0; n < 5; n += 1) {
      await quiet();
      timers.pass(30_000);
    }
    await until(() => taken.flat().some(({ subject }) => subject.endsWith('.2')));
    expect((await database.all('waiting')).map(({ subject }) => subject)).toEqual([
      'f.s.b.material.1',
    ]);
    isBroken = false;
    expect(taken.flat().some(({ subject }) => subject.endsWith('.1'))).toBe(false);
  });

  it('reads in small portions where it is told to, and rests between them', async () => {
    const hub = new MemoryHub();
    for (let n = 0; n < 40; n += 1) plant(hub, n);
    const pace = { atOnce: 8, restMs: 0 };
    const { taken } = await sharer({ hub, pace });
    expect(Math.max(...taken.map(({ length }) => length))).toBe(8);
    expect(taken.flat()).toHaveLength(40);
  });

  it('does not take its own messages for news, and takes them all where the store is read anew', async () => {
    const first = await sharer();
    await first.outbox.add([message(1), message(2)]);
    await until(() => first.hub.messages('F').length === 2 && first.outbox.sent.size === 0);
    expect(first.taken).toEqual([]);
    await stop();
    const second = await sharer({ hub: first.hub });
    expect(second.taken.flat()).toHaveLength(2);
  });
});
