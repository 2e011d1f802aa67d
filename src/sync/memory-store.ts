/**
 * The clinic's store in memory: one hub, and a store for each tablet on it. It keeps the same contract as the
 * store over a server, and can be told to fail in the ways that a real one does.
 */
import { err, ok } from '../base/result.ts';
import type {
  Bytes,
  ClinicStore,
  LiveLine,
  StoredMessage,
  StoreLine,
  StoreProblemCode,
  StoreResult,
  StreamName,
} from './store-types.ts';
import { isWithin, MESSAGE_BYTES_MAX, storeProblem } from './store-words.ts';

/** What the hub holds, to go back to. */
export interface HubDisk {
  readonly messages: Readonly<Record<StreamName, readonly StoredMessage[]>>;
  readonly last: Readonly<Record<StreamName, number>>;
}

type Answer<T> = Awaited<StoreResult<T>>;
type Message = Parameters<ClinicStore['put']>[0];

const copyOf = (data: Bytes): Bytes => new Uint8Array(data);
const handed = (message: StoredMessage): StoredMessage => ({
  ...message,
  data: copyOf(message.data),
});

/** Whether a tablet may write or send there: its own branches; a store for pairing, only that. */
function mayWrite(device: string | null, subject: string): boolean {
  const [branch = '', , owner] = subject.split('.');
  if (device === null) return branch === 'pair';
  return ['j', 'f', 'k', 'live', 'here'].includes(branch) && owner === device;
}

function mayHear(device: string | null, subject: string): boolean {
  const [branch = ''] = subject.split('.');
  return device === null ? branch === 'pair' : branch === 'live' || branch === 'here';
}

function takeOne(counts: Map<string, number>, device: string): boolean {
  const left = counts.get(device) ?? 0;
  if (left > 0) counts.set(device, left - 1);
  return left > 0;
}

const BARRED: Readonly<Record<Exclude<StoreLine, 'open'>, StoreProblemCode>> = {
  connecting: 'not-connected',
  refused: 'refused',
  closed: 'closed',
};

/** The store of the whole clinic, with its faults. */
export class MemoryHub {
  #messages: Record<StreamName, StoredMessage[]> = { J: [], F: [], K: [] };
  #last: Record<StreamName, number> = { J: 0, F: 0, K: 0 };
  #subjects = new Set<string>();
  /** Messages that were ever kept; an older disk does not put it back. */
  #kept = 0;
  readonly #stores = new Set<MemoryStore>();
  readonly #cutOff = new Set<string>();
  readonly #putOut = new Set<string>();
  readonly #lostAnswers = new Map<string, number>();
  readonly #lostMessages = new Map<string, number>();
  #isCut = false;
  #isTold = true;
  #isFull = false;
  #times = 1;

  /** A store as the tablet `device` sees it: it may write its own branches. `null`: it may pair, and nothing else. */
  open(device: string | null): ClinicStore {
    const store = new MemoryStore(this, device);
    this.#stores.add(store);
    return store;
  }

  messages(stream: StreamName): readonly StoredMessage[] {
    return this.#messages[stream].map(handed);
  }

  /** Nobody, or only `device`, has a line; until `mend`. Nothing is answered, nothing heard. */
  cut(device?: string): void {
    if (device === undefined) this.#isCut = true;
    else this.#cutOff.add(device);
    this.#tellLines();
  }

  mend(device?: string): void {
    if (device === undefined) this.#isCut = false;
    else this.#cutOff.delete(device);
    this.#tellLines();
  }

  /** The next `count` messages of `device` are kept, and it does not hear so. */
  loseAnswers(device: string, count: number): void {
    this.#lostAnswers.set(device, count);
  }

  /** The next `count` messages of `device` do not arrive, and it does not hear so. */
  loseMessages(device: string, count: number): void {
    this.#lostMessages.set(device, count);
  }

