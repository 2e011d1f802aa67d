/**
 * What the clinic's own records say about pace: how long steps took, how long the hands were busy
 * before a press, by person; and which windows were broken. Only exact times count: what a gap made
 * uncertain is left out, and so is what no press was for alone: a line of a list, a swept edge, what a
 * later press said, light that tones led. Nothing here proposes a time that chemistry needs. Times in ms.
 */
import { unreachable } from '../../base/assert.ts';
import { elapsed } from '../../engine/axis.ts';
import { keepsHands } from '../../engine/case-bounds.ts';
import { edgeInstant } from '../../engine/edge-instant.ts';
import { layoutOf } from '../../engine/layout.ts';
import { type CaseLog, momentsOf } from '../../engine/log.ts';
import type { CaseInstant, StepRun } from '../../engine/types.ts';
import { quantile } from '../../plan/risk.ts';
import type { SubjectId } from '../../protocol/subjects.ts';
import type { Protocol, Step, Window } from '../../protocol/types.ts';

/** A pause longer than this is no pace of the hands: somebody waited. A design choice, no source. */
const HANDS_MS_MAX = 15 * 60_000;

export interface Spread {
  readonly count: number;
  readonly medianMs: number;
  readonly p90Ms: number;
}

/** What the hands needed for a step, and how much stands behind it. */
export interface OwnPace extends Spread {
  readonly leastMs: number;
  readonly mostMs: number;
  /** When each case began that it was seen in, ms since 1970. */
  readonly openedAtMs: readonly number[];
}

interface PersonTimes {
  readonly person: string;
  readonly took: Spread | null;
  readonly hands: Spread | null;
}

export interface StepTimes {
  readonly step: Step;
  /** From its start to its end, where it has both. */
  readonly took: Spread | null;
  /** From the press before it to its first press. */
  readonly hands: Spread | null;
  /** What of these is the pace of the hands, each press once; null for a step that has none. */
  readonly pace: OwnPace | null;
  readonly people: readonly PersonTimes[];
}

export interface WindowTimes {
  readonly window: Window;
  /** How long it stood open, over all subjects of all cases. */
  readonly open: Spread | null;
  readonly cases: number;
  readonly casesBroken: number;
  /** In which it may have been broken: the limit lies inside what is known. Those above are not among them. */
  readonly casesPerhaps: number;
  /** Furthest outside, in ms; 0 when it was always kept. */
  readonly worstMs: number;
  /** Subjects it was broken on, each once. */
  readonly subjects: readonly SubjectId[];
}

export interface ProtocolTimes {
  readonly cases: number;
  readonly steps: readonly StepTimes[];
  readonly windows: readonly WindowTimes[];
}

export function spreadOf(samples: readonly number[]): Spread | null {
  if (samples.length === 0) return null;
  const sorted = Float64Array.from(samples).sort();
  const whole = (share: number) => Math.max(1, Math.round(quantile(sorted, share)));
  return { count: samples.length, medianMs: whole(0.5), p90Ms: whole(0.9) };
}

const isExact = (at: CaseInstant): boolean => at.loMs === at.hiMs && at.spread === undefined;

/** The moments of a run that were pressed for it; a clock may have begun with the press of another step. */
function pressedAt(run: StepRun, isBegunWith: boolean): readonly CaseInstant[] {
  const isLed = run.pressed === 'paced' || run.exposures.some((e) => e.paced !== undefined);
  if (isLed || run.pressed === 'implied') return [];
  const ends = [isBegunWith ? null : run.startedAt, run.endedAt].filter((at) => at !== null);
  return [...ends, ...run.counts].filter(isExact);
}

/** Where the hands turned to something else: every press that had something done, exact or not. */
function turnsOf(log: CaseLog, runs: readonly StepRun[]): readonly number[] {
  const own = runs.flatMap((run) => [run.startedAt, run.endedAt, ...run.counts]);
  const placed = own.flatMap((at) => (at && at.loMs === at.hiMs ? [at.loMs] : []));
  const led = log.records.filter(({ event }) => event.type.startsWith('light-pass-'));
  const moments = led.length === 0 ? null : momentsOf(log);
  const passes = led.flatMap(({ press }) => moments?.get(press)?.loMs ?? []);
  return [...new Set([...placed, ...passes])].sort((a, b) => a - b);
}

