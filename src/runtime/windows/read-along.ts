/**
 * Follows a case that another window writes: the log from the journal's news, the picture as the
 * writing window sends it. Presses are not taken here.
 */
import * as v from 'valibot';
import type { Problem } from '../../base/problem.ts';
import { err, type Result } from '../../base/result.ts';
import type { ListDraft } from '../../engine/list-draft.ts';
import { type CaseLog, replay } from '../../engine/log.ts';
import type { SeenClock } from '../../engine/pen-types.ts';
import type { Stamp } from '../../engine/types.ts';
import { viewOf } from '../../engine/view.ts';
import type { View } from '../../engine/view-types.ts';
import { readOutside } from '../../protocol/read-outside.ts';
import type { CaseReading, JournalEntry, JournalNews } from '../../storage/journal-types.ts';
import { toldLog } from '../../words/told-protocol.ts';
import type { RunningCase } from '../app-state.ts';
import type { Clock, RehearsalSpeed } from '../device/clock.ts';
import type { TimerHost } from '../device/timer-host.ts';
import type { AppStore } from '../store.ts';
import type { Subscriber } from './second-screen.ts';

/** What the writing window sends to the others. */
export interface LivePicture {
  readonly caseId: string;
  readonly mode: 'patient' | 'rehearsal';
  /** How many entries the case has there. */
  readonly entries: number;
  readonly view: View;
  readonly now: Stamp;
  readonly speed: RehearsalSpeed;
  readonly by: string;
  readonly typed: string | null;
  readonly answers: ListDraft;
}

const pictureSchema = v.custom<LivePicture>(
  (value) =>
    v.is(
      v.object({
        caseId: v.string(),
        entries: v.number(),
        view: v.looseObject({}),
        now: v.looseObject({}),
      }),
      value,
    ),
  'a picture of a running case',
);

/** Reads a picture that came over the channel; only windows of the same app are heard there. */
export function parsePicture(value: unknown): Result<LivePicture, Problem> {
  const read = readOutside(pictureSchema, value, 'picture');
  return read.ok ? read : err(read.error[0]);
}

/** Clocks are read in whole ms, on both tablets. */
const ROUNDING_MS = 2;
/** Two clocks that differ by 200 parts in a million come apart by 12 ms in this time; longer nothing is carried on. */
const CARRIED_MS = 60_000;

/** The latest reading of the clock of another tablet. */
interface Seen {
  readonly stamp: Stamp;
  /** When it came, and the latest instant before which it was certainly not made; by this tablet's clock. */
  readonly cameAtMs: number;
  readonly notBeforeMs: number | null;
}

/** A case is read again for what a picture knows more of, at most this often, in ms. */
const READ_AGAIN_MS = 300;

interface AlongParts {
  readonly reading: CaseReading;
  readonly store: AppStore;
  readonly subscriber: Subscriber<LivePicture> | null;
  readonly clock: Clock;
  /** The case is another tablet's: its entries come by themselves, and its clock is not this one's. */
  readonly far: {
    readonly read: () => Promise<readonly JournalEntry[] | null>;
    readonly timers: TimerHost;
    /** Hands its pictures on to the windows of this tablet. */
    readonly relay: (picture: LivePicture) => void;
  } | null;
}

export class ReadAlong {
  readonly #caseId: string;
  readonly #parts: AlongParts;
  #records: readonly JournalEntry[] = [];
  #seen: Seen | null = null;
  #log: CaseLog;
  #isReading = false;
  #isStopped = false;
  readonly #forget: () => void;

  constructor(o: AlongParts) {
    this.#caseId = o.reading.caseId;
    this.#parts = o;
    this.#records = o.reading.entries;
    this.#log = toldLog(replay(this.#records));
    const forget = o.subscriber?.screen.subscribe(() => this.#draw());
    this.#forget = () => {
      forget?.();
      o.subscriber?.close();
    };
    this.#draw();
  }

