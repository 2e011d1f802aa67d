/**
 * What the clinic's store is asked for, and no more: keep a message once, hand out the next one, tell of new
 * ones, carry what is not kept. A memory version and one over a server keep the same contract. Nothing here
 * knows what a message says.
 */
import type { Problem } from '../base/problem.ts';
import type { Result } from '../base/result.ts';

export type Bytes = Uint8Array<ArrayBuffer>;

/** `J` holds entries of cases, `F` facts, `K` wrapped keys. */
export const STREAMS = ['J', 'F', 'K'] as const;
export type StreamName = (typeof STREAMS)[number];

export interface StoredMessage {
  readonly stream: StreamName;
  /** Counted from 1 by the store, per stream, with gaps where something was erased. */
  readonly seq: number;
  readonly subject: string;
  readonly data: Bytes;
  /**
   * When the store kept it, as the store writes it; of one that is told of as it is stored, empty. A message that
   * was lost with an older disk and kept again has another one.
   */
  readonly keptAt: string;
}

export type StoreProblemCode =
  /** No line to the store, or none any more. */
  | 'not-connected'
  /** It did not answer in time: whether a message was kept is not known. */
  | 'no-answer'
  /** It may not be done by this tablet. */
  | 'refused'
  | 'too-large'
  | 'store-full'
  /** Another stream, or another clinic's store, answered. */
  | 'wrong-store'
  | 'closed';

export interface StoreProblem extends Problem {
  readonly code: StoreProblemCode;
}

export type StoreResult<T> = Promise<Result<T, StoreProblem>>;

/** What is sent and not kept: pictures, presence, pairing. Losing one is no fault. */
export interface LiveLine {
  /** Never waits and never throws; without a line nothing is sent. */
  publish(subject: string, data: Bytes): void;
  /** `subject` may end in `.>`, and hold `*` for any one part. Returns the way to stop. Goes on by itself after a line was lost. */
  subscribe(subject: string, listener: (subject: string, data: Bytes) => void): () => void;
}

/** `connecting` also while a lost line is tried again; `refused`: this tablet may no longer come in. */
export type StoreLine = 'connecting' | 'open' | 'refused' | 'closed';

export interface ClinicStore {
  /**
   * Keeps a message under a subject that is written once. `fresh` is false where this very message was
   * there already. `ok` means that it is there, for ever.
   */
  put(message: {
    readonly stream: StreamName;
    readonly subject: string;
    readonly data: Bytes;
  }): StoreResult<{ readonly fresh: boolean }>;
  /** The first message at or after `seq` (from 1); null at the end. */
  get(at: { readonly stream: StreamName; readonly seq: number }): StoreResult<StoredMessage | null>;
  /** The last message; null while there is none. */
  last(stream: StreamName): StoreResult<StoredMessage | null>;
  /** Tells of what is stored from now on, while there is a line. Some may be missed. Returns the way to stop. */
  onStored(listener: (message: StoredMessage) => void): () => void;
  readonly live: LiveLine;
  /** Tells the line now and at each change. Returns the way to stop. */
  onLine(listener: (line: StoreLine) => void): () => void;
  close(): Promise<void>;
}