/** Presses that said of earlier steps that they were done: the time before them is not of one step. */
function manySaid(log: CaseLog): ReadonlySet<number> {
  const saying = log.records.filter(
    ({ event }) => event.type === 'step-confirmed' && event.impliedBy !== undefined,
  );
  if (saying.length === 0) return new Set();
  const moments = momentsOf(log);
  return new Set(saying.flatMap(({ press }) => moments.get(press)?.loMs ?? []));
}

/** One timed stretch of work on one step. */
export interface Sample {
  readonly step: string;
  readonly person: string;
  readonly tookMs: number | null;
  readonly handsMs: number | null;
  /** From the press before it to its last one: what counting and coating take. */
  readonly untilLastMs: number | null;
}

/** How long a run was, where both of its ends are known. */
function lengthOf({ startedAt, endedAt }: StepRun): number | null {
  const isTimed = startedAt && endedAt && isExact(startedAt) && isExact(endedAt);
  return isTimed && endedAt.loMs > startedAt.loMs ? endedAt.loMs - startedAt.loMs : null;
}

/**
 * The runs of one case as samples. One press is one sample: runs that began with the same press share one
 * pace, and of those that ended with the same press one says how long it took.
 */
export function samplesOf(log: CaseLog): readonly Sample[] {
  const { state } = log;
  const { steps } = state.opened.protocol;
  const begunWith = new Set(steps.flatMap((s) => (s.beginsWith === undefined ? [] : [s.id])));
  const labels = new Map(state.opened.spec.people.map((p) => [p.id, p.label]));
  const runs = Object.entries(state.runs).filter(([, run]) => run.status === 'done');
  const turns = turnsOf(
    log,
    runs.map(([, run]) => run),
  );
  const shared = manySaid(log);
  const counted = new Set<string>();
  return runs.flatMap(([key, run]): Sample[] => {
    const step = key.slice(0, key.indexOf('@'));
    const isBegunWith = begunWith.has(step);
    const pressedMs = pressedAt(run, isBegunWith).map((at) => at.loMs);
    if (pressedMs.length === 0) return [];
    const begins = Math.min(...pressedMs);
    const together = `${step} ${begins}`;
    if (counted.has(together)) return [];
    counted.add(together);
    const { startedAt, endedAt } = run;
    const ends = `${step} ends ${endedAt?.loMs}`;
    const tookMs = counted.has(ends) ? null : lengthOf(run);
    if (tookMs !== null) counted.add(ends);
    // Several lines with one press: the time is that of the list, not of each. A beginning that is swept
    // is known by no press.
    const isOwn = run.pressed !== 'list' && startedAt !== null && isExact(startedAt);
    const isOfHands = !isBegunWith || run.counts.length > 0;
    const isOfOne = isOwn && isOfHands && !shared.has(begins);
    const before = isOfOne ? turns.findLast((ms) => ms < begins) : undefined;
    const handsMs = before === undefined ? null : begins - before;
    const untilLastMs = before === undefined ? null : Math.max(...pressedMs) - before;
    return [
      {
        step,
        person: labels.get(run.by ?? '') ?? run.by ?? '',
        tookMs,
        handsMs: handsMs !== null && handsMs <= HANDS_MS_MAX ? handsMs : null,
        untilLastMs: untilLastMs !== null && untilLastMs <= HANDS_MS_MAX ? untilLastMs : null,
      },
    ];
  });
}

/** What a sample says about the pace of its step; null where the pace is not about hands. */
export function paceMs(step: Step, sample: Sample): number | null {
  const { action } = step;
  switch (action.kind) {
    case 'confirm':
    case 'choose':
    case 'expose':
      return sample.handsMs;
    case 'tally':
      return sample.untilLastMs;
    case 'coats':
      // With a wait between coats, the last press says more about the wait than about the hands.
      return action.gapMsMin === undefined ? sample.untilLastMs : null;
    case 'dwell': {
      const isPutOn = step.hands === undefined && step.beginsWith === undefined;
      return isPutOn && !keepsHands(step, 1) ? sample.handsMs : null;
    }
    default:
      return unreachable(action);
  }
}

const given = (values: readonly (number | null)[]): number[] =>
  values.filter((value) => value !== null);

/** A sample with the beginning of its case. */
interface Dated extends Sample {
  /** Which of the cases it is of. */
  readonly nth: number;
  readonly openedAtMs: number;
}

