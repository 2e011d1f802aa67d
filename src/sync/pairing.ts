/**
 * The two ends of a pairing, over any line that carries bytes: the new tablet, and the end that lets it in (the
 * lead's tablet, or the terminal beside the server while no tablet has founded the clinic). Whatever is sent may
 * be lost or come twice: each end says its word again until the other one goes on.
 */

import { assert, present } from '../base/assert.ts';
import { oneByOne } from '../base/one-by-one.ts';
import { hex, random } from './bytes.ts';
import { type PairCode, type PairLine, type PairSide, sixDigits } from './pair-code.ts';
import {
  type Answer,
  commitOf,
  type EarlyMessage,
  type Founding,
  type JoinRequest,
  keyOfCode,
  type LateMessage,
  openPair,
  type PairKey,
  type Reveal,
  sealPair,
  sessionKey,
  transcriptOf,
  type Welcome,
} from './pair-messages.ts';
import { makeSealingKeys, publicSealingKey } from './sealed-for.ts';

export const CODE_VALID_MS = 10 * 60_000;
/** Nothing answers a wrong code: after so long it is told. */
export const NO_ANSWER_MS = 15_000;
const AGAIN_MS = 1_000;
/** How long an end still answers after its last word. */
const LINGER_MS = 10_000;
const KEPT_WITHIN_MS = 60_000;
const NONCE_BYTES = 16;

export type PairProblemCode =
  /** Wrong code, or nobody waits for it (any more). */
  | 'no-answer'
  | 'code-expired'
  /** Two tablets, or two that let in, used one code. Somebody else has it. */
  | 'two-tablets'
  /** The keys are not those that were committed to, or no keys. */
  | 'not-as-committed'
  /** Stopped on this side. */
  | 'stopped'
  | 'stopped-there'
  /** The end that lets in will not: a tablet of this id is there already. */
  | 'not-let-in';

export interface PairEndState {
  readonly step: 'waiting' | 'compare' | 'done' | 'failed';
  /** Six digits that both screens must show; null before. */
  readonly digits: string | null;
  readonly problem: PairProblemCode | null;
  /** When the code no longer counts, ms since 1970. */
  readonly untilWallMs: number;
}

interface PairParts {
  readonly crypto: Crypto;
  readonly line: PairLine;
  readonly timers: {
    /** Calls `run` once after so many ms. Returns the way to call it off. */
    later(ms: number, run: () => void): () => void;
  };
  readonly code: PairCode;
  /** The wall clock, ms since 1970. */
  readonly nowWallMs: number;
}

interface OneTime {
  readonly keys: CryptoKeyPair;
  readonly key: string;
  readonly nonce: string;
}

async function oneTime(crypto: Crypto): Promise<OneTime> {
  const keys = await makeSealingKeys(crypto);
  const key = await publicSealingKey(crypto, keys);
  return { keys, key, nonce: hex(random(crypto, NONCE_BYTES)) };
}

/** What both ends do alike: one message after the other, a word again and again, an end of it. */
abstract class PairEnd {
  protected readonly parts: PairParts;
  readonly #side: PairSide;
  readonly #listeners = new Set<(state: PairEndState) => void>();
  #state: PairEndState;
  #session: PairKey | null = null;
  readonly #turns = oneByOne();
  #callOffAgain: () => void = () => undefined;
  readonly #toEnd: (() => void)[] = [];
  #isClosed = false;

  constructor(parts: PairParts, side: PairSide) {
    this.parts = parts;
    this.#side = side;
    const untilWallMs = parts.nowWallMs + CODE_VALID_MS;
    this.#state = { step: 'waiting', digits: null, problem: null, untilWallMs };
    this.#toEnd.push(
      parts.line.onMessage((data) => {
        void this.inTurn(() => this.#hear(data));
      }),
      parts.timers.later(CODE_VALID_MS, () => this.expire()),
    );
  }

  get state(): PairEndState {
    return this.#state;
  }

