/**
 * Goes between a tablet and the clinic's store: hands over what is owed, reads what is new, and finds out
 * when the store was put back to an older state. What a message says is not its business. It never
 * stands in the way of anything: whatever goes wrong is tried again later.
 */
import { ok } from '../base/result.ts';
import { readOn } from './catch-up.ts';
import { cursorAt, judgeCursor, movedOn } from './cursor.ts';
import { HeardMessages } from './heard-messages.ts';
import type { Outbox } from './outbox.ts';
import type { Change, KeptCursor, SharingDatabase } from './sharing-database.ts';
import {
  type ClinicStore,
  STREAMS,
  type StoredMessage,
  type StoreLine,
  type StoreProblemCode,
  type StoreResult,
  type StreamName,
} from './store-types.ts';
import { type Later, Turns, waitAfter } from './turns.ts';

/** Facts first: they say who belongs to the clinic. Keys before what they open. */
const READ_ORDER = ['F', 'K', 'J'] as const satisfies readonly StreamName[];

/** How often everything is read, whatever was heard, ms. A design choice of this project. */
const FULL_READ_MS = 60_000;
/** How long to wait where only people can help, ms. A design choice of this project. */
const HELPLESS_MS = 30_000;
/** From how many messages on a reading is told with its progress. A design choice of this project. */
const TOLD_FROM = 200;

/** What is known of a problem that only people, or a lot of time, can mend. */
export type SharerProblem =
  | Extract<StoreProblemCode, 'refused' | 'store-full' | 'wrong-store' | 'too-large'>
  /** What came could not be kept on this tablet. */
  | 'not-kept';

export interface SharerState {
  readonly line: StoreLine;
  readonly owed: number;
  /** Everything was read since the line came. */
  readonly isRead: boolean;
  readonly catchUp: { readonly done: number; readonly of: number } | null;
  readonly problem: SharerProblem | null;
}

export interface SharerParts {
  readonly store: ClinicStore;
  readonly database: SharingDatabase;
  readonly outbox: Outbox;
  readonly timers: Later;
  /** From 0 to 1. */
  readonly random: () => number;
  /**
   * Keeps what a portion of one stream says, in its order; what it answers is noted together with how far was
   * read. Rejects where it could not be kept: the same portion then comes again.
   */
  readonly take: (portion: readonly StoredMessage[]) => Promise<readonly Change[]>;
  /** A message of this tablet is in the store. */
  readonly onKept: (subject: string) => void;
  /** Whether what the message was about was deleted on purpose. */
  readonly isErased: (subject: string) => Promise<boolean>;
  /** A stream of the store went back: what is to be noted of it. */
  readonly wentBack: (stream: StreamName) => readonly Change[];
  /** Everything was read, at first or again: what the store lacks can be told now. */
  readonly onRead: (o: { readonly isFirst: boolean }) => void;
  /** How much is read at a time, and how long is rested between, ms. */
  readonly pace: () => { readonly atOnce: number; readonly restMs: number };
  readonly onState: (state: SharerState) => void;
}

export class Sharer {
  readonly #parts: SharerParts;
  readonly #sending: Turns;
  readonly #reading: Turns;
  readonly #heard = new HeardMessages();
  readonly #cursors = new Map<StreamName, KeptCursor>();
  readonly #stops: (() => void)[] = [];
  #callOffFull: () => void = () => undefined;
  #line: StoreLine = 'connecting';
  #isFullDue = true;
  #isRead = false;
  /** Nothing was read to its end in this run, or the store went back since. */
  #isFirst = true;
  #catchUp: SharerState['catchUp'] = null;
  #sendProblem: SharerProblem | null = null;
  #readProblem: SharerProblem | null = null;
  #failures = 0;
  #readFailures = 0;
  #isStopped = false;
  #last = '';

  constructor(parts: SharerParts) {
    this.#parts = parts;
    this.#sending = new Turns(parts.timers, () => this.#send());
    this.#reading = new Turns(parts.timers, () => this.#read());
  }

  async start(): Promise<void> {
    const { store, database } = this.#parts;
    for (const cursor of await database.all('cursors')) this.#cursors.set(cursor.stream, cursor);
    this.#stops.push(
      store.onStored((message) => this.#hear(message)),
      store.onLine((line) => this.#lineIs(line)),
    );
  }

  /** Lets go of the store. What goes on now is finished first. */
  async stop(): Promise<void> {
    this.#isStopped = true;
    this.#callOffFull();
    for (const stop of this.#stops) stop();
    await Promise.all([this.#sending.stop(), this.#reading.stop()]);
    await this.#parts.store.close();
  }

  /** Something is owed. */
  owes(): void {
    this.#tell();
    this.#sending.now();
  }

  /** Reads and sends everything at once. */
  now(): void {
    this.#isFullDue = true;
    this.#failures = 0;
    this.#sending.now();
    this.#reading.now();
  }

  #lineIs(line: StoreLine): void {
    this.#line = line;
    if (line === 'open') this.now();
    else {
      this.#isRead = false;
      this.#heard.forget();
    }
    this.#tell();
  }

  #hear(message: StoredMessage): void {
    this.#heard.add(message);
    this.#reading.now();
  }

  async #send(): Promise<void> {
    const { store, outbox, onKept, random } = this.#parts;
    if (this.#line !== 'open' || this.#isStopped) return;
    const isStopped = (): boolean => this.#isStopped;
    const sent = await outbox.send(store, { isStopped, onKept }).catch(() => null);
    const code = sent?.done === false ? sent.code : null;
    this.#failures = sent?.done ? 0 : this.#failures + 1;
    this.#sendProblem = toldOf(code);
    if (!sent?.done && code !== 'closed' && code !== 'not-connected') {
      const isHelpless = this.#sendProblem !== null;
      this.#sending.in(isHelpless ? HELPLESS_MS : waitAfter(this.#failures, random));
    }
    this.#tell();
  }

  async #read(): Promise<void> {
    if (this.#line !== 'open' || this.#isStopped) return;
    const isFull = this.#isFullDue;
    this.#isFullDue = false;
    let problem: SharerProblem | null = null;
    const done = await this.#readAll(isFull).catch(() => {
      problem = 'not-kept';
      return null;
    });
    this.#readProblem = problem;
    if (done?.ok === true) {
      this.#readFailures = 0;
      if (isFull) this.#readToTheEnd();
    } else {
      this.#readFailures += 1;
      this.#isFullDue = true;
      this.#catchUp = null;
      this.#reading.in(waitAfter(this.#readFailures, this.#parts.random));
    }
    this.#tell();
  }

