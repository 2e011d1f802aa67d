/**
 * The way from the pages of tablets to the clinic's store, on simulated time: everything takes a while, what
 * is on its way overtakes other things or finds no line any more, and a page that died hears of nothing.
 */
import { err } from '../../src/base/result.ts';
import { MemoryHub } from '../../src/sync/memory-store.ts';
import type { ClinicStore, StoreLine, StoreResult } from '../../src/sync/store-types.ts';
import { storeProblem } from '../../src/sync/store-words.ts';
import type { Dice } from './dice.ts';
import type { Loop } from './loop.ts';
import type { Page } from './page.ts';

/** A client gives a question up after so long, ms. */
const PATIENCE_MS = 5000;
const USUAL_MS = 15;

export class ClinicNetwork {
  readonly hub = new MemoryHub();
  /** The longest that something is under way, ms. */
  slowMs = USUAL_MS;
  /** Whoever asks hears nothing; what was asked may be done all the same. */
  isSilent = false;
  readonly #loop: Loop;
  readonly #dice: Dice;
  readonly #lines = new Map<Page, Set<ClinicStore>>();

  constructor(loop: Loop, dice: Dice) {
    this.#loop = loop;
    this.#dice = dice;
  }

  /** Quick and open to everybody again. */
  mend(): void {
    this.slowMs = USUAL_MS;
    this.isSilent = false;
  }

  /** The page died: the server notices that its connections are gone. */
  gone(page: Page): void {
    for (const line of this.#lines.get(page) ?? []) void line.close();
    this.#lines.delete(page);
  }

  #underWayMs(): number {
    return this.#dice.whole(1, this.slowMs);
  }

  /** A line of a page. `device`: null for pairing. */
  open(page: Page, device: string | null): ClinicStore {
    const inner = this.hub.open(device);
    this.#lines.set(page, (this.#lines.get(page) ?? new Set()).add(inner));
    let line: StoreLine = 'connecting';
    inner.onLine((now) => {
      line = now;
    });
    const loop = this.#loop;
    const later = (run: () => void): void => void loop.after(this.#underWayMs(), run, page);
    const across = <T>(ask: () => StoreResult<T>): StoreResult<T> =>
      new Promise((resolve) => {
        const nothing = (): void => resolve(err(storeProblem('no-answer', '')));
        if (this.isSilent) {
          const arrives = this.#dice.chance(0.5);
          if (arrives) loop.after(this.#underWayMs(), () => void ask(), null);
          loop.after(PATIENCE_MS, nothing, page);
          return;
        }
        const asked = async (): Promise<void> => {
          const answer = await ask();
          later(() => (line === 'open' || !answer.ok ? resolve(answer) : nothing()));
        };
        loop.after(this.#underWayMs(), () => void asked(), null);
      });
    return {
      put: (message) => across(() => inner.put(message)),
      get: (at) => across(() => inner.get(at)),
      last: (stream) => across(() => inner.last(stream)),
      onStored: (listener) => inner.onStored((message) => later(() => listener(message))),
      onLine: (listener) => {
        let isFirst = true;
        const stop = inner.onLine((now) => {
          if (isFirst) listener(now);
          else loop.after(0, () => listener(now), page);
        });
        isFirst = false;
        return stop;
      },
      live: {
        publish: (subject, data) => {
          const sent = new Uint8Array(data);
          loop.after(this.#underWayMs(), () => inner.live.publish(subject, sent), null);
        },
        subscribe: (subject, listener) =>
          inner.live.subscribe(subject, (at, data) => later(() => listener(at, data))),
      },
      close: () => inner.close(),
    };
  }
}
