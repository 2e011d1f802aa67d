/**
 * The line to the server: opens a connection, watches it, and opens another when it is lost.
 *
 * The client's own way back is not used. After a cut that nobody announces, a browser waits for the other side
 * to agree to the end, for a minute; and a connection that a policy forbids is never refused. Here every
 * attempt has an end, a connection that does not answer is left behind at once, and a new one is opened.
 */
import type { Authenticator, ConnectionOptions, NatsConnection } from '@nats-io/nats-core';
import { jwtAuthenticator } from '@nats-io/nats-core';
import type { StoreLogin } from './server-keys.ts';
import type { StoreLine } from './store-types.ts';

/** Opens one connection: by WebSocket in a browser, by TCP in Node. */
export type Connect = (options: ConnectionOptions) => Promise<NatsConnection>;

/** In ms. */
export interface LineTimes {
  /** An attempt to connect ends after this. */
  readonly connect: number;
  /** How often it is asked whether somebody is there. */
  readonly beat: number;
  /** Without an answer in this time the connection is left behind. */
  readonly answer: number;
  /** The first wait before another attempt; each later one is twice as long, up to `waitMax`. */
  readonly wait: number;
  readonly waitMax: number;
  /** Between attempts once there was no line for `longAfter`: the tablet is somewhere else. */
  readonly waitLong: number;
  readonly longAfter: number;
  /** Between attempts of one that was refused. */
  readonly waitRefused: number;
}

export const LINE_TIMES: LineTimes = {
  connect: 4000,
  beat: 2000,
  answer: 3000,
  wait: 200,
  waitMax: 3000,
  waitLong: 15_000,
  longAfter: 300_000,
  waitRefused: 30_000,
};

export interface NatsLineOptions {
  /** `wss://clinic.example/store`, or `127.0.0.1:4222` in Node. */
  readonly address: string;
  readonly login: StoreLogin;
  /** The name of the user: answers come to `_INBOX.NAME.>` only. */
  readonly name: string;
  readonly connect: Connect;
  readonly times?: Partial<LineTimes>;
}

const REFUSED = /authorization violation|revoked|account authentication expired/i;
export const isRefusal = (thrown: unknown): boolean =>
  thrown instanceof Error && REFUSED.test(thrown.message);

/** What `asked` comes to, or a failure after `ms`. */
export function withinMs<T>(asked: Promise<T>, ms: number): Promise<T> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Error('no answer in time')), ms);
    asked.then(resolve, reject).finally(() => clearTimeout(timer));
  });
}

/** A connection that nobody needs any more. It may never answer, so nobody waits for it. */
function leave(connection: NatsConnection): void {
  connection.close().catch(() => undefined);
}

export class NatsLine {
  readonly #options: NatsLineOptions;
  readonly #times: LineTimes;
  readonly #authenticator: Authenticator;
  readonly #listeners = new Set<(line: StoreLine) => void>();
  readonly #onOpen: (connection: NatsConnection) => void;
  #line: StoreLine = 'connecting';
  #connection: NatsConnection | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #wait: number;
  #lostAt = performance.now();

  /** Begins at once. `onOpen` is told of every new connection before the line is said to be open. */
  constructor(options: NatsLineOptions, onOpen: (connection: NatsConnection) => void) {
    this.#options = options;
    this.#times = { ...LINE_TIMES, ...options.times };
    const seed = new TextEncoder().encode(options.login.seed);
    this.#authenticator = jwtAuthenticator(options.login.jwt, seed);
    this.#onOpen = onOpen;
    this.#wait = this.#times.wait;
    void this.#attempt();
  }

  get line(): StoreLine {
    return this.#line;
  }

  /** The connection in use; null without one. */
  get connection(): NatsConnection | null {
    return this.#connection;
  }

  onLine(listener: (line: StoreLine) => void): () => void {
    this.#listeners.add(listener);
    listener(this.#line);
    return () => this.#listeners.delete(listener);
  }

  /** Hands over what was sent, at most for the time of an answer, and ends. */
  async close(): Promise<void> {
    const connection = this.#connection;
    this.#connection = null;
    this.#set('closed');
    clearTimeout(this.#timer);
    if (connection === null) return;
    await withinMs(connection.flush(), this.#times.answer).catch(() => undefined);
    leave(connection);
  }

  async #attempt(): Promise<void> {
    const { address, name, connect } = this.#options;
    const attempt = connect({
      servers: address,
      authenticator: this.#authenticator,
      inboxPrefix: `_INBOX.${name}`,
      name,
      reconnect: false,
      timeout: this.#times.connect,
      ignoreClusterUpdates: true,
      noAsyncTraces: true,
      // The watch below asks more often; this one would only wait for an end that never comes.
      pingInterval: 3_600_000,
    });
    let isLate = false;
    // One that comes after its time is closed: nobody may hold two.
    attempt.then((connection) => isLate && leave(connection)).catch(() => undefined);
    try {
      const connection = await withinMs(attempt, this.#times.connect + 500);
      if (this.#isClosed()) leave(connection);
      else this.#opened(connection);
    } catch (thrown) {
      isLate = true;
      this.#lost(thrown);
    }
  }

  #isClosed(): boolean {
    return this.#line === 'closed';
  }

  #opened(connection: NatsConnection): void {
    this.#connection = connection;
    this.#wait = this.#times.wait;
    let refusal: unknown;
    void (async () => {
      for await (const status of connection.status()) {
        if (status.type === 'error' && isRefusal(status.error)) refusal = status.error;
      }
    })();
    void connection.closed().then((why) => this.#end(connection, refusal ?? why));
    this.#onOpen(connection);
    this.#set('open');
    this.#timer = setTimeout(() => void this.#watch(connection), this.#times.beat);
  }

  async #watch(connection: NatsConnection): Promise<void> {
    try {
      await withinMs(connection.flush(), this.#times.answer);
      if (this.#connection !== connection) return;
      this.#timer = setTimeout(() => void this.#watch(connection), this.#times.beat);
    } catch (thrown) {
      this.#end(connection, thrown);
    }
  }

  #end(connection: NatsConnection, why: unknown): void {
    if (this.#connection !== connection) return;
    this.#connection = null;
    leave(connection);
    this.#lost(why);
  }

  #lost(why: unknown): void {
    if (this.#isClosed()) return;
    clearTimeout(this.#timer);
    const wasRefused = isRefusal(why);
    // One that was refused stays so until it is let in: an attempt between that fails says nothing else.
    if (this.#line === 'open') this.#lostAt = performance.now();
    if (wasRefused || this.#line === 'open') this.#set(wasRefused ? 'refused' : 'connecting');
    const wait = wasRefused ? this.#times.waitRefused : this.#nextWait();
    // Tablets that lost one server do not all come back in one instant.
    this.#timer = setTimeout(() => void this.#attempt(), wait * (0.75 + Math.random() / 2));
  }

  #nextWait(): number {
    const { waitMax, waitLong, longAfter } = this.#times;
    if (performance.now() - this.#lostAt > longAfter) return waitLong;
    const wait = this.#wait;
    this.#wait = Math.min(wait * 2, waitMax);
    return wait;
  }

  #set(line: StoreLine): void {
    if (line === this.#line) return;
    this.#line = line;
    for (const listener of [...this.#listeners]) listener(line);
  }
}
