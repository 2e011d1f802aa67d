/**
 * The second home of the journal: append-only files outside the database, one for each writer epoch
 * that wrote something (further parts after a deletion). Two writers therefore never share a file,
 * and a late writer cannot cut into the lines of its successor.
 */

/** One file of the second home. */
export interface SegmentFile {
  readonly name: string;
  readonly epoch: number;
  readonly part: number;
  readonly bytes: number;
}

export interface SecondHome {
  /** Every file, oldest first. Rejects where the platform has no such files. */
  list(): Promise<readonly SegmentFile[]>;
  read(name: string): Promise<Uint8Array>;
  /** Appends to the file of this epoch and part, and resolves once it is flushed. */
  append(write: {
    readonly epoch: number;
    readonly part: number;
    readonly bytes: Uint8Array<ArrayBuffer>;
  }): Promise<{ readonly name: string; readonly bytes: number }>;
  remove(name: string): Promise<void>;
  /** Lets go of every handle, so that the files can be opened again. */
  release(): Promise<void>;
}

/** The second home failed: the cause is the message. The database is not to blame. */
export class SecondHomeLost extends Error {
  override readonly name = 'SecondHomeLost';
}

/** The same home, whose every failure is a {@link SecondHomeLost}. */
export function guardHome(home: SecondHome): SecondHome {
  const guard = async <T>(answer: Promise<T>): Promise<T> => {
    try {
      return await answer;
    } catch (cause) {
      throw new SecondHomeLost(cause instanceof Error ? cause.message : String(cause));
    }
  };
  return {
    list: () => guard(home.list()),
    read: (name) => guard(home.read(name)),
    append: (write) => guard(home.append(write)),
    remove: (name) => guard(home.remove(name)),
    release: () => guard(home.release()),
  };
}

const NAME = /^journal-(\d{8})-(\d{4})\.ndjson$/;
const EPOCH_DIGITS = 8;
const PART_DIGITS = 4;

/** `journal-00000042-0000.ndjson`: sorts by age. */
export function segmentName(of: { readonly epoch: number; readonly part: number }): string {
  const epoch = String(of.epoch).padStart(EPOCH_DIGITS, '0');
  return `journal-${epoch}-${String(of.part).padStart(PART_DIGITS, '0')}.ndjson`;
}

/** What a file name says, or null for a foreign file. */
export function parseSegmentName(
  name: string,
): { readonly epoch: number; readonly part: number } | null {
  const match = NAME.exec(name);
  return match === null ? null : { epoch: Number(match[1]), part: Number(match[2]) };
}

/** A request to the worker that owns the files. */
export type FileRequest =
  | { readonly call: 'list' }
  | { readonly call: 'read'; readonly name: string }
  | { readonly call: 'append'; readonly name: string; readonly bytes: Uint8Array<ArrayBuffer> }
  /** Replaces a small file. */
  | { readonly call: 'keep'; readonly name: string; readonly bytes: Uint8Array<ArrayBuffer> }
  | { readonly call: 'remove'; readonly name: string }
  | { readonly call: 'release' };

export interface FileMessage {
  readonly id: number;
  readonly directory: string;
  readonly request: FileRequest;
}

export type FileAnswer =
  | { readonly call: 'list'; readonly files: readonly { name: string; bytes: number }[] }
  | { readonly call: 'read'; readonly bytes: Uint8Array<ArrayBuffer> }
  | { readonly call: 'append'; readonly bytes: number }
  | { readonly call: 'keep' }
  | { readonly call: 'remove' }
  | { readonly call: 'release' };

export type FileReply =
  | { readonly id: number; readonly answer: FileAnswer }
  | { readonly id: number; readonly failure: string };