  hear(news: JournalNews): void {
    if (news.type !== 'entries' || news.caseId !== this.#caseId) return;
    const fresh = news.entries.filter((e) => e.seq >= this.#records.length);
    // What another tablet pressed may lie on another end of the case than the one that is shown.
    const follows = fresh[0]?.prev === this.#records.at(-1)?.hash;
    if (this.#parts.far !== null && !follows) return;
    this.#note(fresh.at(-1)?.stamp);
    this.#take([...this.#records, ...fresh]);
  }

  get caseId(): string {
    return this.#caseId;
  }

  /** The latest reading of the other tablet's clock, with how long ago it was at least. */
  seenClock(): SeenClock | null {
    if (this.#seen === null) return null;
    const { stamp, cameAtMs, notBeforeMs } = this.#seen;
    const nowMs = this.#parts.clock.stamp().monoMs;
    const atLeastMs = Math.max(0, nowMs - cameAtMs - ROUNDING_MS);
    const atMostMs = notBeforeMs === null ? null : nowMs - notBeforeMs + ROUNDING_MS;
    return { stamp, atLeastMs, atMostMs };
  }

  /** @param askedAtMs the reading was made after that, by this tablet's clock; absent where nothing tells. */
  #note(stamp: Stamp | undefined, askedAtMs?: number): void {
    if (stamp === undefined || this.#parts.far === null) return;
    const before = this.#seen;
    const isSameRun = before?.stamp.runId === stamp.runId;
    const byMs = isSameRun ? stamp.monoMs - before.stamp.monoMs : 0;
    if (isSameRun && byMs <= 0) return;
    // Over a short while both clocks count alike: what bounded the reading before bounds this one.
    const isCarried = isSameRun && before.notBeforeMs !== null && byMs <= CARRIED_MS;
    const bounds = [
      ...(askedAtMs === undefined ? [] : [askedAtMs]),
      ...(isCarried && before.notBeforeMs !== null ? [before.notBeforeMs + byMs] : []),
    ];
    const notBeforeMs = bounds.length === 0 ? null : Math.max(...bounds);
    this.#seen = { stamp, cameAtMs: this.#parts.clock.stamp().monoMs, notBeforeMs };
  }

  stop(): void {
    this.#isStopped = true;
    this.#forget();
  }

  #take(records: readonly JournalEntry[]): void {
    if (this.#isStopped || records.length <= this.#records.length) return;
    this.#records = records;
    this.#log = toldLog(replay(records));
    this.#draw();
  }

  /** The picture knows of entries that have come meanwhile, or are about to. */
  async #readAgain(): Promise<void> {
    const { far } = this.#parts;
    if (far === null || this.#isReading) return;
    this.#isReading = true;
    const records = await far.read().catch(() => null);
    // Asked for again with the next picture, if there are still some to come.
    far.timers.after(READ_AGAIN_MS, () => {
      this.#isReading = false;
    });
    if (records !== null) this.#take(records);
  }

  #draw(): void {
    const { subscriber, store, clock, far } = this.#parts;
    const screen = subscriber?.screen.getState();
    const live =
      screen && screen.state !== 'waiting' && screen.picture.caseId === this.#caseId
        ? screen.picture
        : null;
    if (live !== null && live.entries > this.#records.length) void this.#readAgain();
    if (screen?.state === 'live') this.#note(live?.now, screen.askedAtMs);
    if (live !== null && screen?.state === 'live') far?.relay(live);
    const log = this.#log;
    const own = far === null ? clock.stamp() : (log.records.at(-1)?.stamp ?? clock.stamp());
    const now = live?.now ?? own;
    const running: RunningCase = {
      caseId: this.#caseId,
      log,
      view: live?.view ?? viewOf(log.state, now),
      now,
      pending: 0,
      unsaved: 0,
      undo: null,
      refusal: null,
      speed: live?.speed ?? 1,
      by: live?.by ?? '',
      typed: live?.typed ?? null,
      answers: live?.answers ?? {},
      isViewOnly: true,
      isStale: screen?.state !== 'live' || live === null,
    };
    const heard = screen?.state === 'live' ? { liveCaseId: screen.picture.caseId } : {};
    store.setState({ running, ...heard });
  }
}
