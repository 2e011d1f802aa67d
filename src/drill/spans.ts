/**
 * When each way back of the protocol fits in a case in which nothing goes wrong: from which press of the
 * ideal run to which, for each subject. Times in ms since the opening.
 */
import { edgeInstant } from '../engine/edge-instant.ts';
import { type Layout, layoutOf } from '../engine/layout.ts';
import type { CaseLog } from '../engine/log.ts';
import type { CaseState } from '../engine/types.ts';
import { voidedBy, waysBackNow } from '../engine/ways-back.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Moment, WayBack } from '../protocol/types.ts';
import type { DrillMoment } from './drill-types.ts';
import { type DrillCase, Hands } from './hands.ts';

/** A stretch of the ideal run in which one way back fits one subject. */
export interface Span {
  readonly wayBack: WayBack;
  readonly subject: SubjectId;
  readonly from: DrillMoment;
  readonly fromMs: number;
  readonly untilMs: number;
  /** From when it can happen, where that is later. */
  readonly leastMs?: number;
  /** How many runs would no longer count if it happened at the end of the span. */
  readonly voids: number;
}

/** One press of the ideal run, and the log up to it. */
export interface IdealPress {
  readonly atMs: number;
  readonly log: CaseLog;
}

export interface IdealCourse {
  readonly presses: readonly IdealPress[];
  readonly spans: readonly Span[];
  readonly endedAtMs: number;
}

/** Where the moment that opened a span lies, as an edge of one step on one subject. */
export function momentFor(
  { state, layout }: { readonly state: CaseState; readonly layout: Layout },
  subject: SubjectId,
  moment: Moment,
): DrillMoment | null {
  const step = layout.byStep.get(moment.step)?.[0]?.step;
  if (step === undefined) return null;
  const keys = layout.subjects.linked(subject, step.per).map((s) => `${step.id}@${s}`);
  const found = keys.find((key) => edgeInstant(state.runs[key], moment.edge) !== null);
  return found === undefined ? null : { key: found, edge: moment.edge };
}

type OpenSpan = Omit<Span, 'untilMs' | 'voids'>;

const known = new WeakMap<DrillCase['plan'], IdealCourse>();

/** Plays the case once without any mishap, and tells what fitted when. A plan belongs to one case. */
export function idealCourse(drilled: DrillCase): IdealCourse {
  const before = known.get(drilled.plan);
  if (before !== undefined) return before;
  const played = playCourse(drilled);
  known.set(drilled.plan, played);
  return played;
}

function playCourse(drilled: DrillCase): IdealCourse {
  const hands = new Hands(drilled);
  const presses: IdealPress[] = [{ atMs: 0, log: hands.log }];
  const open = new Map<string, OpenSpan>();
  const spans: Span[] = [];
  const look = (): void => {
    const { state } = hands.log;
    const layout = layoutOf(state);
    const now = new Set<string>();
    for (const { wayBack, subjects } of waysBackNow(state, layout)) {
      for (const subject of subjects) {
        const id = `${wayBack.id}/${subject}`;
        now.add(id);
        const from = wayBack.from && momentFor({ state, layout }, subject, wayBack.from);
        if (open.has(id) || !from) continue;
        open.set(id, { wayBack, subject, from, fromMs: hands.atMs });
      }
    }
    for (const [id, span] of open) {
      if (now.has(id)) continue;
      const { wayBack, subject } = span;
      const voids = voidedBy({ state, layout, wayBack, subjects: [subject] }).length;
      spans.push({ ...span, untilMs: hands.atMs, voids });
      open.delete(id);
    }
  };
  look();
  while (hands.next() === 'pressed') {
    presses.push({ atMs: hands.atMs, log: hands.log });
    look();
  }
  return { presses, spans, endedAtMs: hands.atMs };
}
