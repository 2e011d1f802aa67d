/**
 * What the store does not have yet. A message is kept as it was sealed until it was read in the store: the name
 * of a message is that of its bytes, so that sending it twice keeps it once. That the store said it has it is
 * not enough, it may go back to an older disk before that is read. What is refused for good is set aside and
 * told; what may pass is tried again, in order.
 */
import type { Change, OwedMessage, SharingDatabase } from './sharing-database.ts';
import type { Bytes, ClinicStore, StoreProblemCode, StreamName } from './store-types.ts';

/** Messages on their way to the store at one time. */
export const SEND_AT_ONCE = 64;

export interface NewMessage {
  readonly stream: StreamName;
  readonly subject: string;
  readonly data: Bytes;
}

/** What came of sending: everything is there, or what stands against it. */
export type Sent =
  | { readonly done: true }
  | { readonly done: false; readonly code: StoreProblemCode };

export class Outbox {
  readonly #database: SharingDatabase;
  readonly #onAdded: () => void;
  readonly #onChange: () => void;
  #next = 0;
  #stuck = 0;
  /** What the store does not have, by name, with its number. */
  readonly #owed = new Map<string, number>();
  /** Names of what the store has, as it said, and that was not read there yet. */
  readonly #sent = new Set<string>();

  constructor(
    database: SharingDatabase,
    o: {
      /** There is more to send. */
      readonly onAdded: () => void;
      /** What is owed has changed. */
      readonly onChange: () => void;
    },
  ) {
    this.#database = database;
    this.#onAdded = o.onAdded;
    this.#onChange = o.onChange;
  }

  /** Counts what was left by the last run. */
  async open(): Promise<void> {
    const [owed, stuck, sent] = await Promise.all([
      this.#database.all('outbox'),
      this.#database.count('stuck'),
      this.#database.keys('sent'),
    ]);
    for (const { subject, n } of owed) this.#owed.set(subject, n);
    for (const subject of sent) this.#sent.add(subject);
    this.#next = (owed.at(-1)?.n ?? -1) + 1;
    this.#stuck = stuck;
    this.#onChange();
  }

  /** Messages that the store does not have, those among them that it refuses. */
  get owed(): number {
    return this.#owed.size + this.#stuck;
  }

  /** Messages that it refuses for good. */
  get stuck(): number {
    return this.#stuck;
  }

  /** Those that are waiting for their turn. */
  get waiting(): number {
    return this.#owed.size;
  }

  /** Keeps messages for sending, with what else is to be noted of them, together or not at all. */
  async add(messages: readonly NewMessage[], along: readonly Change[] = []): Promise<void> {
    const first = this.#next;
    // Taken before the writing: two that are added at once must not get one number.
    this.#next += messages.length;
    await this.#database.change([
      ...messages.map(
        ({ stream, subject, data }, i): Change => ({
          room: 'outbox',
          put: { n: first + i, stream, subject, data },
        }),
      ),
      ...along,
    ]);
    for (const [i, { subject }] of messages.entries()) this.#owed.set(subject, first + i);
    if (messages.length > 0) this.#onAdded();
  }

  /**
   * Sends what is owed, oldest first, until the store has everything or something stands against it. What
   * the store has is forgotten here even when others of its turn have failed.
   */
  async send(
    store: Pick<ClinicStore, 'put'>,
    o: { readonly isStopped: () => boolean },
  ): Promise<Sent> {
    for (;;) {
      const turn = await this.#database.all('outbox', { most: SEND_AT_ONCE });
      if (turn.length === 0 || o.isStopped()) return { done: true };
      const answers = await Promise.all(turn.map(({ n: _, ...message }) => store.put(message)));
      const kept: OwedMessage[] = [];
      const refused: OwedMessage[] = [];
      let against: StoreProblemCode | null = null;
      answers.forEach((answer, i) => {
        const message = turn[i];
        if (message === undefined) return;
        if (answer.ok) kept.push(message);
        else if (answer.error.code === 'too-large') refused.push(message);
        else against ??= answer.error.code;
      });
      await this.#settle(kept, refused);
      if (against !== null) return { done: false, code: against };
    }
  }

  async #settle(kept: readonly OwedMessage[], refused: readonly OwedMessage[]): Promise<void> {
    // What was read in the store before its answer came need not be looked for.
    const unseen = kept.filter(({ subject }) => this.#owed.has(subject));
    for (const { subject } of unseen) this.#sent.add(subject);
    for (const { subject } of [...kept, ...refused]) this.#owed.delete(subject);
    this.#stuck += refused.length;
    await this.#database.change([
      ...[...kept, ...refused].map(({ n }): Change => ({ room: 'outbox', drop: n })),
      ...unseen.map((put): Change => ({ room: 'sent', put })),
      ...refused.map((put): Change => ({ room: 'stuck', put })),
    ]);
    // It may have been read while that was written.
    const back = unseen.filter(({ subject }) => !this.#sent.has(subject));
    await this.#database.change(
      back.map(({ subject }): Change => ({ room: 'sent', drop: subject })),
    );
    this.#onChange();
  }

  /** What is to be looked for in the store: all that it said it has and that was not read there yet. */
  get sent(): ReadonlySet<string> {
    return new Set(this.#sent);
  }

  /** A message was read in the store. What is to be noted; empty where it was not waited for. */
  saw(subject: string): readonly Change[] {
    const n = this.#owed.get(subject);
    if (this.#sent.delete(subject)) return [{ room: 'sent', drop: subject }];
    if (n === undefined) return [];
    // Its answer was lost: it is there all the same.
    this.#owed.delete(subject);
    this.#onChange();
    return [{ room: 'outbox', drop: n }];
  }

  /** Those that were looked for everywhere and are not there go once more. */
  async sendAgain(subjects: Iterable<string>): Promise<void> {
    const lost = [...subjects].filter((subject) => this.#sent.has(subject));
    for (const subject of lost) {
      const row = await this.#database.get('sent', subject);
      this.#sent.delete(subject);
      if (row !== undefined) await this.add([row], [{ room: 'sent', drop: subject }]);
    }
  }
}
