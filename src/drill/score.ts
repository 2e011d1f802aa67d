/**
 * What is measured of a drill: a fold of its log, held against the ideal run of the same seed. There is no total.
 * Times in ms. That something was in time is a rule of this project, no source: before the tightest window that was
 * open when the card was shown has closed, and while what it calls for still fits.
 */
import { monoMs, wallMs } from '../base/units.ts';
import { place } from '../engine/axis.ts';
import { layoutOf } from '../engine/layout.ts';
import { type CaseLog, momentsOf } from '../engine/log.ts';
import type { Breach, CaseEvent, CaseState, Recorded, Stamp } from '../engine/types.ts';
import { viewOf } from '../engine/view.ts';
import { type SubjectId, scopeOf } from '../protocol/subjects.ts';
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
  /** Of a mishap: whether a way back that it did not call for was taken before any right one. */
  readonly isMissed: boolean;
}

/** Whether a mishap was answered as it is to be. */
export const isRightInTime = ({
  isRightFirst,
  isInTime,
}: Pick<CardScore, 'isRightFirst' | 'isInTime'>): boolean => isRightFirst && isInTime;

export interface DrillScore {
  readonly cards: readonly CardScore[];
  /** Cards that never came. */
  readonly leftOut: number;
  /** Limits that were broken, or may have been, and are not in the ideal run; those last that were over at its end. */
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
  /** It was taken back later. */
  readonly isRetracted: boolean;
}

/** Where each press lies as it was made, by the states that they left behind. */
function takenIn(log: CaseLog, stretches: readonly Stretch[]): readonly Taken[] {
  const byPress = new Map<number, Stretch>();
  for (const [i, press] of pressNumbers(log.records).entries()) {
    const stretch = stretches[i];
    if (stretch !== undefined) byPress.set(press, stretch);
  }
  const counts = momentsOf(log);
  return log.records.flatMap((r): Taken[] => {
    if (r.event.type !== 'way-back-taken') return [];
    const own = byPress.get(r.press);
    const met = byPress.get(r.press - 1);
    if (own === undefined || met === undefined) return [];
    const isRetracted = !counts.has(r.press);
    return [{ atMs: own.fromMs, event: r.event, met: met.state, press: r.press, isRetracted }];
  });
}

const pressNumbers = (records: readonly Recorded[]): readonly number[] => [
  ...new Set(records.map(({ press }) => press)),
];

/** What one way back was to the cards that were shown before it and not answered yet. */
interface Judged {
  readonly taken: Taken;
  /** Cards that it answers; none where it was not called for. */
  readonly answers: readonly string[];
  /** Where it answers none: cards of the same kind that wait, or none. */
  readonly near: readonly string[];
}

/** Cards that a way back answers: it fits them, covers all of whom it fits, and nobody else. */
function answeredBy({ event, met }: Taken, open: readonly MishapCard[]): readonly MishapCard[] {
  const fitting = open.flatMap((card) => {
    const way = waysFor(met, card).find(({ wayBack }) => wayBack.id === event.wayBack);
    if (way === undefined || !way.subjects.every((s) => event.subjects.includes(s))) return [];
    return [{ card, subjects: way.subjects }];
  });
  const covered = new Set(fitting.flatMap(({ subjects }) => subjects));
  return event.subjects.every((s) => covered.has(s)) ? fitting.map(({ card }) => card) : [];
}

/** Judges each way back in turn; one that was right and was taken back later answers nothing. */
function judge(taken: readonly Taken[], came: readonly CardScore['shown'][]): readonly Judged[] {
  const answered = new Set<string>();
  return taken.map((each): Judged => {
    const open = came.flatMap(({ card, shownAtMs }) =>
      card.kind === 'mishap' && shownAtMs <= each.atMs && !answered.has(card.id) ? [card] : [],
    );
    const answers = answeredBy(each, open).map(({ id }) => id);
    const alike = open.filter(({ mishap }) => mishap === each.event.mishap);
    if (!each.isRetracted) for (const id of answers) answered.add(id);
    return { taken: each, answers, near: answers.length > 0 ? [] : alike.map(({ id }) => id) };
  });
}

/** What the clocks read at an instant of a stretch. */
function stampAt({ state, fromMs }: Pick<Stretch, 'state' | 'fromMs'>, nowMs: number): Stamp {
  const { wallMs: wall, monoMs: mono, runId } = state.anchor.latest;
  const laterMs = nowMs - fromMs;
  return { wallMs: wallMs(wall + laterMs), monoMs: monoMs(mono + laterMs), runId };
}

/** No entry made it. */
const OPEN_PRESS = 0;