  #readToTheEnd(): void {
    this.#callOffFull();
    this.#callOffFull = this.#parts.timers.later(FULL_READ_MS, () => {
      this.#isFullDue = true;
      this.#reading.now();
    });
    const isFirst = this.#isFirst;
    this.#isFirst = false;
    this.#isRead = true;
    this.#catchUp = null;
    this.#parts.onRead({ isFirst });
  }

  async #readAll(isFull: boolean): StoreResult<null> {
    if (isFull) {
      const checked = await this.#checkCursors();
      if (!checked.ok) return checked;
      const counted = await this.#countAhead();
      if (!counted.ok) return counted;
    }
    for (const stream of READ_ORDER) {
      if (!isFull && !this.#heard.has(stream)) continue;
      const read = await this.#readStream(stream);
      if (!read.ok) return read;
    }
    return ok(null);
  }

  async #checkCursors(): StoreResult<null> {
    const { store, database, isErased, wentBack } = this.#parts;
    for (const stream of STREAMS) {
      const verdict = await judgeCursor(store, this.#cursors.get(stream), isErased);
      if (!verdict.ok) return verdict;
      if (verdict.value === 'same') continue;
      await database.change([{ room: 'cursors', drop: stream }, ...wentBack(stream)]);
      this.#cursors.delete(stream);
      this.#heard.forget();
      this.#isFirst = true;
      this.#isRead = false;
    }
    return ok(null);
  }

  /** How much there is to read, when it is much. */
  async #countAhead(): StoreResult<null> {
    let ahead = 0;
    for (const stream of STREAMS) {
      const last = await this.#parts.store.last(stream);
      if (!last.ok) return last;
      ahead += Math.max(0, (last.value?.seq ?? 0) - cursorAt(this.#cursors.get(stream)));
    }
    this.#catchUp = ahead < TOLD_FROM ? null : { done: 0, of: ahead };
    this.#tell();
    return ok(null);
  }

  async #readStream(stream: StreamName): StoreResult<null> {
    const { store, pace } = this.#parts;
    for (;;) {
      if (this.#isStopped) return ok(null);
      const { atOnce, restMs } = pace();
      const from = cursorAt(this.#cursors.get(stream)) + 1;
      const heard = this.#heard.takeFrom(stream, { from, atOnce });
      const got = heard.length > 0 ? ok(heard) : await readOn(store, { stream, from, atOnce });
      if (!got.ok) return got;
      if (got.value.length === 0) return ok(null);
      await this.#keep(stream, got.value);
      if (restMs > 0) await this.#rest(restMs);
    }
  }

  async #keep(stream: StreamName, portion: readonly StoredMessage[]): Promise<void> {
    const { database, take } = this.#parts;
    const noted = await take(portion);
    let cursor = this.#cursors.get(stream);
    for (const { seq, subject } of portion) cursor = movedOn(cursor, { stream, seq, subject });
    if (cursor === undefined) return;
    await database.change([...noted, { room: 'cursors', put: cursor }]);
    this.#cursors.set(stream, cursor);
    if (this.#catchUp === null) return;
    const { done, of } = this.#catchUp;
    this.#catchUp = { done: Math.min(of, done + portion.length), of };
    this.#tell();
  }

  #rest(ms: number): Promise<void> {
    return new Promise((resolve) => {
      this.#parts.timers.later(ms, resolve);
    });
  }

  #tell(): void {
    const { outbox, onState } = this.#parts;
    const stuck = outbox.stuck > 0 ? 'too-large' : null;
    const state: SharerState = {
      line: this.#line,
      owed: outbox.owed,
      isRead: this.#isRead,
      catchUp: this.#catchUp,
      problem: this.#sendProblem ?? this.#readProblem ?? stuck,
    };
    const text = JSON.stringify(state);
    if (text === this.#last) return;
    this.#last = text;
    onState(state);
  }
}

function toldOf(code: StoreProblemCode | null): SharerProblem | null {
  switch (code) {
    case 'refused':
    case 'store-full':
    case 'wrong-store':
    case 'too-large':
      return code;
    default:
      return null;
  }
}
