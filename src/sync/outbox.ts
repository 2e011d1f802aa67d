/**
 * What the store does not have yet. A message is kept as it was sealed until the store has it: the name of a
 * message is that of its bytes, so that sending it twice keeps it once. What is refused for good is set
 * aside and told; what may pass is tried again, in order.
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
  readonly #onChange: () => void;
  #next = 0;
  #owed = 0;
  #stuck = 0;

  constructor(database: SharingDatabase, onChange: () => void) {
    this.#database = database;
    this.#onChange = onChange;
  }

  /** Counts what was left by the last run. */
  async open(): Promise<void> {
    const [numbers, stuck] = await Promise.all([
      this.#database.keys('outbox'),
      this.#database.count('stuck'),
    ]);
    this.#next = (numbers.at(-1) ?? -1) + 1;
    this.#owed = numbers.length;
    this.#stuck = stuck;
    this.#onChange();
  }

  /** Messages that the store does not have, those among them that it refuses. */
  get owed(): number {
    return this.#owed + this.#stuck;
  }

  /** Messages that it refuses for good. */
  get stuck(): number {
    return this.#stuck;
  }

  /** Those that are waiting for their turn. */
  get waiting(): number {
    return this.#owed;
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
    this.#owed += messages.length;
    if (messages.length > 0) this.#onChange();
  }

  /**
   * Sends what is owed, oldest first, until the store has everything or something stands against it. What
   * the store has is forgotten here even when others of its turn have failed.
   */
  async send(
    store: Pick<ClinicStore, 'put'>,
    o: { readonly isStopped: () => boolean; readonly onKept?: (subject: string) => void },
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
      await this.#database.change([
        ...[...kept, ...refused].map(({ n }): Change => ({ room: 'outbox', drop: n })),
        ...refused.map((put): Change => ({ room: 'stuck', put })),
      ]);
      for (const { subject } of kept) o.onKept?.(subject);
      this.#owed -= kept.length + refused.length;
      this.#stuck += refused.length;
      this.#onChange();
      if (against !== null) return { done: false, code: against };
    }
  }
}
