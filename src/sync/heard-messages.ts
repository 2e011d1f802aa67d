/** Messages that the store told of before they were read. They are a hint: some are missed, some come twice. */
import type { StoredMessage, StreamName } from './store-types.ts';

/** Kept for each stream; what is more is read when it is its turn. A design choice of this project. */
const KEPT_MAX = 256;

export class HeardMessages {
  readonly #kept = new Map<StreamName, Map<number, StoredMessage>>();
  /** Streams of which something was heard that has not been looked for yet. */
  readonly #due = new Set<StreamName>();

  add(message: StoredMessage): void {
    const { stream, seq } = message;
    this.#due.add(stream);
    const kept = this.#kept.get(stream) ?? new Map<number, StoredMessage>();
    this.#kept.set(stream, kept);
    if (kept.size < KEPT_MAX) kept.set(seq, message);
  }

  has(stream: StreamName): boolean {
    return this.#due.has(stream);
  }

  /** Those that follow on one another from that place, without a hole; they are given once. */
  takeFrom(
    stream: StreamName,
    o: { readonly from: number; readonly atOnce: number },
  ): readonly StoredMessage[] {
    this.#due.delete(stream);
    const kept = this.#kept.get(stream);
    if (kept === undefined) return [];
    const found: StoredMessage[] = [];
    for (let seq = o.from; found.length < o.atOnce; seq += 1) {
      const message = kept.get(seq);
      if (message === undefined) break;
      found.push(message);
    }
    const upTo = o.from + found.length;
    for (const seq of kept.keys()) if (seq < upTo) kept.delete(seq);
    return found;
  }

  forget(): void {
    this.#kept.clear();
    this.#due.clear();
  }
}
