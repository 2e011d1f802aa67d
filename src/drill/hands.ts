/**
 * Hands that do exactly what is offered, at the pace of the protocol, and answer what is seen at once with
 * what fits it. They play a case for a drill: where its spans lie, and what nobody could have done better.
 */
import { monoMs, wallMs } from '../base/units.ts';
import type { Command } from '../engine/commands.ts';
import { decide, decideOpening } from '../engine/decide.ts';
import { layoutOf } from '../engine/layout.ts';
import { type CaseLog, extend, recordPress } from '../engine/log.ts';
import type { TellReadBack } from '../engine/read-back.ts';
import type { RunPlan } from '../engine/run-plan-types.ts';
import type { CaseState, Stamp } from '../engine/types.ts';
import { viewOf } from '../engine/view.ts';
import type { View } from '../engine/view-types.ts';
import { nextMove } from '../plan/follow.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { Protocol } from '../protocol/types.ts';

/** The case that is drilled, with the plan that the app opens it with. */
export interface DrillCase {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly protocolHash: string;
  readonly plan: RunPlan;
  /** Puts into words what a press records as read aloud. */
  readonly tell: TellReadBack;
}

/** The case of a drill that was opened. */
export function drilledIn(
  { spec, protocol, protocolHash, plan }: CaseState['opened'],
  tell: TellReadBack,
): DrillCase {
  return { spec, protocol, protocolHash, plan, tell };
}

/** Name of the browser run in which the hands press; a page gives the entries its own. */
export const DRILL_RUN = 'drill';

/** Times of the tablet begin so late that none lies before 1970, whatever is moved. */
const START_WALL_MS = Date.UTC(2026, 0, 5, 8, 0, 0);

/** A case does not take so many presses: one that does is a fault. */
const PRESSES_MAX = 5000;

export class Hands {
  /** Since the opening, in ms. */
  atMs = 0;
  log: CaseLog;
  presses = 0;
  /** What the hands are at, and since when. */
  #inHand: { readonly id: string; readonly sinceMs: number } | null = null;
  readonly #by: string | null;
  readonly #tell: TellReadBack;

  /** @throws Error where the case cannot be opened with this plan. */
  constructor({ spec, protocol, protocolHash, plan, tell }: DrillCase) {
    this.#tell = tell;
    this.#by = spec.people[0]?.id ?? null;
    const opening = { mode: 'rehearsal', approval: null } as const;
    const opened = decideOpening({ ...opening, spec, protocol, protocolHash, plan });
    if (!opened.ok) throw new Error(opened.error.code);
    const batch = { log: null, events: opened.value, stamp: this.stamp, by: this.#by };
    this.log = extend(null, recordPress(batch));
    this.do({ do: 'note-tones', heard: true });
    this.presses = 0;
  }

  get stamp(): Stamp {
    const wall = wallMs(START_WALL_MS + this.atMs);
    return { wallMs: wall, monoMs: monoMs(this.atMs), runId: DRILL_RUN };
  }

  get view(): View {
    return viewOf(this.log.state, this.stamp);
  }

  /** Records what is asked for; false where the engine refuses it. */
  do(command: Command): boolean {
    const { log, stamp } = this;
    const decided = decide(log, command, stamp, this.#tell);
    if (!decided.ok) return false;
    this.log = extend(log, recordPress({ log, events: decided.value, stamp, by: this.#by }));
    this.presses += 1;
    return true;
  }

  /**
   * Waits, works and presses what is offered, if that is done by `untilMs`; else only the time passes, and what
   * the hands are at goes on at the next call.
   * @returns `pressed`, `waited` when `untilMs` came first, `over` when nothing is offered any more.
   */
  next(untilMs = Number.POSITIVE_INFINITY): 'pressed' | 'waited' | 'over' {
    for (;;) {
      const layout = layoutOf(this.log.state);
      const move = nextMove(this.view, layout, { paceFactor: 1 });
      if (move === null || this.presses > PRESSES_MAX) return 'over';
      const { offer, waitMs, busyMs } = move;
      if (waitMs > 0) {
        const dueMs = this.atMs + Math.ceil(waitMs);
        this.atMs = Math.min(dueMs, untilMs);
        if (dueMs > untilMs) return 'waited';
        // After a wait something else may be more urgent.
        continue;
      }
      if (this.#inHand?.id !== offer.id) this.#inHand = { id: offer.id, sinceMs: this.atMs };
      const pressMs = Math.max(this.atMs, this.#inHand.sinceMs + Math.ceil(busyMs));
      this.atMs = Math.min(pressMs, untilMs);
      if (pressMs > untilMs) return 'waited';
      this.#inHand = null;
      return this.do({ do: 'press', offer }) ? 'pressed' : 'over';
    }
  }

  /** The hands are kept away: what they were at takes so much longer. */
  away(ms: number): void {
    this.atMs += ms;
    if (this.#inHand !== null) {
      this.#inHand = { ...this.#inHand, sinceMs: this.#inHand.sinceMs + ms };
    }
  }
}
