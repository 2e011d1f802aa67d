/**
 * One writer on a device. An exclusive Web Lock says who it is; it goes away with its page, so a
 * crash frees it. Another tab asks the owner to hand over and takes over by force only when the
 * owner has been silent: the code of a robbed owner goes on running, and then only the epoch in the
 * journal stands between its late writes and the record.
 */
import * as v from 'valibot';
import { parsedOr } from '../protocol/read-outside.ts';

export const WRITER_LOCK = 'lutewatch-writer';
/** An owner that has not even heard the request for this long counts as gone. */
export const SILENCE_MS = 5000;
/** An owner that has heard it may ask its people first. */
export const DECISION_MS = 30_000;

export type LockState = 'none' | 'held' | 'lost';
type HandoverOutcome = 'held' | 'refused' | 'silent';

interface WriterLockParts {
  readonly locks: Pick<LockManager, 'request'>;
  readonly channel: Pick<BroadcastChannel, 'postMessage' | 'addEventListener' | 'close'>;
  /** Names this tab among the tabs of the device. */
  readonly tabId: string;
  /**
   * Asked of the owner: may another tab write from now on? Finish writing before answering true.
   */
  readonly onAsked: () => Promise<boolean>;
  readonly onState: (state: LockState) => void;
}

type Call = 'asked' | 'heard' | 'refused' | 'released';
const callSchema = v.object({
  call: v.picklist(['asked', 'heard', 'refused', 'released']),
  from: v.optional(v.unknown()),
});

export class WriterLock {
  readonly #parts: WriterLockParts;
  readonly #answers = new Set<(call: Call) => void>();
  #release: (() => void) | null = null;
  #state: LockState = 'none';
  #mayForce = false;

  constructor(parts: WriterLockParts) {
    this.#parts = parts;
    parts.channel.addEventListener('message', ({ data }: MessageEvent<unknown>) =>
      this.#hear(data),
    );
  }

  get state(): LockState {
    return this.#state;
  }

  /** Takes the lock when nobody has it; false otherwise. */
  acquire(): Promise<boolean> {
    return this.#request({ ifAvailable: true });
  }

  /**
   * Asks the owner to let go. `held`: this tab writes now. `silent`: the owner did not answer, and
   * {@link takeOver} is open until somebody answers again.
   */
  async requestHandover(): Promise<HandoverOutcome> {
    if (await this.acquire()) return 'held';
    const answer = await this.#ask();
    if (answer === 'silent') {
      this.#mayForce = true;
      return (await this.acquire()) ? 'held' : 'silent';
    }
    if (answer === 'refused') return 'refused';
    return (await this.acquire()) ? 'held' : 'refused';
  }

  /** Takes the lock from a silent owner. False unless {@link requestHandover} found it silent. */
  async takeOver(): Promise<boolean> {
    if (!this.#mayForce) return false;
    this.#mayForce = false;
    return this.#request({ steal: true });
  }

  /** Lets go, if held. */
  release(): void {
    this.#release?.();
  }

  close(): void {
    this.release();
    this.#answers.clear();
    this.#parts.channel.close();
  }

  #request(options: LockOptions): Promise<boolean> {
    if (this.#state === 'held') return Promise.resolve(true);
    return new Promise((resolve) => {
      const held = this.#parts.locks.request(WRITER_LOCK, options, (lock) => {
        if (lock === null) {
          resolve(false);
          return undefined;
        }
        return new Promise<void>((release) => {
          this.#release = release;
          this.#setState('held');
          resolve(true);
        });
      });
      held.then(
        () => this.#end('none'),
        () => {
          // Rejected: stolen while held, or the lock manager refuses this page altogether.
          this.#end('lost');
          resolve(false);
        },
      );
    });
  }

  #end(state: LockState): void {
    const wasHeld = this.#state === 'held';
    this.#release = null;
    if (!wasHeld) return;
    this.#setState(state);
    this.#say('released');
  }

  #setState(state: LockState): void {
    this.#state = state;
    this.#parts.onState(state);
  }

  #say(call: Call): void {
    this.#parts.channel.postMessage({ call, from: this.#parts.tabId });
  }

  #hear(data: unknown): void {
    const said = parsedOr(callSchema, data);
    if (said === null || said.from === this.#parts.tabId) return;
    const { call } = said;
    if (call === 'asked') void this.#answerRequest();
    else {
      this.#mayForce = false;
      for (const listener of this.#answers) listener(call);
    }
  }

  async #answerRequest(): Promise<void> {
    if (this.#state !== 'held') return;
    this.#say('heard');
    const mayHandOver = await this.#parts.onAsked().catch(() => false);
    if (mayHandOver) this.release();
    else this.#say('refused');
  }

  #ask(): Promise<'released' | 'refused' | 'silent'> {
    return new Promise((resolve) => {
      let timer = setTimeout(() => settle('silent'), SILENCE_MS);
      const settle = (outcome: 'released' | 'refused' | 'silent'): void => {
        clearTimeout(timer);
        this.#answers.delete(listener);
        resolve(outcome);
      };
      const listener = (call: Call): void => {
        if (call === 'released' || call === 'refused') settle(call);
        else if (call === 'heard') {
          clearTimeout(timer);
          timer = setTimeout(() => settle('silent'), DECISION_MS);
        }
      };
      this.#answers.add(listener);
      this.#say('asked');
    });
  }
}