function paceOf(step: Step, own: readonly Dated[]): OwnPace | null {
  const timed = own.flatMap((sample) => {
    const ms = paceMs(step, sample);
    return ms === null || ms <= 0 ? [] : [{ ...sample, ms }];
  });
  const all = timed.map(({ ms }) => ms);
  const spread = spreadOf(all);
  return (
    spread && {
      ...spread,
      leastMs: Math.min(...all),
      mostMs: Math.max(...all),
      openedAtMs: [...new Map(timed.map((t) => [t.nth, t.openedAtMs])).values()].toSorted(
        (a, b) => a - b,
      ),
    }
  );
}

function timesOfStep(step: Step, all: readonly Dated[]): StepTimes | null {
  const own = all.filter((sample) => sample.step === step.id);
  if (own.length === 0) return null;
  const spreads = (samples: readonly Sample[]) => ({
    took: spreadOf(given(samples.map((s) => s.tookMs))),
    hands: spreadOf(given(samples.map((s) => s.handsMs))),
  });
  const people = [...new Set(own.map((sample) => sample.person))].toSorted();
  return {
    step,
    ...spreads(own),
    pace: paceOf(step, own),
    people: people.map((person) => ({
      person,
      ...spreads(own.filter((sample) => sample.person === person)),
    })),
  };
}

interface Opening {
  readonly subject: SubjectId;
  /** Null where only an interval is known. */
  readonly ms: number | null;
  /** By how much it was outside, by every time of the interval. */
  readonly outsideMs: number;
  readonly isPerhaps: boolean;
}

/** How long each subject's window stood open in one case, and how far outside it was. */
function openingsOf({ state }: CaseLog, window: Window): readonly Opening[] {
  return layoutOf(state).windows.flatMap((pair): Opening[] => {
    if (pair.window.id !== window.id) return [];
    const opened = edgeInstant(state.runs[pair.from], pair.window.from.edge);
    const closed = edgeInstant(state.runs[pair.to], pair.window.to.edge);
    if (!opened || !closed) return [];
    const { loMs, hiMs } = elapsed(opened, closed);
    const { minMs, maxMs } = pair.window;
    const leastMs = minMs?.value ?? 0;
    const mostMs = maxMs?.value ?? Number.POSITIVE_INFINITY;
    const outsideMs = Math.max(0, leastMs - hiMs, loMs - mostMs);
    const isPerhaps = outsideMs === 0 && (loMs < leastMs || hiMs > mostMs);
    const ms = loMs === hiMs ? loMs : null;
    return [{ subject: pair.subject, ms, outsideMs, isPerhaps }];
  });
}

function timesOfWindow(window: Window, logs: readonly CaseLog[]): WindowTimes | null {
  const byCase = logs.map((log) => openingsOf(log, window)).filter((list) => list.length > 0);
  if (byCase.length === 0) return null;
  const all = byCase.flat();
  const broken = byCase.filter((list) => list.some((o) => o.outsideMs > 0));
  const outside = all.filter((opening) => opening.outsideMs > 0);
  return {
    window,
    open: spreadOf(given(all.map((opening) => opening.ms))),
    cases: byCase.length,
    casesBroken: broken.length,
    casesPerhaps: byCase.filter((list) => !broken.includes(list) && list.some((o) => o.isPerhaps))
      .length,
    worstMs: Math.max(0, ...outside.map((opening) => opening.outsideMs)),
    subjects: [...new Set(outside.map((opening) => opening.subject))],
  };
}

/** What the records of one protocol say, all its revisions together, in the order of `protocol`. */
export function ownTimesFrom(protocol: Protocol, logs: readonly CaseLog[]): ProtocolTimes {
  // A drill was played before people took over.
  const own = logs.filter(
    ({ state: { opened } }) => opened.protocol.id === protocol.id && opened.drill === undefined,
  );
  const samples = own.flatMap((log, nth) => {
    const openedAtMs = log.records[0]?.stamp.wallMs ?? 0;
    return samplesOf(log).map((sample) => ({ ...sample, nth, openedAtMs }));
  });
  return {
    cases: own.length,
    steps: protocol.steps.flatMap((step) => timesOfStep(step, samples) ?? []),
    windows: protocol.windows.flatMap((window) => timesOfWindow(window, own) ?? []),
  };
}
