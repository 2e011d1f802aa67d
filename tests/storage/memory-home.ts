/** A second home in memory that tests can damage, slow down and take away. */
import {
  parseSegmentName,
  type SecondHome,
  type SegmentFile,
  segmentName,
} from '../../src/storage/second-home.ts';

export class MemoryHome implements SecondHome {
  readonly files = new Map<string, Uint8Array>();
  /** When set, every call fails with it. */
  failure: string | null = null;
  reads = 0;

  #check(): void {
    if (this.failure !== null) throw new Error(this.failure);
  }

  async list(): Promise<readonly SegmentFile[]> {
    this.#check();
    return [...this.files]
      .flatMap(([name, bytes]) => {
        const named = parseSegmentName(name);
        return named === null ? [] : [{ name, ...named, bytes: bytes.length }];
      })
      .sort((a, b) => (a.name < b.name ? -1 : 1));
  }

  async read(name: string): Promise<Uint8Array> {
    this.#check();
    this.reads += 1;
    return this.files.get(name) ?? new Uint8Array();
  }

  async append(write: { epoch: number; part: number; bytes: Uint8Array<ArrayBuffer> }) {
    this.#check();
    const name = segmentName(write);
    const before = this.files.get(name) ?? new Uint8Array();
    const after = new Uint8Array([...before, ...write.bytes]);
    this.files.set(name, after);
    return { name, bytes: after.length };
  }

  async remove(name: string): Promise<void> {
    this.#check();
    this.files.delete(name);
  }

  async release(): Promise<void> {}
}
