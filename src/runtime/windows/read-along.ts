/**
 * Follows a case that another window writes: the log from the journal's news, the picture as the
 * writing window sends it. Presses are not taken here.
 */
import * as v from 'valibot';
import type { Problem } from '../../base/problem.ts';
import { err, type Result } from '../../base/result.ts';
import type { ListDraft } from '../../engine/list-draft.ts';
import { replay } from '../../engine/log.ts';
import type { Recorded, Stamp } from '../../engine/types.ts';
import { viewOf } from '../../engine/view.ts';
import type { View } from '../../engine/view-types.ts';
import { readOutside } from '../../protocol/read-outside.ts';
import type { CaseReading, JournalNews } from '../../storage/journal-types.ts';
import { toldLog } from '../../words/told-protocol.ts';
import type { RunningCase } from '../app-state.ts';
import type { Clock, RehearsalSpeed } from '../device/clock.ts';
import type { AppStore } from '../store.ts';
import type { Subscriber } from './second-screen.ts';

/** What the writing window sends to the others. */
export interface LivePicture {
  readonly caseId: string;
  readonly view: View;
  readonly now: Stamp;
  readonly speed: RehearsalSpeed;
  readonly by: string;
  readonly typed: string | null;
  readonly answers: ListDraft;
}

const pictureSchema = v.custom<LivePicture>(
  (value) =>
    v.is(v.object({ caseId: v.string(), view: v.looseObject({}), now: v.looseObject({}) }), value),
  'a picture of a running case',
);

/** Reads a picture that came over the channel; only windows of the same app are heard there. */
export function parsePicture(value: unknown): Result<LivePicture, Problem> {
  const read = readOutside(pictureSchema, value, 'picture');
  return read.ok ? read : err(read.error[0]);
}

export class ReadAlong {
  readonly #caseId: string;
  readonly #parts: { store: AppStore; subscriber: Subscriber<LivePicture> | null; clock: Clock };
  #records: readonly Recorded[];
  readonly #forget: () => void;

  constructor(o: {
    readonly reading: CaseReading;
    readonly store: AppStore;
    readonly subscriber: Subscriber<LivePicture> | null;
    readonly clock: Clock;
  }) {
    this.#caseId = o.reading.caseId;
    this.#parts = o;
    this.#records = o.reading.entries;
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
    this.#records = [...this.#records, ...fresh];
    this.#draw();
  }

  stop(): void {
    this.#forget();
  }

  #draw(): void {
    const log = toldLog(replay(this.#records));
    const screen = this.#parts.subscriber?.screen.getState();
    const live =
      screen && screen.state !== 'waiting' && screen.picture.caseId === this.#caseId
        ? screen.picture
        : null;
    const now = live?.now ?? this.#parts.clock.stamp();
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
    this.#parts.store.setState({ running, ...heard });
  }
}