  /** Tells the state now and at each change. Returns the way to stop. */
  onState(listener: (state: PairEndState) => void): () => void {
    this.#listeners.add(listener);
    listener(this.#state);
    return () => this.#listeners.delete(listener);
  }

  /** Ends it on this side, and tells the other. What is done stays done. */
  stop(): void {
    if (this.#isOver()) return;
    if (this.#state.step === 'done') this.close();
    else void this.inTurn(() => this.fail('stopped', { isTold: true }));
  }

  protected abstract hearEarly(message: EarlyMessage): Promise<void>;
  protected abstract hearLate(message: LateMessage): Promise<void>;
  /** The code no longer counts. */
  protected abstract expire(): void;

  #isOver(): boolean {
    return this.#isClosed || this.#state.step === 'failed';
  }

  protected set(change: Partial<PairEndState>): void {
    this.#state = { ...this.#state, ...change };
    for (const listener of this.#listeners) listener(this.#state);
  }

  /** One at a time: what comes waits until what came before is done with. */
  protected inTurn(run: () => Promise<void>): Promise<void> {
    return this.#turns(async () => {
      if (!this.#isOver()) await run();
    });
  }

  async #hear(data: Parameters<PairLine['send']>[0]): Promise<void> {
    const { crypto, code } = this.parts;
    const side = this.#side === 'new' ? 'lead' : 'new';
    const keys = [keyOfCode(code), ...(this.#session === null ? [] : [this.#session])];
    const heard = await openPair(crypto, { id: code.id, side, keys, data });
    if (heard === null) return;
    if (heard.part === 'session') return this.hearLate(heard.message);
    if (heard.message.type !== 'stop') return this.hearEarly(heard.message);
    // Once the digits were confirmed only what the two one-time keys seal counts.
    if (this.#state.step !== 'done') return this.fail('stopped-there');
  }

  /** Says a word once. */
  protected async say(message: EarlyMessage | LateMessage): Promise<void> {
    const { crypto, code, line } = this.parts;
    const isLate = ['welcome', 'founding', 'done', 'bye'].includes(message.type);
    const by = isLate ? present(this.#session, 'the agreed key') : keyOfCode(code);
    line.send(await sealPair(crypto, { id: code.id, side: this.#side, by, message }));
  }

  /** Says a word now and again, until another takes its place. */
  protected async keepSaying(message: EarlyMessage | LateMessage): Promise<void> {
    this.fallSilent();
    await this.say(message);
    if (this.#isOver()) return;
    this.#callOffAgain = this.parts.timers.later(AGAIN_MS, () => {
      void this.keepSaying(message);
    });
  }

  protected fallSilent(): void {
    this.#callOffAgain();
    this.#callOffAgain = () => undefined;
  }

  /** Both one-time keys are known: what follows is sealed by what they agree on. */
  protected async agree(o: {
    readonly reveal: Reveal;
    readonly answer: Answer;
    readonly own: OneTime;
  }): Promise<boolean> {
    const { crypto, code } = this.parts;
    const transcript = transcriptOf(code.id, o);
    const other = this.#side === 'new' ? o.answer.key : o.reveal.key;
    const own = o.own.keys.privateKey;
    this.#session = await sessionKey(crypto, { code, own, other, transcript });
    if (this.#session === null) return false;
    this.set({ step: 'compare', digits: sixDigits(code, transcript) });
    return true;
  }

  protected async fail(problem: PairProblemCode, o?: { readonly isTold: boolean }): Promise<void> {
    if (this.#isOver()) return;
    this.close();
    // The other end first: whoever hears of the failure may close the line.
    if (o?.isTold === true) await this.say({ type: 'stop' });
    this.set({ step: 'failed', problem });
  }

  /** Answers for a while longer, then no more. */
  protected linger(): void {
    this.#toEnd.push(this.parts.timers.later(LINGER_MS, () => this.close()));
  }

  protected later(ms: number, run: () => void): () => void {
    const callOff = this.parts.timers.later(ms, run);
    this.#toEnd.push(callOff);
    return callOff;
  }

  protected close(): void {
    this.#isClosed = true;
    this.fallSilent();
    for (const end of this.#toEnd.splice(0)) end();
  }
}

/** The end that lets a tablet in. */
export class LeadPairing extends PairEnd {
  readonly #accept: (request: JoinRequest) => Promise<Welcome | Founding | null>;
  #own: { readonly answer: Answer; readonly oneTime: OneTime } | null = null;
  #request: JoinRequest | null = null;
  #isConfirmed = false;

  /**
   * `accept` is asked once, after `confirm`: what the tablet is given. Null: it is not let in. A statement that
   * it made is published once the state is `done`, not before: the tablet may never have got the welcome.
   */
  constructor(
    parts: PairParts,
    o: { readonly accept: (request: JoinRequest) => Promise<Welcome | Founding | null> },
  ) {
    super(parts, 'lead');
    this.#accept = o.accept;
  }

  /** What the new tablet says of itself; null before the digits are shown. */
  get request(): JoinRequest | null {
    return this.#request;
  }

  /** A person saw the same digits on both screens. */
  confirm(): Promise<void> {
    return this.inTurn(async () => {
      if (this.state.step !== 'compare' || this.#isConfirmed) return;
      this.#isConfirmed = true;
      const given = await this.#accept(present(this.#request, 'the request of a tablet'));
      if (given === null) return this.fail('not-let-in', { isTold: true });
      await this.keepSaying(given);
      // Who founds a clinic chooses a passphrase first, which takes as long as it takes.
      if (given.type === 'welcome') {
        this.later(KEPT_WITHIN_MS, () => {
          if (this.state.step !== 'done') void this.inTurn(() => this.fail('no-answer'));
        });
      }
    });
  }

  protected override expire(): void {
    if (!this.#isConfirmed) void this.inTurn(() => this.fail('code-expired', { isTold: true }));
  }

  protected override async hearEarly(message: EarlyMessage): Promise<void> {
    if (message.type === 'hello') return this.#hearHello(message.commit);
    if (message.type === 'reveal') return this.#hearReveal(message);
  }

  async #hearHello(commit: string): Promise<void> {
    if (this.state.step === 'done') return;
    if (this.#own === null) {
      const own = await oneTime(this.parts.crypto);
      const answer: Answer = { type: 'answer', commit, key: own.key, nonce: own.nonce };
      this.#own = { answer, oneTime: own };
    }
    if (this.#own.answer.commit !== commit) return this.fail('two-tablets', { isTold: true });
    await this.say(this.#own.answer);
  }

  async #hearReveal(reveal: Reveal): Promise<void> {
    if (this.#own === null || this.#request !== null) return;
    const { answer, oneTime: own } = this.#own;
    const isAsCommitted = commitOf(this.parts.code.id, reveal) === answer.commit;
    if (isAsCommitted) this.#request = reveal.request;
    if (!isAsCommitted || !(await this.agree({ reveal, answer, own }))) {
      await this.fail('not-as-committed', { isTold: true });
    }
  }

  protected override async hearLate(message: LateMessage): Promise<void> {
    if (message.type !== 'done' || !this.#isConfirmed) return;
    this.fallSilent();
    await this.say({ type: 'bye' });
    if (this.state.step === 'done') return;
    this.set({ step: 'done' });
    this.linger();
  }
}

/** The end of the new tablet. */
export class JoinPairing extends PairEnd {
  readonly #request: JoinRequest;
  #own: { readonly reveal: Reveal; readonly oneTime: OneTime; readonly commit: string } | null =
    null;
  #answer: Answer | null = null;
  #given: Welcome | Founding | null = null;
  #onBye: (() => void) | null = null;

  /** Begins at once. `request`: public halves of new keys, and a new id. */
  constructor(parts: PairParts, request: JoinRequest) {
    super(parts, 'new');
    this.#request = request;
    void this.inTurn(() => this.#begin());
    this.later(NO_ANSWER_MS, () => {
      if (this.#answer === null) void this.inTurn(() => this.fail('no-answer'));
    });
  }

  /** What the tablet was given; null before the state is `done`. */
  get given(): Welcome | Founding | null {
    return this.#given;
  }

  async #begin(): Promise<void> {
    const { crypto, code } = this.parts;
    const own = await oneTime(crypto);
    const { key, nonce } = own;
    const reveal: Reveal = { type: 'reveal', request: this.#request, key, nonce };
    const commit = commitOf(code.id, reveal);
    this.#own = { reveal, oneTime: own, commit };
    await this.keepSaying({ type: 'hello', commit });
  }

  protected override expire(): void {
    if (this.#given === null) void this.inTurn(() => this.fail('code-expired'));
  }

  protected override async hearEarly(message: EarlyMessage): Promise<void> {
    if (message.type !== 'answer' || this.#own === null) return;
    const { reveal, oneTime: own, commit } = this.#own;
    if (message.commit !== commit) return;
    if (this.#answer !== null) {
      const isSame = message.key === this.#answer.key && message.nonce === this.#answer.nonce;
      if (!isSame) await this.fail('two-tablets', { isTold: true });
      return;
    }
    this.#answer = message;
    if (!(await this.agree({ reveal, answer: message, own }))) {
      return this.fail('not-as-committed', { isTold: true });
    }
    await this.keepSaying(reveal);
  }

  protected override async hearLate(message: LateMessage): Promise<void> {
    if (message.type === 'bye') {
      this.#onBye?.();
      return;
    }
    if (message.type === 'done' || this.#given !== null) return;
    this.#given = message;
    this.fallSilent();
    this.set({ step: 'done' });
  }

  /**
   * The tablet keeps what it was given: the other end is told, and answers. Resolves with false where it did not
   * answer in time; what was kept counts all the same.
   */
  async finish(): Promise<boolean> {
    assert(this.#given !== null, 'something that was given');
    const told = new Promise<boolean>((resolve) => {
      this.#onBye = () => resolve(true);
      this.later(LINGER_MS, () => resolve(false));
    });
    await this.inTurn(() => this.keepSaying({ type: 'done' }));
    const isTold = await told;
    this.close();
    return isTold;
  }
}
