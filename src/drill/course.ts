/**
 * A drill as its journal tells it: what was drawn, where people took over, which cards stand now, when it is over.
 * Pure; instants are ms since the opening.
 */
import { place } from '../engine/axis.ts';
import type { Drilled } from '../engine/drilled-types.ts';
import { type CaseLog, replay } from '../engine/log.ts';
import type { CaseEvent, CaseState, Stamp } from '../engine/types.ts';
import { cardsShown, drillEndMs, nextCardInMs, type Stretch, stretchesOf } from './cards.ts';
import { drillPlan } from './draw.ts';
import type { DrillPlan, ShownCard } from './drill-types.ts';
import type { DrillCase } from './hands.ts';

/** What a drill that is taken up again lasts: after the card came, and if it does not come. */
const AGAIN_MS = 120_000;
/** It is over so long after the mishap was answered. */
const ANSWERED_MS = 15_000;

export interface DrillCourse {
  readonly drill: Drilled;
  readonly drilled: DrillCase;
  /** What was drawn; of one that is taken up again, no card that comes after the one it is for. */
  readonly plan: DrillPlan;
  /** All that was drawn. */
  readonly drawn: DrillPlan;
}

/** When something is, on the axis of a case as far as it is known. */
export const nowOn = ({ anchor }: CaseState, stamp: Stamp): number => place(anchor, stamp).at.loMs;

/** What the app notes by itself: nobody watched for a while, or it was found whether tones are heard. */
const NOTED: ReadonlySet<CaseEvent['type']> = new Set(['gap-found', 'tones-heard']);

/** When people last pressed anything, on the axis of the case; when it was opened where they have not. */
export function lastPressMs({ state, records }: CaseLog): number {
  const pressed = records.findLast(({ event }) => !NOTED.has(event.type));
  return nowOn(state, pressed?.stamp ?? state.anchor.latest);
}

/** The log as it stood when people took over. */
function before(log: CaseLog, beginsAtMs: number): CaseLog {
  const opened = log.records[0]?.stamp.monoMs ?? 0;
  const end = log.records.findIndex(({ stamp }) => stamp.monoMs - opened > beginsAtMs);
  return end === -1 ? log : replay(log.records.slice(0, Math.max(1, end)));
}

/**
 * What a drill holds.
 * @param o.log of the drill, or of as much of it as there is.
 * @returns null where this version draws something else from the seed than the one that began it.
 */
export function courseOf(o: {
  readonly drill: Drilled;
  readonly drilled: DrillCase;
  readonly log: CaseLog;
}): DrillCourse | null {
  const { drill, drilled, log } = o;
  const { seed, toward, beginsAtMs, again } = drill;
  const plan = drillPlan({ ...drilled, seed, toward });
  if (again === undefined)
    return plan.beginsAtMs === beginsAtMs ? { drill, drilled, plan, drawn: plan } : null;
  if (!plan.cards.some(({ id }) => id === again)) return null;
  const stretches = begunIn(stretchesOf(before(log, beginsAtMs)), plan);
  const came = cardsShown(stretches, plan, beginsAtMs).filter((s) => s.shownAtMs !== null);
  const kept = new Set([again, ...came.map(({ card }) => card.id)]);
  const cards = plan.cards.filter(({ id }) => kept.has(id));
  return { drill, drilled, plan: { ...plan, cards, lastsMs: 0 }, drawn: plan };
}

const begunIn = (stretches: readonly Stretch[], { pressesBefore }: DrillPlan): readonly Stretch[] =>
  stretches.slice(Math.max(0, pressesBefore - 1));

/** The cards of a drill at one instant. */
export interface DrillNow {
  /** In the order in which they came. */
  readonly shown: readonly (ShownCard & { readonly shownAtMs: number })[];
  /** In how many ms the next one comes if nothing is pressed; null when none does. */
  readonly nextInMs: number | null;
  readonly endsAtMs: number;
}

/** Follows a drill while it grows: each press is folded once. */
export class DrillWatch {
  readonly course: DrillCourse;
  #stretches: Stretch[] = [];
  #log: CaseLog | null = null;
  #known: {
    readonly log: CaseLog | null;
    readonly fromMs: number;
    readonly untilMs: number;
    readonly now: DrillNow;
  } | null = null;

  constructor(course: DrillCourse) {
    this.course = course;
  }

  /** Takes the log as it stands now. */
  take(log: CaseLog): void {
    const known = this.#log?.records.length ?? 0;
    if (log === this.#log || log.records.length === known) return;
    const isNext = this.#log !== null && log.records.length > known;
    const added = isNext ? log.records.slice(known) : [];
    const isOnePress = isNext && new Set(added.map(({ press }) => press)).size === 1;
    if (isOnePress) this.#push(log.state);
    else this.#stretches = [...begunIn(stretchesOf(log), this.course.plan)];
    this.#log = log;
  }

  #push(state: CaseState): void {
    const fromMs = place(state.anchor, state.anchor.latest).at.loMs;
    const last = this.#stretches.at(-1);
    if (last !== undefined) {
      this.#stretches[this.#stretches.length - 1] = { ...last, untilMs: fromMs };
    }
    this.#stretches.push({ state, fromMs, untilMs: Number.POSITIVE_INFINITY });
  }

  at(nowMs: number): DrillNow {
    const known = this.#known;
    // Between two cards nothing changes but by a press.
    if (known?.log === this.#log && nowMs >= known.fromMs && nowMs < known.untilMs) {
      const { nextInMs } = known.now;
      return { ...known.now, nextInMs: nextInMs && nextInMs - (nowMs - known.fromMs) };
    }
    const now = this.#nowAt(nowMs);
    const untilMs = nowMs + (now.nextInMs ?? Number.POSITIVE_INFINITY);
    this.#known = { log: this.#log, fromMs: nowMs, untilMs, now };
    return now;
  }

  #nowAt(nowMs: number): DrillNow {
    const { plan, drill } = this.course;
    const all = cardsShown(this.#stretches, plan, nowMs);
    const shown = all.flatMap((s) =>
      s.shownAtMs === null ? [] : [{ ...s, shownAtMs: s.shownAtMs }],
    );
    const nextInMs = nextCardInMs(this.#stretches, plan, nowMs);
    const endsAtMs =
      drill.again === undefined
        ? drillEndMs(shown, plan, drill.beginsAtMs)
        : this.#againEndMs(shown, drill.again);
    return { shown, nextInMs, endsAtMs };
  }

  #againEndMs(shown: DrillNow['shown'], again: string): number {
    const { beginsAtMs } = this.course.drill;
    const own = shown.find(({ card }) => card.id === again);
    if (own === undefined) return beginsAtMs + AGAIN_MS;
    const { card, shownAtMs } = own;
    const waysBefore = this.#stretches.findLast(({ fromMs }) => fromMs <= shownAtMs);
    const count = waysBefore?.state.waysBack.length ?? 0;
    const answered = this.#stretches.find(({ state }) =>
      state.waysBack.slice(count).some((w) => card.kind === 'mishap' && w.mishap === card.mishap),
    );
    return Math.min(shownAtMs + AGAIN_MS, (answered?.fromMs ?? Infinity) + ANSWERED_MS);
  }
}
