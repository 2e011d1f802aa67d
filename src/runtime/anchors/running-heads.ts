/**
 * Heads of the case that runs here: while it runs, at most every 30 s after something was stored, and once it is
 * closed, a head goes out to the other tablets. Only the last of a case is kept anywhere but in the store. A head
 * goes once the store has every entry that it names, and nothing of it lies on the way of a press.
 */
import { headStatement } from '../../export/anchor.ts';
import type { JournalNews } from '../../storage/journal-types.ts';
import { type SigningCrypto, signText, type TabletKeys } from '../../storage/signatures.ts';
import type { RunningCase } from '../app-state.ts';
import type { TimerHost } from '../device/timer-host.ts';
import { asFact, type Fact } from '../facts/fact.ts';
import { HEAD } from './head-facts.ts';

/** A design choice of this project. */
export const HEAD_EVERY_MS = 30_000;
/** What waits for the store is looked at again after this, in ms. */
const AGAIN_MS = 2000;

export interface RunningHeadsParts {
  readonly timers: Pick<TimerHost, 'after'>;
  readonly crypto: SigningCrypto;
  readonly keys: TabletKeys;
  /** Under which id this tablet writes facts. */
  readonly tablet: () => string;
  readonly running: () => RunningCase | null;
  readonly nowWallMs: () => number;
  readonly nowMs: () => number;
  /** The store has everything of this tablet. */
  readonly isShared: () => boolean;
  readonly send: (fact: Fact) => Promise<void>;
  /** A head is in the store. */
  readonly onLeft: (fact: Fact) => void;
}

interface Head {
  readonly caseId: string;
  readonly entries: number;
  readonly head: string;
}

/** Whether the case that runs here is one of a patient, and written here. */
function isShared(running: RunningCase | null, caseId: string): boolean {
  if (running?.caseId !== caseId || running.isViewOnly) return false;
  return running.log.state.opened.mode === 'patient';
}

export class RunningHeads {
  readonly #parts: RunningHeadsParts;
  /** What was stored last and not yet told. */
  #next: Head | null = null;
  #sent: { readonly fact: Fact; readonly caseId: string } | null = null;
  #isOnWay = false;
  #lastMs = Number.NEGATIVE_INFINITY;
  #dueMs = 0;
  #callOff: (() => void) | null = null;
  #isStopped = false;

  constructor(parts: RunningHeadsParts) {
    this.#parts = parts;
  }

  /** Something was stored in this window. */
  hear(news: JournalNews): void {
    if (news.type !== 'entries') return;
    const last = news.entries.at(-1);
    if (last === undefined || !isShared(this.#parts.running(), news.caseId)) return;
    this.#next = { caseId: news.caseId, entries: last.seq + 1, head: last.hash };
    const isClosed = news.entries.some(({ event }) => event.type === 'case-closed');
    this.#dueMs = isClosed ? this.#parts.nowMs() : this.#lastMs + HEAD_EVERY_MS;
    this.#wait();
  }

  stop(): void {
    this.#isStopped = true;
    this.#callOff?.();
  }

  /** Until the next head is due, or to see whether the last has left. */
  #wait(): void {
    const dueMs = Math.max(0, this.#dueMs - this.#parts.nowMs());
    const waits = [...(this.#next === null ? [] : [dueMs]), ...(this.#isOnWay ? [AGAIN_MS] : [])];
    if (waits.length > 0) this.#in(Math.min(...waits));
  }

  #in(ms: number): void {
    this.#callOff?.();
    this.#callOff = this.#parts.timers.after(ms, () => void this.#turn().catch(() => undefined));
  }

  async #turn(): Promise<void> {
    if (this.#isStopped) return;
    if (!this.#parts.isShared()) return this.#in(AGAIN_MS);
    const sent = this.#sent;
    if (this.#isOnWay && sent !== null) {
      this.#isOnWay = false;
      this.#parts.onLeft(sent.fact);
    }
    if (this.#next !== null && this.#parts.nowMs() >= this.#dueMs) await this.#send(this.#next);
    this.#wait();
  }

  async #send(next: Head): Promise<void> {
    this.#next = null;
    this.#lastMs = this.#parts.nowMs();
    const fact = await this.#made(next);
    this.#sent = { fact, caseId: next.caseId };
    await this.#parts.send(fact);
    this.#isOnWay = true;
  }

  async #made({ caseId, entries, head }: Head): Promise<Fact> {
    const { crypto, keys, tablet, nowWallMs } = this.#parts;
    const signature = await signText(crypto, keys, headStatement({ caseId, entries, head }));
    const signed = { publicKey: keys.publicKey, signature };
    const before = this.#sent?.caseId === caseId ? [this.#sent.fact.id] : [];
    return asFact({
      kind: HEAD,
      item: caseId,
      said: { type: 'head', entries, head, signed, running: true },
      after: before,
      tablet: tablet(),
      by: null,
      atWallMs: nowWallMs(),
    });
  }
}
