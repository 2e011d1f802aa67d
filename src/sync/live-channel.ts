/**
 * Carries the pictures of a running case from one tablet of the clinic to those that look on, over what is
 * sent and not kept. To either side it is a channel like the one between two windows of one tablet: who runs
 * a case posts pictures and beats, who looks on posts that it does.
 *
 * - `live.SITE.DEVICE.picture`, `live.SITE.DEVICE.beat`: from the tablet that runs a case
 * - `live.SITE.DEVICE.watch`: from one that looks on, with the tablet that it means
 *
 * Whoever looks on sends a word of chance every time, and counts only what gives one of its last words back:
 * what was recorded earlier, or lay in a frozen store, is not taken for what is there now.
 */
import * as v from 'valibot';
import { fieldsOf } from '../base/json.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import type { Bytes, LiveLine } from './store-types.ts';
import { isToken, liveSubject } from './subjects.ts';

/** A word of a tablet that looks on is given back and counts for so long, in ms: two of its turns, and some. */
export const WORD_COUNTS_MS = 5000;
/** Words that are remembered: as many as can count at a time. */
const WORDS_MAX = 8;

/** The part of a broadcast channel that is used. */
export interface LiveChannel {
  postMessage(message: unknown): void;
  addEventListener(type: 'message', listener: (event: { readonly data: unknown }) => void): void;
  close(): void;
}

/** What seals, signs and numbers what is sent, and opens what came. */
export interface LiveSeal {
  seal(o: { readonly subject: string; readonly value: unknown }): Promise<Bytes>;
  /** Null for what no member of the clinic sent, what is older than what came before, what does not open. */
  open(o: {
    readonly subject: string;
    readonly data: Bytes;
  }): Promise<{ readonly device: string; readonly value: unknown } | null>;
}

export interface LiveHubParts {
  readonly live: LiveLine;
  readonly site: string;
  /** This tablet. */
  readonly device: string;
  readonly seal: LiveSeal;
  readonly nowMs: () => number;
  /** A word that nobody can foretell. */
  readonly newWord: () => string;
}

const messageSchema = v.object({ type: v.string(), picture: v.optional(v.unknown()) });

const watchSchema = v.object({ to: v.string(), type: v.string(), word: v.string() });

const sentSchema = v.object({ message: v.unknown(), words: v.array(v.string()) });

/** One thing after the other; of two with one name that wait, the later one alone. It never throws. */
class Turns {
  readonly #waiting = new Map<string, () => Promise<void>>();
  #goes = false;

  do(name: string, run: () => Promise<void>): void {
    // Behind what waits already: numbers must be met in the order in which they were given.
    this.#waiting.delete(name);
    this.#waiting.set(name, run);
    if (!this.#goes) void this.#go();
  }

  forget(name: string): void {
    this.#waiting.delete(name);
  }

  async #go(): Promise<void> {
    this.#goes = true;
    // Not in the turn of the press that made the picture.
    await Promise.resolve();
    for (;;) {
      const [next] = this.#waiting;
      if (next === undefined) break;
      this.#waiting.delete(next[0]);
      await next[1]().catch(() => undefined);
    }
    this.#goes = false;
  }
}

type Listener = (event: { readonly data: unknown }) => void;

/** Every channel of one tablet: what comes is opened in one order, as it came. */
export class LiveHub {
  readonly #parts: LiveHubParts;
  readonly #opening = new Turns();
  readonly #sealing = new Turns();
  #count = 0;

  constructor(parts: LiveHubParts) {
    this.#parts = parts;
  }

  #send(what: string, value: unknown): void {
    const { live, site, device, seal } = this.#parts;
    const subject = liveSubject({ site, device, what });
    this.#sealing.do(this.#turnOf(subject), async () =>
      live.publish(subject, await seal.seal({ subject, value })),
    );
  }

  /** A later picture or beat takes the place of one that waits; of those that look on, each is heard. */
  #turnOf(subject: string): string {
    if (!subject.endsWith('.watch')) return subject;
    this.#count += 1;
    return `${subject} ${this.#count}`;
  }

  #hear(pattern: string, hear: (device: string, value: unknown) => void): () => void {
    const { live, seal, device: own } = this.#parts;
    let isOpen = true;
    const stop = live.subscribe(pattern, (subject, data) => {
      const [, , device = '', what] = subject.split('.');
      if (device === own || what !== pattern.split('.')[3] || !isToken(device)) return;
      this.#opening.do(this.#turnOf(subject), async () => {
        const opened = await seal.open({ subject, data });
        if (isOpen && opened?.device === device) hear(device, opened.value);
      });
    });
    return () => {
      isOpen = false;
      stop();
    };
  }

  /** For the window that runs a case. Without somebody who looks on, nothing but its first question is sent. */
  publishing(): LiveChannel {
    const { site, device, nowMs } = this.#parts;
    const words = new Map<string, { readonly word: string; readonly atMs: number }>();
    let listener: Listener = () => undefined;
    const stop = this.#hear(`live.${site}.*.watch`, (from, value) => {
      const said = parsedOr(watchSchema, value);
      if (said?.to !== device) return;
      words.set(from, { word: said.word, atMs: nowMs() });
      listener({ data: { type: said.type } });
    });
    return {
      postMessage: (message) => {
        const type = parsedOr(messageSchema, message)?.type;
        for (const [from, { atMs }] of words) {
          if (nowMs() - atMs > WORD_COUNTS_MS) words.delete(from);
        }
        const given = [...words.values()].map(({ word }) => word);
        if (given.length === 0 && type !== 'who') return;
        const what = type === 'picture' ? 'picture' : 'beat';
        // A good-bye takes with it what has not been sent of a picture that no longer counts.
        if (type === 'bye') this.#sealing.forget(liveSubject({ site, device, what: 'picture' }));
        this.#send(what, { message, words: given });
      },
      addEventListener: (_, heard) => {
        listener = heard;
      },
      close: stop,
    };
  }

  /** For a window that looks on at what this tablet of the clinic runs. */
  following(device: string): LiveChannel {
    const { site, nowMs, newWord } = this.#parts;
    let words: readonly { readonly word: string; readonly atMs: number }[] = [];
    let listener: Listener = () => undefined;
    const hear = (value: unknown): void => {
      const sent = parsedOr(sentSchema, value);
      const type = parsedOr(messageSchema, sent?.message)?.type;
      if (sent === null || type === undefined) return;
      const given = words.findLast(
        ({ word, atMs }) => nowMs() - atMs <= WORD_COUNTS_MS && sent.words.includes(word),
      );
      // Who asks whether anybody looks on has heard no word yet; that it asks shows nothing.
      if (given === undefined && type !== 'who') return;
      // What gives a word back was sent after the word was.
      const asked = given === undefined ? {} : { askedAtMs: given.atMs };
      listener({ data: { ...fieldsOf(sent.message), ...asked } });
    };
    const stops = ['picture', 'beat'].map((what) =>
      this.#hear(liveSubject({ site, device, what }), (_, value) => hear(value)),
    );
    return {
      postMessage: (message) => {
        const type = parsedOr(messageSchema, message)?.type;
        if (type === undefined) return;
        const word = newWord();
        words = [...words, { word, atMs: nowMs() }].slice(-WORDS_MAX);
        this.#send('watch', { to: device, type, word });
      },
      addEventListener: (_, heard) => {
        listener = heard;
      },
      close: () => {
        for (const stop of stops) stop();
      },
    };
  }
}
