/** The lengths of the cases in the page's own small storage, which neither home has anything to do with. */
import type { HeadsPlace } from './heads.ts';

const KEY = 'lutewatch-heads';

/** Rejects where the page is denied that storage, or it is full. */
export function createStorageHeads(open: () => Pick<Storage, 'getItem' | 'setItem'>): HeadsPlace {
  return {
    async read() {
      const text = open().getItem(KEY);
      return text === null ? [] : [text];
    },
    async write(text) {
      open().setItem(KEY, text);
    },
  };
}
