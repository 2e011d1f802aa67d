/**
 * What is measured of a drill: a fold of its log, held against the ideal run of the same seed. There is no total.
 * Times in ms. That something was in time is a rule of this project, no source: before the tightest window that was
 * open when the card was shown has closed, and while what it calls for still fits.
 */
import { monoMs, wallMs } from '../base/units.ts';
import type { CaseLog } from '../engine/log.ts';
import type { Breach, CaseEvent, CaseState, Recorded, Stamp } from '../engine/types.ts';
import { viewOf } from '../engine/view.ts';
import { cardsShown, type Stretch, stretchesOf, waysFor } from './cards.ts';
import type { DrillPlan, MishapCard, ShownCard } from './drill-types.ts';
import type { IdealRun } from './ideal.ts';

/** How one card was answered. */
export interface CardScore {
  readonly shown: ShownCard & { readonly shownAtMs: number };
  /** Of a mishap: from the card to the first way back that fitted then, for the right subjects; null: never. */
  readonly firstRightMs: number | null;
  /** Of a mishap: time that there was; null where no window was open and nothing would have ended it. */
  readonly roomMs: number | null;
  /** Of a mishap: whether the first right way back came in that time. Of a foil: whether it was left alone. */
  readonly isInTime: boolean;
  /** Of a mishap: whether the first way back taken after the card was the right one, for the right subjects. */
  readonly isRightFirst: boolean;
}

export interface DrillScore {
  readonly cards: readonly CardScore[];
  /** Cards that never came. */
  readonly leftOut: number;
  /** Limits that were broken, or may have been, and are not in the ideal run. */
  readonly breaches: readonly Breach[];
  /** Presses that were taken back, and ways back that fitted no card that was shown. */
  readonly wasted: {
    readonly takenBack: number;
    readonly wrongWay: number;
    readonly wrongSubject: number;
  };
  readonly presses: number;
}

type WayTaken = Extract<CaseEvent, { readonly type: 'way-back-taken' }>;
interface Taken {
  readonly atMs: number;
  readonly event: WayTaken;
  /** What stood before it. */
  readonly met: CaseState;
  readonly press: number;
}

/** Where each press lies as it was made, by the states that they left behind. */
function takenIn(log: CaseLog, stretches: readonly Stretch[]): readonly Taken[] {
  const byPress = new Map<number, Stretch>();
  for (const [i, press] of pressNumbers(log.records).entries()) {
    const stretch = stretches[i];
    if (stretch !== undefined) byPress.set(press, stretch);
  }
  return log.records.flatMap((r): Taken[] => {
    if (r.event.type !== 'way-back-taken') return [];
    const own = byPress.get(r.press);
    const met = byPress.get(r.press - 1);
    if (own === undefined || met === undefined) return [];
    return [{ atMs: own.fromMs, event: r.event, met: met.state, press: r.press }];
  });
}

const pressNumbers = (records: readonly Recorded[]): readonly number[] => [
  ...new Set(records.map(({ press }) => press)),
];

const isSame = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((each) => b.includes(each));

/** Whether a way back fits what a card shows at the time at which it was taken, for all whom it fits. */
function isRight({ event, met }: Taken, card: MishapCard): boolean {
  const own = waysFor(met, card).find(({ wayBack }) => wayBack.id === event.wayBack);
  return own !== undefined && isSame(event.subjects, own.subjects);
}

/** How long the tightest window that was open then had left; null when none was. */
function tightestMs({ state, fromMs }: Stretch, nowMs: number): number | null {
  const stamp = state.anchor.latest;
  const laterMs = nowMs - fromMs;
  const then: Stamp = {
    ...stamp,
    wallMs: wallMs(stamp.wallMs + laterMs),
    monoMs: monoMs(stamp.monoMs + laterMs),
  };
  const left = viewOf(state, then).clocks.flatMap(({ kind, maxMs, elapsed }) =>
    kind === 'window' && maxMs !== null ? [maxMs - elapsed.hiMs] : [],
  );
  const open = left.filter((ms) => ms > 0);
  return open.length === 0 ? null : Math.min(...open);
}

