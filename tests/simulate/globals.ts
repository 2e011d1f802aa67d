/**
 * What the platform gives to every page, replaced by the simulated one: timers, the database and the
 * channel between tabs. Each call belongs to the page whose code runs.
 */
import { createHash } from 'node:crypto';
import 'fake-indexeddb/auto';
import type { Dice } from './dice.ts';
import type { Loop } from './loop.ts';
import { SimulatedBlob, SimulatedDeflating, SimulatedInflating } from './packing.ts';
import { Page } from './page.ts';
import { Tablet } from './tablet.ts';

/** What the double of the database lets one get at. */
interface DatabaseDouble {
  dispatchEvent(event: Event): boolean;
}
interface Asked {
  readonly source?: unknown;
  readonly operation: () => unknown;
}
interface TransactionDouble extends IDBTransaction {
  _execRequestAsync(asked: Asked): IDBRequest;
}

let loop: Loop;

const pageNow = (): Page | null => (loop.current instanceof Page ? loop.current : null);

function tabletNow(): Tablet {
  if (loop.current instanceof Page) return loop.current.tablet;
  if (loop.current instanceof Tablet) return loop.current;
  throw new Error('the platform was asked by nobody');
}

const owners = new WeakMap<object, Page>();

/** The page that a request, a transaction or a connection belongs to. */
function ownerOf(target: object): Page | undefined {
  const own = owners.get(target);
  if (own !== undefined) return own;
  const { db, transaction } = target as { db?: object; transaction?: { db?: object } | null };
  return owners.get(db ?? transaction?.db ?? target);
}

function owned(request: IDBOpenDBRequest): IDBOpenDBRequest {
  const page = pageNow();
  if (page === null) return request;
  owners.set(request, page);
  const keep = (): void => {
    owners.set(request.result, page);
    page.connections.add(request.result);
    if (page.isDead) request.result.close();
  };
  request.addEventListener('upgradeneeded', keep);
  request.addEventListener('success', keep);
  return request;
}

/** A dead page asks in vain. */
const unanswered = (): IDBOpenDBRequest => new IDBOpenDBRequest();

function factory(): IDBFactory {
  const { idb } = tabletNow();
  const isDead = pageNow()?.isDead === true;
  return {
    open: (...args) => (isDead ? unanswered() : owned(idb.open(...args))),
    deleteDatabase: (name) => (isDead ? unanswered() : idb.deleteDatabase(name)),
    databases: () => idb.databases(),
    cmp: (a, b) => idb.cmp(a, b),
  };
}

type Listener = (event: { readonly data: unknown }) => void;

class SimulatedChannel {
  onmessage: Listener | null = null;
  readonly #name: string;
  readonly #listeners = new Set<Listener>();
  readonly #tablet = tabletNow();
  readonly #own;

  constructor(name: string) {
    this.#name = name;
    this.#own = {
      name,
      page: loop.current,
      hear: (data: unknown) => {
        this.onmessage?.({ data });
        for (const listener of this.#listeners) listener({ data });
      },
    };
    this.#tablet.channels.add(this.#own);
  }

  postMessage(message: unknown): void {
    const { channels, dice, losesMessages } = this.#tablet;
    if (this.#own.page?.isDead === true) return;
    for (const other of channels) {
      if (other === this.#own || other.name !== this.#name) continue;
      if (losesMessages && dice.chance(0.5)) continue;
      const data = structuredClone(message);
      loop.after(1, () => other.hear(data), other.page);
    }
  }

  addEventListener(_type: string, listener: Listener): void {
    this.#listeners.add(listener);
  }

  close(): void {
    this.#tablet.channels.delete(this.#own);
  }
}

/** Writing to a full disk fails when the database tries it, not when it is asked to. */
function fillUp(): void {
  const proto = IDBTransaction.prototype as TransactionDouble;
  const execute = proto._execRequestAsync;
  proto._execRequestAsync = function (this: TransactionDouble, asked: Asked) {
    const page = ownerOf(this);
    if (this.mode !== 'readwrite' || page === undefined || !asked.source) {
      return execute.call(this, asked);
    }
    const operation = (): unknown => {
      if (page.tablet.isDatabaseFull) throw new DOMException('no room', 'QuotaExceededError');
      return asked.operation();
    };
    return execute.call(this, { ...asked, operation });
  };
}

/** What an event of the database sets off is done by the page that it is for. */
function followEvents(): void {
  const proto = Object.getPrototypeOf(IDBTransaction.prototype) as DatabaseDouble;
  const dispatch = proto.dispatchEvent;
  proto.dispatchEvent = function (this: DatabaseDouble, event: Event) {
    loop.current = ownerOf(this) ?? loop.current;
    return dispatch.call(this, event);
  };
}

const define = (name: string, descriptor: PropertyDescriptor): void => {
  Object.defineProperty(globalThis, name, { configurable: true, ...descriptor });
};

/** The platform's own works in another thread, and would answer when it likes. */
const digest = async (_name: string, bytes: Uint8Array): Promise<ArrayBuffer> =>
  new Uint8Array(createHash('sha256').update(bytes).digest()).buffer;

let isInstalled = false;
let chance = (): number => 0;

/** Hands the platform of this process to `next`; the first call replaces it for good. */
export function installPlatform(next: Loop, dice: Dice): void {
  loop = next;
  chance = () => dice.unit();
  if (isInstalled) return;
  isInstalled = true;
  define('setTimeout', { value: (run: () => void, ms = 0) => loop.after(ms, run) });
  define('clearTimeout', { value: (id: number | undefined) => loop.cancel(id ?? 0) });
  define('setImmediate', { value: (run: () => void) => tabletNow().answer(run) });
  define('indexedDB', { get: factory });
  define('crypto', { value: { subtle: { digest } } });
  define('Blob', { value: SimulatedBlob });
  define('CompressionStream', { value: SimulatedDeflating });
  define('DecompressionStream', { value: SimulatedInflating });
  define('performance', { value: { now: () => pageNow()?.realNowMs() ?? loop.nowMs } });
  Math.random = () => chance();
  define('BroadcastChannel', { value: SimulatedChannel });
  fillUp();
  followEvents();
}