/** Limits that are over while their end was not pressed: no entry says so yet. */
function openOver(last: Stretch | undefined, nowMs: number): readonly Breach[] {
  if (last === undefined) return [];
  const { state } = last;
  const now = stampAt(last, nowMs);
  const { at } = place(state.anchor, now);
  return viewOf(state, now).clocks.flatMap(({ kind, of, subjects, maxMs, elapsed }): Breach[] => {
    if ((kind !== 'dwell' && kind !== 'window') || maxMs === null) return [];
    const by = elapsed.loMs - maxMs;
    if (by <= 0) return [];
    const what =
      kind === 'window'
        ? ({ kind: 'late', what: 'window' } as const)
        : ({ kind: 'over', what: 'step' } as const);
    return subjects.map((subject) => ({ ...what, of, subject, by, at, press: OPEN_PRESS }));
  });
}

/** How long the tightest window of these subjects that was open then had left; null when none was. */
function tightestMs(
  { state, fromMs }: Stretch,
  nowMs: number,
  subjects: readonly SubjectId[],
): number | null {
  const then = stampAt({ state, fromMs }, nowMs);
  const roster = layoutOf(state).subjects;
  const isOwn = (other: SubjectId): boolean =>
    subjects.some((s) => s === other || roster.linked(s, scopeOf(other)).includes(other));
  const left = viewOf(state, then).clocks.flatMap(({ kind, maxMs, elapsed, subjects: its }) =>
    kind === 'window' && maxMs !== null && its.some(isOwn) ? [maxMs - elapsed.hiMs] : [],
  );
  const open = left.filter((ms) => ms > 0);
  return open.length === 0 ? null : Math.min(...open);
}

function scoreCard(
  shown: CardScore['shown'],
  o: {
    readonly judged: readonly Judged[];
    readonly stretches: readonly Stretch[];
    /** When the next card came. */
    readonly untilMs: number;
  },
): CardScore {
  const { card, shownAtMs } = shown;
  if (card.kind !== 'mishap') {
    // Nothing that no card called for was taken as long as it was the last thing seen.
    const isAlone = !o.judged.some(
      ({ taken, answers }) =>
        answers.length === 0 && taken.atMs >= shownAtMs && taken.atMs < o.untilMs,
    );
    const alone = card.kind === 'foil' ? isAlone : true;
    const none = { firstRightMs: null, roomMs: null, isMissed: false };
    return { shown, ...none, isInTime: alone, isRightFirst: alone };
  }
  const stretch = o.stretches.findLast(({ fromMs }) => fromMs <= shownAtMs);
  const roomMs = stretch === undefined ? null : tightestMs(stretch, shownAtMs, card.subjects);
  const right = o.judged.find(
    ({ taken, answers }) => answers.includes(card.id) && !taken.isRetracted,
  );
  const firstRightMs = right === undefined ? null : right.taken.atMs - shownAtMs;
  const isInTime = firstRightMs !== null && (roomMs === null || firstRightMs <= roomMs);
  // One that no card called for counts against those of its kind; of another kind, against all that wait.
  const isMissed = o.judged.some(({ taken, answers, near }) => {
    if (answers.length > 0 || taken.atMs < shownAtMs) return false;
    if (right !== undefined && taken.press > right.taken.press) return false;
    return near.length === 0 || near.includes(card.id);
  });
  const isRightFirst = right !== undefined && !isMissed;
  return { shown, firstRightMs, roomMs, isInTime, isRightFirst, isMissed };
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
  const judged = judge(takenIn(log, stretches), came);
  const cards = came.map((each, i) =>
    scoreCard(each, {
      judged,
      stretches,
      untilMs: came[i + 1]?.shownAtMs ?? Number.POSITIVE_INFINITY,
    }),
  );
  const openInIdeal = openOver(stretchesOf(ideal.log).at(-1), ideal.endedAtMs);
  const known = new Set([...ideal.log.state.breaches, ...openInIdeal].map(breachName));
  const ofRun = [...log.state.breaches, ...openOver(stretches.at(-1), nowMs)];
  const breaches = ofRun.filter((b) => !known.has(breachName(b)));
  return {
    cards,
    leftOut: shown.length - came.length,
    breaches,
    wasted: wastedIn(log, judged),
    presses: pressNumbers(log.records).length - plan.pressesBefore,
  };
}

function wastedIn({ records }: CaseLog, judged: readonly Judged[]): DrillScore['wasted'] {
  const wrong = judged.filter(({ answers }) => answers.length === 0);
  return {
    takenBack: records.filter(({ event }) => event.type === 'press-retracted').length,
    wrongWay: wrong.filter(({ near }) => near.length === 0).length,
    wrongSubject: wrong.filter(({ near }) => near.length > 0).length,
  };
}
