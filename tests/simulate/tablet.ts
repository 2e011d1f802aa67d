/**
 * A tablet: its two clocks, its database, its files and the pages that are open on it. True time is
 * the world's; what the tablet's clocks say of it is another matter.
 */
import { IDBFactory } from 'fake-indexeddb';
import type { Dice } from './dice.ts';
import type { Loop, Owner } from './loop.ts';

/** Where the wall clocks begin: Monday 30 November 2026, 09:00 UTC. */
export const START_WALL_MS = Date.UTC(2026, 10, 30, 9);

interface Channel {
  readonly name: string;
  readonly page: Owner | null;
  hear(data: unknown): void;
}

/** What waited for slow files is written after so long. */
const GOT_OVER_MS = 10_000;

const NO_SLEEP = { fromMs: 0, untilMs: 0 };

export class Tablet implements Owner {
  readonly isDead = false;
  readonly name: string;
  readonly loop: Loop;
  readonly dice: Dice;
  idb = new IDBFactory();
  /** What the files hold. */
  readonly files = new Map<string, Uint8Array>();
  /** How much of each file has reached the disk, where flushing lied. */
  readonly flushedBytes = new Map<string, number>();
  readonly channels = new Set<Channel>();
  lock: { readonly page: Owner | null; rob(): void } | null = null;
  zone = 'Europe/Berlin';
  heldUntilMs = 0;
  /** What every answer of the database and of the files takes. */
  databaseMs = 0;
  filesMs = 0;
  /** When something of it went wrong last, or was right again. */
  troubledAtMs = Number.NEGATIVE_INFINITY;
  isDatabaseFull = false;
  filesFail: 'no' | 'lost' | 'full' = 'no';
  isFlushLying = false;
  losesMessages = false;
  /** Whether the monotonic clock counts while the tablet sleeps; platforms differ. */
  readonly countsSleep: boolean;
  /** Rate of the monotonic clock against true time: a quartz, within 50 ppm. */
  readonly monoRate: number;
  #wallAheadMs = 0;
  #wallRate = 1;
  #wallSinceMs = 0;
  #sleptMs = 0;
  #sleep = NO_SLEEP;
  #databaseFreeAtMs = 0;

  constructor(o: { readonly name: string; readonly loop: Loop; readonly dice: Dice }) {
    this.name = o.name;
    this.loop = o.loop;
    this.dice = o.dice;
    this.countsSleep = o.dice.chance(0.3);
    this.monoRate = 1 + o.dice.whole(-50, 50) * 1e-6;
  }

  wallMs(): number {
    const sinceMs = this.loop.nowMs - this.#wallSinceMs;
    return START_WALL_MS + this.#wallSinceMs + this.#wallAheadMs + sinceMs * this.#wallRate;
  }

  /** Counts from the start of the tablet; stands still in its sleep where the platform's does. */
  monoMs(): number {
    const { nowMs } = this.loop;
    const { fromMs, untilMs } = this.#sleep;
    if (nowMs >= untilMs) {
      this.#sleptMs += untilMs - fromMs;
      this.#sleep = NO_SLEEP;
    }
    const awakeMs = nowMs < untilMs ? fromMs : nowMs;
    return (awakeMs - this.#sleptMs) * this.monoRate;
  }

  /** When its wall clock was set back, and how far. */
  readonly setBack: { readonly atMs: number; readonly byMs: number }[] = [];

  moveWall(byMs: number): void {
    if (byMs < 0) this.setBack.push({ atMs: this.loop.nowMs, byMs: -byMs });
    this.#mark();
    this.#wallAheadMs += byMs;
  }

  /** The wall clock runs fast or slow from now on, as while the network puts it right. */
  slewWall(ppm: number): void {
    this.#mark();
    this.#wallRate = 1 + ppm * 1e-6;
  }

  #mark(): void {
    const { nowMs } = this.loop;
    this.#wallAheadMs += (nowMs - this.#wallSinceMs) * (this.#wallRate - 1);
    this.#wallSinceMs = nowMs;
  }

  /** Nothing runs until it wakes. */
  sleep(forMs: number): void {
    this.heldUntilMs = this.loop.nowMs + forMs;
    const { nowMs } = this.loop;
    this.monoMs();
    if (!this.countsSleep) this.#sleep = { fromMs: nowMs, untilMs: nowMs + forMs };
  }

  /** Database and files answer at once, and nothing waits for them any more. */
  get isPrompt(): boolean {
    const { filesFail, isDatabaseFull, databaseMs, filesMs, loop } = this;
    const isQuick = databaseMs === 0 && filesMs === 0 && filesFail === 'no' && !isDatabaseFull;
    return isQuick && loop.nowMs - this.troubledAtMs > GOT_OVER_MS;
  }

  /** The database answers in the order in which it was asked. */
  answer(run: () => void): void {
    const { loop } = this;
    this.#databaseFreeAtMs = Math.max(this.#databaseFreeAtMs, loop.nowMs + this.databaseMs);
    loop.after(this.#databaseFreeAtMs - loop.nowMs, run, this);
  }
}