function scoreCard(
  shown: CardScore['shown'],
  o: {
    readonly taken: readonly Taken[];
    readonly stretches: readonly Stretch[];
    readonly untilMs: number;
  },
): CardScore {
  const { card, shownAtMs } = shown;
  const after = o.taken.filter(({ atMs }) => atMs >= shownAtMs && atMs < o.untilMs);
  if (card.kind !== 'mishap') {
    const isAlone = !after.some(({ event }) => isSame(event.subjects, card.subjects));
    const alone = card.kind === 'foil' ? isAlone : true;
    return { shown, firstRightMs: null, roomMs: null, isInTime: alone, isRightFirst: alone };
  }
  const stretch = o.stretches.findLast(({ fromMs }) => fromMs <= shownAtMs);
  const roomMs = stretch === undefined ? null : tightestMs(stretch, shownAtMs);
  const all = o.taken.filter(({ atMs }) => atMs >= shownAtMs);
  const first = all.find((each) => isRight(each, card));
  const firstRightMs = first === undefined ? null : first.atMs - shownAtMs;
  const isInTime = firstRightMs !== null && (roomMs === null || firstRightMs <= roomMs);
  const [next] = after;
  const isRightFirst = next !== undefined && isRight(next, card);
  return { shown, firstRightMs, roomMs, isInTime, isRightFirst };
}

const breachName = ({ kind, of, subject, nth }: Breach): string =>
  `${kind}/${of}/${subject}/${nth ?? 1}`;

/**
 * Holds a run against the ideal one.
 * @param o.plan of the drill; `o.log` as far as it was played; `o.ideal` of the same seed.
 * @param o.nowMs end of the run, ms since the opening.
 */
export function scoreDrill(o: {
  readonly plan: DrillPlan;
  readonly log: CaseLog;
  readonly ideal: IdealRun;
  readonly nowMs: number;
}): DrillScore {
  const { plan, log, ideal, nowMs } = o;
  const stretches = stretchesOf(log);
  const begun = stretches.slice(Math.max(0, plan.pressesBefore - 1));
  const shown = cardsShown(begun, plan, nowMs);
  const came = shown.filter((s): s is CardScore['shown'] => s.shownAtMs !== null);
  const taken = takenIn(log, stretches);
  const cards = came.map((each, i) =>
    scoreCard(each, {
      taken,
      stretches,
      untilMs: came[i + 1]?.shownAtMs ?? Number.POSITIVE_INFINITY,
    }),
  );
  const known = new Set(ideal.log.state.breaches.map(breachName));
  const breaches = log.state.breaches.filter((b) => !known.has(breachName(b)));
  return {
    cards,
    leftOut: shown.length - came.length,
    breaches,
    wasted: wastedIn(log, taken, cards),
    presses: pressNumbers(log.records).length - plan.pressesBefore,
  };
}

function wastedIn(
  { records }: CaseLog,
  taken: readonly Taken[],
  cards: readonly CardScore[],
): DrillScore['wasted'] {
  const mishaps = cards.flatMap(({ shown }) => (shown.card.kind === 'mishap' ? [shown] : []));
  let wrongWay = 0;
  let wrongSubject = 0;
  for (const each of taken) {
    const before = mishaps.filter(({ shownAtMs }) => (shownAtMs ?? 0) <= each.atMs);
    const cardsOf = before.map(({ card }) => card as MishapCard);
    if (cardsOf.some((card) => isRight(each, card))) continue;
    const isForOther = cardsOf.some((card) => card.mishap === each.event.mishap);
    if (isForOther) wrongSubject += 1;
    else wrongWay += 1;
  }
  const takenBack = records.filter(({ event }) => event.type === 'press-retracted').length;
  return { takenBack, wrongWay, wrongSubject };
}
