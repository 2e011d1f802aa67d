/** A place for the lengths of the cases, in memory. */
import type { HeadsPlace } from '../../src/storage/heads.ts';

export class MemoryHeads implements HeadsPlace {
  texts: readonly string[] = [];

  async read(): Promise<readonly string[]> {
    return this.texts;
  }

  async write(text: string): Promise<void> {
    this.texts = [text];
  }
}
