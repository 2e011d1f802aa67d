/** The English words with an ear at each of them: which were read while something was drawn, and with what. */
import { readdirSync } from 'node:fs';
import type { Catalogue } from '../../src/words/catalogue.ts';
import { speak } from '../../src/words/language.ts';

/** A text as it is when a lie is told in its place. */
export type Lie = (text: string) => string;

export interface Tap {
  readonly english: Readonly<Record<string, unknown>>;
  /** What was read while `draw` ran: by entry, the texts that it gave. */
  readonly during: <T>(draw: () => T) => {
    readonly drawn: T;
    readonly read: ReadonlyMap<string, readonly string[]>;
  };
  /** The same with one text changed, wherever it is read. */
  readonly lying: <T>(entry: string, lie: Lie, draw: () => T) => T;
}

async function readEnglish(): Promise<Record<string, unknown>> {
  const files = readdirSync('src/words/en').filter((file) => file.endsWith('.ts'));
  const topics = await Promise.all(
    files.map(
      async (file): Promise<Record<string, unknown>> => import(`../../src/words/en/${file}`),
    ),
  );
  return Object.assign({}, ...topics);
}

/** Puts the tapped words in the place of the plain ones for the rest of this test file. */
export async function tapWords(): Promise<Tap> {
  const english = await readEnglish();
  let read = new Map<string, readonly string[]>();
  let lied: { readonly entry: string; readonly lie: Lie } | null = null;

  const told = (entry: string, text: unknown): unknown => {
    const plain = String(text).replaceAll('\u00a0', ' ');
    read.set(entry, [...(read.get(entry) ?? []), plain]);
    return lied?.entry === entry && typeof text === 'string' ? lied.lie(text) : text;
  };
  const tapped = (texts: object, path: string): object => {
    const made = {};
    for (const [key, value] of Object.entries(texts)) {
      const entry = `${path}.${key}`;
      const get = (): unknown => {
        if (typeof value === 'function') {
          return (...args: unknown[]): unknown => told(entry, Reflect.apply(value, texts, args));
        }
        return typeof value === 'object' && value !== null
          ? tapped(value, entry)
          : told(entry, value);
      };
      Object.defineProperty(made, key, { enumerable: true, get });
    }
    return made;
  };
  const topics = Object.entries(english).map(([topic, texts]) => [
    topic,
    typeof texts === 'object' && texts !== null ? tapped(texts, topic) : texts,
  ]);
  // The taps have the shape of what they tap.
  speak('en', Object.fromEntries(topics) as unknown as Catalogue);

  return {
    english,
    during: (draw) => {
      read = new Map();
      const drawn = draw();
      return { drawn, read };
    },
    lying: (entry, lie, draw) => {
      lied = { entry, lie };
      try {
        return draw();
      } finally {
        lied = null;
      }
    },
  };
}