  /** `false`: what is stored is told to nobody; it can still be read. */
  tellStored(isTold: boolean): void {
    this.#isTold = isTold;
  }

  /** What is stored or sent live is told as often as this. */
  deliverTimes(times: number): void {
    this.#times = times;
  }

  /** `true`: it takes no new message. Reading goes on. */
  full(isFull: boolean): void {
    this.#isFull = isFull;
  }

  /** `device` is thrown out and not let in again. */
  putOut(device: string): void {
    this.#putOut.add(device);
    this.#tellLines();
  }

  disk(): HubDisk {
    const { J, F, K } = this.#messages;
    return { messages: { J: [...J], F: [...F], K: [...K] }, last: { ...this.#last } };
  }

  /** An older state, as after a restored disk. Lines stay open. */
  rollBack(to: HubDisk): void {
    const { J, F, K } = to.messages;
    this.#messages = { J: [...J], F: [...F], K: [...K] };
    this.#last = { ...to.last };
    this.#subjects = new Set([...J, ...F, ...K].map(({ subject }) => subject));
  }

  erase(stream: StreamName, seq: number): void {
    const gone = this.#messages[stream].find((each) => each.seq === seq);
    if (gone === undefined) return;
    this.#messages[stream] = this.#messages[stream].filter((each) => each !== gone);
    this.#subjects.delete(gone.subject);
  }

  /** Writes past every right, as somebody with the server in hand could. Returns its `seq`. */
  plant({ stream, subject, data }: Message): number {
    this.#last[stream] += 1;
    this.#kept += 1;
    const keptAt = String(this.#kept);
    const message = { stream, seq: this.#last[stream], subject, data: copyOf(data), keptAt };
    this.#messages[stream].push(message);
    this.#subjects.add(subject);
    if (this.#isTold) {
      for (const store of this.#stores) {
        for (const tell of store.stored) {
          this.#deliver(
            store,
            () => store.stored.has(tell) && tell({ ...handed(message), keptAt: '' }),
          );
        }
      }
    }
    return message.seq;
  }

  /** For the stores of this hub. */
  lineOf({ device, isClosed }: MemoryStore): StoreLine {
    if (isClosed) return 'closed';
    if (this.#isCut || this.#cutOff.has(device ?? '')) return 'connecting';
    return this.#putOut.has(device ?? '') ? 'refused' : 'open';
  }

  /** For the stores of this hub. */
  putFrom(device: string, { stream, subject, data }: Message): Answer<{ readonly fresh: boolean }> {
    if (takeOne(this.#lostMessages, device)) return err(storeProblem('no-answer', subject));
    if (!mayWrite(device, subject)) return err(storeProblem('refused', subject));
    if (!subject.startsWith(`${stream.toLowerCase()}.`)) {
      return err(storeProblem('wrong-store', subject));
    }
    const isThere = this.#subjects.has(subject);
    if (!isThere && this.#isFull) return err(storeProblem('store-full', subject));
    if (!isThere) this.plant({ stream, subject, data });
    return takeOne(this.#lostAnswers, device)
      ? err(storeProblem('no-answer', subject))
      : ok({ fresh: !isThere });
  }

  /** For the stores of this hub. */
  from(stream: StreamName, seq: number): Answer<StoredMessage | null> {
    const held = this.#messages[stream];
    // Numbers only grow, and skip where something was erased: by halves.
    let low = 0;
    for (let high = held.length; low < high; ) {
      const middle = (low + high) >> 1;
      if ((held[middle]?.seq ?? 0) < seq) low = middle + 1;
      else high = middle;
    }
    const found = held[low];
    return ok(found === undefined ? null : handed(found));
  }

  /** For the stores of this hub. */
  lastOf(stream: StreamName): Answer<StoredMessage | null> {
    const found = this.#messages[stream].at(-1);
    return ok(found === undefined ? null : handed(found));
  }

  /** For the stores of this hub. */
  send(device: string | null, subject: string, data: Bytes): void {
    if (!mayWrite(device, subject)) return;
    const sent = copyOf(data);
    for (const store of this.#stores) {
      for (const entry of mayHear(store.device, subject) ? store.heard : []) {
        if (!isWithin(entry.subject, subject)) continue;
        this.#deliver(store, () => store.heard.has(entry) && entry.listener(subject, copyOf(sent)));
      }
    }
  }

  /** For the stores of this hub. */
  forget(store: MemoryStore): void {
    this.#tellLines();
    this.#stores.delete(store);
  }

  #tellLines(): void {
    for (const store of this.#stores) store.noteLine(this.lineOf(store));
  }

  /** Like a network: after what is being done now, and not to those who lost their line meanwhile. */
  #deliver(store: MemoryStore, tell: () => unknown): void {
    for (let time = 0; time < this.#times; time += 1) {
      queueMicrotask(() => {
        if (this.lineOf(store) === 'open') tell();
      });
    }
  }
}

interface Heard {
  readonly subject: string;
  readonly listener: (subject: string, data: Bytes) => void;
}

class MemoryStore implements ClinicStore {
  readonly device: string | null;
  readonly stored = new Set<(message: StoredMessage) => void>();
  readonly heard = new Set<Heard>();
  readonly live: LiveLine;
  isClosed = false;
  readonly #hub: MemoryHub;
  readonly #lines = new Set<(line: StoreLine) => void>();
  #line: StoreLine;

  constructor(hub: MemoryHub, device: string | null) {
    this.#hub = hub;
    this.device = device;
    this.#line = hub.lineOf(this);
    this.live = {
      publish: (subject, data) => {
        if (data.length > MESSAGE_BYTES_MAX) return;
        if (hub.lineOf(this) === 'open') hub.send(device, subject, data);
      },
      subscribe: (subject, listener) => {
        const entry = { subject, listener };
        this.heard.add(entry);
        return () => this.heard.delete(entry);
      },
    };
  }

  put(message: Message): StoreResult<{ readonly fresh: boolean }> {
    const { subject, data } = message;
    return data.length > MESSAGE_BYTES_MAX
      ? Promise.resolve(err(storeProblem('too-large', subject)))
      : this.#across((device) => this.#hub.putFrom(device, message));
  }

  get(at: {
    readonly stream: StreamName;
    readonly seq: number;
  }): StoreResult<StoredMessage | null> {
    return this.#across(() => this.#hub.from(at.stream, at.seq));
  }

  last(stream: StreamName): StoreResult<StoredMessage | null> {
    return this.#across(() => this.#hub.lastOf(stream));
  }

  onStored(listener: (message: StoredMessage) => void): () => void {
    if (this.device !== null) this.stored.add(listener);
    return () => this.stored.delete(listener);
  }

  onLine(listener: (line: StoreLine) => void): () => void {
    this.#lines.add(listener);
    listener(this.#line);
    return () => this.#lines.delete(listener);
  }

  close(): Promise<void> {
    this.isClosed = true;
    this.#hub.forget(this);
    return Promise.resolve();
  }

  noteLine(line: StoreLine): void {
    if (line === this.#line) return;
    this.#line = line;
    for (const listener of this.#lines) listener(line);
  }

  /** Asks across the network: the question and the answer may each find no line any more. */
  async #across<T>(ask: (device: string) => Answer<T>): StoreResult<T> {
    const line = this.#hub.lineOf(this);
    if (line !== 'open') return err(storeProblem(BARRED[line], ''));
    if (this.device === null) return err(storeProblem('refused', 'pairing only'));
    await Promise.resolve();
    if (this.#hub.lineOf(this) !== 'open') return err(storeProblem('no-answer', ''));
    const answer = ask(this.device);
    await Promise.resolve();
    return this.#hub.lineOf(this) === 'open' ? answer : err(storeProblem('no-answer', ''));
  }
}
