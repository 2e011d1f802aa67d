/**
 * The second home as one page sees it: files of its tablet that fail, fill up, are torn when the page
 * dies in the middle of a write, and say that they are flushed when they are not.
 */
import {
  parseSegmentName,
  type SecondHome,
  type SegmentFile,
  segmentName,
} from '../../src/storage/second-home.ts';
import type { Page } from './page.ts';

export class PageFiles implements SecondHome {
  readonly #page: Page;
  /** What is on its way to a file now. */
  #writing: { readonly name: string; readonly bytes: Uint8Array } | null = null;

  constructor(page: Page) {
    this.#page = page;
  }

  /** The file system's own time. A dead page never hears of the answer. */
  async #answer(): Promise<void> {
    const { tablet } = this.#page;
    await new Promise<void>((resolve) => {
      tablet.loop.after(tablet.filesMs, resolve, this.#page);
    });
    if (tablet.filesFail === 'lost') throw new Error('the files do not answer');
  }

  async list(): Promise<readonly SegmentFile[]> {
    await this.#answer();
    return [...this.#page.tablet.files]
      .flatMap(([name, bytes]) => {
        const named = parseSegmentName(name);
        return named === null ? [] : [{ name, ...named, bytes: bytes.length }];
      })
      .sort((a, b) => (a.name < b.name ? -1 : 1));
  }

  async read(name: string): Promise<Uint8Array> {
    await this.#answer();
    return this.#page.tablet.files.get(name) ?? new Uint8Array();
  }

  async append(write: { epoch: number; part: number; bytes: Uint8Array<ArrayBuffer> }) {
    const { tablet } = this.#page;
    const name = segmentName(write);
    this.#writing = { name, bytes: write.bytes };
    await this.#answer();
    this.#writing = null;
    if (tablet.filesFail === 'full') {
      this.#put(name, write.bytes.subarray(0, tablet.dice.whole(0, write.bytes.length - 1)));
      throw new DOMException('no room', 'QuotaExceededError');
    }
    return { name, bytes: this.#put(name, write.bytes) };
  }

  #put(name: string, bytes: Uint8Array): number {
    const { files, flushedBytes, isFlushLying } = this.#page.tablet;
    const before = files.get(name) ?? new Uint8Array();
    const after = new Uint8Array(before.length + bytes.length);
    after.set(before);
    after.set(bytes, before.length);
    files.set(name, after);
    if (isFlushLying) flushedBytes.set(name, flushedBytes.get(name) ?? before.length);
    else flushedBytes.delete(name);
    return after.length;
  }

  async remove(name: string): Promise<void> {
    await this.#answer();
    this.#page.tablet.files.delete(name);
  }

  async release(): Promise<void> {}

  /** The page died: of what was on its way a part may have come down. */
  tear(): void {
    const { tablet } = this.#page;
    if (this.#writing === null) return;
    const { name, bytes } = this.#writing;
    const length = tablet.dice.whole(0, bytes.length);
    if (length > 0) this.#put(name, bytes.subarray(0, length));
  }
}
