/** Where a new family begins: with nothing but its name, or as a copy under another name. */
import { freeId } from './edit.ts';
import type { Protocol } from './types.ts';

interface Named {
  readonly title: string;
  /** Every protocol that the clinic knows: their ids are not given again. */
  readonly known: readonly { readonly id: string }[];
}

/** A protocol that says what it is for and holds nothing yet. */
export function blankProtocol(o: Named & { readonly summary: string }): Protocol {
  return {
    format: 'lutewatch-protocol',
    formatVersion: 1,
    id: freeId(o.known, o.title),
    revision: 1,
    title: o.title,
    summary: o.summary,
    restorations: [],
    sources: [],
    cautions: [],
    slots: [],
    stages: [],
    steps: [],
    windows: [],
    waysBack: [],
  };
}

/** The same protocol under another name; the two have nothing to do with each other from here on. */
export function copyOf(protocol: Protocol, { title, known }: Named): Protocol {
  return { ...protocol, id: freeId(known, title), revision: 1, title };
}
