/**
 * Goes between a tablet and the clinic's store: hands over what is owed, reads what is new, and finds out
 * when the store was put back to an older state. What a message says is not its business. It never
 * stands in the way of anything: whatever goes wrong is tried again later.
 */
import { ok } from '../base/result.ts';
import { readOn } from './catch-up.ts';
import { cursorAt, judgeCursor, movedOn } from './cursor.ts';
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

/**
 * Facts first: they say who belongs to the clinic, and what was deleted, so that what was erased of it is not
 * missed in the others. Keys before what they open.
 */
const READ_ORDER = [['F'], ['K', 'J']] as const satisfies readonly (readonly StreamName[])[];

/** How often everything is read, whatever was heard, ms. A design choice of this project. */
const FULL_READ_MS = 60_000;
/** How long to wait where only people can help, ms. A design choice of this project. */
const HELPLESS_MS = 30_000;
/** From how many messages on a reading is told with its progress. A design choice of this project. */
const TOLD_FROM = 200;

/** Failures in a row after which a message that cannot be kept is put aside. A design choice of this project. */
const TRIED_BEFORE_ASIDE = 5;

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
  /** Whether what the message was about was deleted on purpose. */
  readonly isErased: (subject: string) => Promise<boolean>;
  /** A stream of the store went back: notes that, together with what is to be noted here. */
  readonly wentBack: (stream: StreamName, along: readonly Change[]) => Promise<void>;
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
  /** Streams of which something was heard that was not looked for yet. */
  readonly #heard = new Set<StreamName>();
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
      store.onStored(({ stream }) => this.#hear(stream)),
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
    this.tell();
    this.#sending.now();
  }

  /** Reads and sends everything at once. */
  now(): void {
    this.#isFullDue = true;
    this.#isRead = false;
    this.#failures = 0;
    this.#sending.now();
    this.#reading.now();
  }

  #lineIs(line: StoreLine): void {
    this.#line = line;
    if (line === 'open') this.now();
    else {
      this.#isRead = false;
      this.#heard.clear();
    }
    this.tell();
  }

  #hear(stream: StreamName): void {
    this.#heard.add(stream);
    this.#reading.now();
  }

  async #send(): Promise<void> {
    const { store, outbox, random } = this.#parts;
    if (this.#line !== 'open' || this.#isStopped) return;
    const isStopped = (): boolean => this.#isStopped;
    const sent = await outbox.send(store, { isStopped }).catch(() => null);
    const code = sent?.done === false ? sent.code : null;
    this.#failures = sent?.done ? 0 : this.#failures + 1;
    this.#sendProblem = toldOf(code);
    // Over a line that is open, nobody may have been there to answer. A line that comes sends by itself.
    if (!sent?.done && this.#line === 'open' && code !== 'closed') {
      const isHelpless = this.#sendProblem !== null;
      this.#sending.in(isHelpless ? HELPLESS_MS : waitAfter(this.#failures, random));
    }
    this.tell();
  }

  async #read(): Promise<void> {
    if (this.#line !== 'open' || this.#isStopped) return;
    const isFull = this.#isFullDue;
    this.#isFullDue = false;
    const { sent } = this.#parts.outbox;
    let problem: SharerProblem | null = null;
    const done = await this.#readAll(isFull).catch(() => {
      problem = 'not-kept';
      return null;
    });
    this.#readProblem = problem;
    if (done?.ok === true) {
      this.#readFailures = 0;
      if (isFull && !this.#isFullDue) await this.#readToTheEnd(sent);
    } else {
      this.#readFailures += 1;
      this.#isFullDue = true;
      this.#catchUp = null;
      this.#reading.in(waitAfter(this.#readFailures, this.#parts.random));
    }
    this.tell();
  }

  /** @param sent what the store had said it has before everything was read. */
  async #readToTheEnd(sent: ReadonlySet<string>): Promise<void> {
    await this.#parts.outbox.sendAgain(sent);
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
    for (const streams of READ_ORDER) {
      if (isFull) {
        const prepared = await this.#prepare(streams);
        if (!prepared.ok) return prepared;
      }
      for (const stream of streams) {
        if (!isFull && !this.#heard.has(stream)) continue;
        const read = await this.#readStream(stream);
        if (!read.ok) return read;
      }
    }
    return ok(null);
  }

  /** Looks whether the streams went back, and counts what is to be read then. */
  async #prepare(streams: readonly StreamName[]): StoreResult<null> {
    const { store, isErased } = this.#parts;
    let isToCount = streams === READ_ORDER[0];
    for (const stream of streams) {
      const verdict = await judgeCursor(store, this.#cursors.get(stream), isErased);
      if (!verdict.ok) return verdict;
      if (verdict.value === 'same') continue;
      await this.#wentBack(stream);
      isToCount = true;
    }
    return isToCount ? this.#countAhead() : ok(null);
  }

  /** A stream is read from its start again. */
  async #wentBack(stream: StreamName): Promise<void> {
    await this.#parts.wentBack(stream, [{ room: 'cursors', drop: stream }]);
    this.#cursors.delete(stream);
    this.#isFirst = true;
    this.#isRead = false;
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
    this.tell();
    return ok(null);
  }

  async #readStream(stream: StreamName): StoreResult<null> {
    const { store, pace } = this.#parts;
    this.#heard.delete(stream);
    for (let most = 1; !this.#isStopped; most = Math.min(8 * most, pace().atOnce)) {
      const after = this.#cursors.get(stream)?.marks[0] ?? null;
      const got = await readOn(store, { stream, after, most });
      if (!got.ok) return got;
      const { messages, isOther } = got.value;
      if (isOther) {
        await this.#wentBack(stream);
        // The other streams went back with it, which their own cursors tell.
        this.now();
        return ok(null);
      }
      if (messages.length === 0) return ok(null);
      await this.#keep(stream, messages);
      const { restMs } = pace();
      if (restMs > 0) await this.#rest(restMs);
    }
    return ok(null);
  }

  async #keep(stream: StreamName, portion: readonly StoredMessage[]): Promise<void> {
    const { database, take, outbox } = this.#parts;
    const seen = portion.map(({ subject }) => outbox.saw(subject));
    // What this tablet has just written need not be opened, unless nothing is known of the store any more.
    const others = portion.filter((_, i) => this.#isFirst || seen[i]?.length === 0);
    const noted = [
      ...seen.flat(),
      ...(await take(others).catch((thrown) => this.#aside(others, thrown))),
    ];
    let cursor = this.#cursors.get(stream);
    for (const message of portion) cursor = movedOn(cursor, message);
    if (cursor === undefined) return;
    await database.change([...noted, { room: 'cursors', put: cursor }]);
    this.#cursors.set(stream, cursor);
    if (this.#catchUp === null) return;
    const { done, of } = this.#catchUp;
    this.#catchUp = { done: Math.min(of, done + portion.length), of };
    this.tell();
  }

  /** What could not be kept time and again waits by itself: what comes behind it must not wait with it. */
  #aside(messages: readonly StoredMessage[], thrown: unknown): readonly Change[] {
    const [message] = messages;
    if (message === undefined || messages.length > 1) throw thrown;
    if (this.#readFailures < TRIED_BEFORE_ASIDE) throw thrown;
    return [{ room: 'waiting', put: { ...message, code: 'no-key' } }];
  }

  #rest(ms: number): Promise<void> {
    return new Promise((resolve) => {
      this.#parts.timers.later(ms, resolve);
    });
  }

  /** Tells how it stands, where that has changed. */
  tell(): void {
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
