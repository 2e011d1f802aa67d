/**
 * The clinic's store over a NATS server with JetStream. A message is kept by a request to its subject, read by
 * a direct get, and told of by what the server sends again under `r.`. Nothing else of the server is asked:
 * no consumer, no state there for a tablet.
 */
import type { Msg, NatsConnection, Subscription } from '@nats-io/nats-core';
import { err, type Result } from '../base/result.ts';
import { askProblem, readGet, readPut, storedOf } from './nats-answers.ts';
import { NatsLine, type NatsLineOptions } from './nats-line.ts';
import type {
  Bytes,
  ClinicStore,
  LiveLine,
  StoredMessage,
  StoreLine,
  StoreProblem,
  StoreProblemCode,
  StoreResult,
  StreamName,
} from './store-types.ts';
import { MESSAGE_BYTES_MAX, storeProblem } from './store-words.ts';

export interface NatsStoreOptions extends NatsLineOptions {
  /** Ms after which a question that was not answered is given up. */
  readonly answerMs?: number;
}

const ANSWER_MS = 5000;

const BARRED: Readonly<Record<StoreLine, StoreProblemCode>> = {
  // The line is gone, and nobody has said so yet.
  open: 'not-connected',
  connecting: 'not-connected',
  refused: 'refused',
  closed: 'closed',
};

/** What is listened to, on every connection anew. */
class Heard {
  readonly #subject: string;
  readonly #tell: (message: Msg) => void;
  #subscription: Subscription | null = null;

  constructor(subject: string, tell: (message: Msg) => void) {
    this.#subject = subject;
    this.#tell = tell;
  }

  listenOn(connection: NatsConnection): void {
    this.#subscription = connection.subscribe(this.#subject, {
      callback: (problem, message) => {
        if (problem === null) this.#tell(message);
      },
    });
  }

  stop(): void {
    if (this.#subscription?.isClosed() === false) this.#subscription.unsubscribe();
  }
}

class NatsStore implements ClinicStore {
  readonly live: LiveLine;
  readonly #line: NatsLine;
  readonly #heard = new Set<Heard>();
  readonly #answerMs: number;

  constructor(options: NatsStoreOptions) {
    this.#answerMs = options.answerMs ?? ANSWER_MS;
    this.#line = new NatsLine(options, (connection) => {
      for (const each of this.#heard) each.listenOn(connection);
    });
    this.live = {
      publish: (subject, data) => this.#publish(subject, data),
      subscribe: (subject, listener) =>
        this.#hear(subject, (message) => listener(message.subject, new Uint8Array(message.data))),
    };
  }

  async put(message: {
    readonly stream: StreamName;
    readonly subject: string;
    readonly data: Bytes;
  }): StoreResult<{ readonly fresh: boolean }> {
    const { stream, subject, data } = message;
    if (data.length > MESSAGE_BYTES_MAX) return err(storeProblem('too-large', subject));
    const [, site = ''] = subject.split('.');
    const put = await this.#ask(subject, data, (answer) => readPut(answer, { stream, site }));
    if (!put.ok || put.value.fresh) return put;
    // The server does not say whose stream has it already.
    const found = await this.#read(stream, { last_by_subj: subject });
    if (!found.ok) return found;
    return found.value?.subject === subject ? put : err(storeProblem('no-answer', subject));
  }

  get({ stream, seq }: { readonly stream: StreamName; readonly seq: number }) {
    return this.#read(stream, { seq, next_by_subj: '>' });
  }

  last(stream: StreamName) {
    return this.#read(stream, { last_by_subj: '>' });
  }

  onStored(listener: (message: StoredMessage) => void): () => void {
    return this.#hear('r.>', (message) => {
      const stored = storedOf(message);
      if (stored !== null && message.subject === `r.${stored.subject}`) listener(stored);
    });
  }

  onLine(listener: (line: StoreLine) => void): () => void {
    return this.#line.onLine(listener);
  }

  close(): Promise<void> {
    return this.#line.close();
  }

  #read(stream: StreamName, question: object): StoreResult<StoredMessage | null> {
    const data = new TextEncoder().encode(JSON.stringify(question));
    return this.#ask(`$JS.API.DIRECT.GET.${stream}`, data, (answer) => readGet(answer, stream));
  }

  async #ask<T>(
    subject: string,
    data: Uint8Array,
    read: (answer: Msg) => Result<T, StoreProblem>,
  ): StoreResult<T> {
    const { connection, line } = this.#line;
    if (connection === null) return err(storeProblem(BARRED[line], subject));
    try {
      return read(await connection.request(subject, data, { timeout: this.#answerMs }));
    } catch (thrown) {
      // Thrown out while the question was on its way.
      const isRefused = this.#line.line === 'refused';
      return err(isRefused ? storeProblem('refused', subject) : askProblem(thrown));
    }
  }

  #publish(subject: string, data: Bytes): void {
    // The server would end the connection over it.
    if (data.length > MESSAGE_BYTES_MAX) return;
    try {
      this.#line.connection?.publish(subject, data);
    } catch {
      // The connection is at its end: like everything live, this one is lost.
    }
  }

  #hear(subject: string, tell: (message: Msg) => void): () => void {
    const heard = new Heard(subject, tell);
    this.#heard.add(heard);
    const { connection } = this.#line;
    if (connection !== null) heard.listenOn(connection);
    return () => {
      this.#heard.delete(heard);
      heard.stop();
    };
  }
}

/** Opens the store. It connects by itself, and goes on after every loss of the line until it is closed. */
export const openNatsStore = (options: NatsStoreOptions): ClinicStore => new NatsStore(options);
