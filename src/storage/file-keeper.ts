/**
 * Keeps the second home in step while the writer runs. A failing file never blocks a press: what it
 * missed is kept in memory, tried again, and caught up by the comparison at the next start.
 */
import type { FileRecord } from './file-lines.ts';
import { encodeRecords } from './file-lines.ts';
import type { SecondHome } from './second-home.ts';

const TRY_AGAIN_AFTER_MS = 5000;
/** The second attempt has a new worker and a new handle. */
const ATTEMPTS = 2;

export class FileKeeper {
  /** Null where the platform has no files, or nobody writes. */
  readonly home: SecondHome | null;
  readonly #onChange: () => void;
  #place: { readonly epoch: number; readonly part: number } | null = null;
  #last: { readonly name: string; readonly bytes: number } | null = null;
  #backlog: readonly FileRecord[] = [];
  #isUp = false;
  #busy: Promise<void> = Promise.resolve();
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(home: SecondHome | null, onChange: () => void) {
    this.home = home;
    this.#onChange = onChange;
  }

  /** True while every record written so far is flushed. */
  get isUp(): boolean {
    return this.#isUp;
  }

  /** The file that was written last, and its length since. */
  get last(): { readonly name: string; readonly bytes: number } | null {
    return this.#last;
  }

  get place(): { readonly epoch: number; readonly part: number } | null {
    return this.#place;
  }

  /** From now on lines go to this file. `isUp` says whether the comparison with it succeeded. */
  begin(place: { readonly epoch: number; readonly part: number }, isUp: boolean): void {
    this.#place = place;
    this.#isUp = isUp && this.home !== null;
    this.#onChange();
  }

  /** Appends and flushes. Never rejects: `isUp` tells how it went. */
  write(records: readonly FileRecord[]): Promise<void> {
    if (this.home === null || this.#place === null || records.length === 0) {
      return Promise.resolve();
    }
    this.#backlog = [...this.#backlog, ...records];
    if (this.#timer === undefined) this.#busy = this.#busy.then(() => this.#catchUp());
    return this.#busy;
  }

  async #catchUp(): Promise<void> {
    const { home } = this;
    const place = this.#place;
    for (let attempt = 1; attempt <= ATTEMPTS; attempt += 1) {
      const records = this.#backlog;
      if (home === null || place === null || records.length === 0) return;
      try {
        this.#last = await home.append({ ...place, bytes: encodeRecords(records) });
        this.#backlog = this.#backlog.slice(records.length);
        this.#setUp(true);
        return;
      } catch {
        await home.release().catch(() => undefined);
      }
    }
    this.#setUp(false);
    this.#timer = setTimeout(() => {
      this.#timer = undefined;
      this.#busy = this.#busy.then(() => this.#catchUp());
    }, TRY_AGAIN_AFTER_MS);
  }

  #setUp(isUp: boolean): void {
    if (this.#isUp === isUp) return;
    this.#isUp = isUp;
    this.#onChange();
  }

  /** Stops trying and lets go of the files. */
  async end(): Promise<void> {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    await this.#busy;
    this.#place = null;
    this.#isUp = false;
    await this.home?.release().catch(() => undefined);
  }
}
