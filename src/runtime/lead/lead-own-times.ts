/**
 * What the clinic's own records say about pace: how long steps took, how long the hands were busy
 * before a press, by person; and which windows were broken. Only exact times count: what a gap made
 * uncertain is left out. Nothing here proposes a time that chemistry needs. Times in ms.
 */
import { elapsed } from '../../engine/axis.ts';
import { edgeInstant } from '../../engine/edge-instant.ts';
import { layoutOf } from '../../engine/layout.ts';
import type { CaseLog } from '../../engine/log.ts';
import type { CaseInstant, StepRun } from '../../engine/types.ts';
import { quantile } from '../../plan/risk.ts';
import type { SubjectId } from '../../protocol/subjects.ts';
import type { Protocol, Step, Window } from '../../protocol/types.ts';

/** A pause longer than this is no pace of the hands: somebody waited for something. */
const HANDS_MS_MAX = 15 * 60_000;

export interface Spread {
  readonly count: number;
  readonly medianMs: number;
  readonly p90Ms: number;
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
  readonly people: readonly PersonTimes[];
}

export interface WindowTimes {
  readonly window: Window;
  /** How long it stood open, over all subjects of all cases. */
  readonly open: Spread | null;
  readonly cases: number;
  readonly casesBroken: number;
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

function spreadOf(samples: readonly number[]): Spread | null {
  if (samples.length === 0) return null;
  const sorted = Float64Array.from(samples).sort();
  const whole = (share: number) => Math.max(1, Math.round(quantile(sorted, share)));
  return { count: samples.length, medianMs: whole(0.5), p90Ms: whole(0.9) };
}

const isExact = (at: CaseInstant): boolean => at.loMs === at.hiMs;

/** The moments of a run that were pressed. */
function pressedAt(run: StepRun): readonly CaseInstant[] {
  const ends = [run.startedAt, run.endedAt].filter((at) => at !== null);
  return [...ends, ...run.counts].filter(isExact);
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

/** The runs of one case as samples. Runs that began with the same press share one pace. */
export function samplesOf({ state }: CaseLog): readonly Sample[] {
  const labels = new Map(state.opened.spec.people.map((p) => [p.id, p.label]));
  const runs = Object.entries(state.runs).filter(([, run]) => run.status === 'done');
  const moments = [...new Set(runs.flatMap(([, run]) => pressedAt(run).map((at) => at.loMs)))];
  moments.sort((a, b) => a - b);
  const counted = new Set<string>();
  return runs.flatMap(([key, run]): Sample[] => {
    const step = key.slice(0, key.indexOf('@'));
    const first = pressedAt(run)[0];
    if (first === undefined) return [];
    const pressedMs = pressedAt(run).map((at) => at.loMs);
    const begins = Math.min(...pressedMs);
    const together = `${step} ${begins}`;
    if (counted.has(together)) return [];
    counted.add(together);
    const before = moments.findLast((ms) => ms < begins);
    const handsMs = before === undefined ? null : begins - before;
    const untilLastMs = before === undefined ? null : Math.max(...pressedMs) - before;
    const { startedAt, endedAt } = run;
    const isTimed = startedAt && endedAt && isExact(startedAt) && isExact(endedAt);
    const tookMs = isTimed ? endedAt.loMs - startedAt.loMs : null;
    return [
      {
        step,
        person: labels.get(run.by ?? '') ?? run.by ?? '',
        tookMs: tookMs !== null && tookMs > 0 ? tookMs : null,
        handsMs: handsMs !== null && handsMs <= HANDS_MS_MAX ? handsMs : null,
        untilLastMs: untilLastMs !== null && untilLastMs <= HANDS_MS_MAX ? untilLastMs : null,
      },
    ];
  });
}

const given = (values: readonly (number | null)[]): number[] =>
  values.filter((value) => value !== null);

function timesOfStep(step: Step, all: readonly Sample[]): StepTimes | null {
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
    people: people.map((person) => ({
      person,
      ...spreads(own.filter((sample) => sample.person === person)),
    })),
  };
}

interface Opening {
  readonly subject: SubjectId;
  readonly ms: number;
  readonly outsideMs: number;
}

/** How long each subject's window stood open in one case, and how far outside it was. */
function openingsOf({ state }: CaseLog, window: Window): readonly Opening[] {
  return layoutOf(state).windows.flatMap((pair): Opening[] => {
    if (pair.window.id !== window.id) return [];
    const opened = edgeInstant(state.runs[pair.from], pair.window.from.edge);
    const closed = edgeInstant(state.runs[pair.to], pair.window.to.edge);
    if (!opened || !closed) return [];
    const { loMs, hiMs } = elapsed(opened, closed);
    if (loMs !== hiMs) return [];
    const { minMs, maxMs } = pair.window;
    const short = minMs === undefined ? 0 : minMs.value - loMs;
    const over = maxMs === undefined ? 0 : hiMs - maxMs.value;
    return [{ subject: pair.subject, ms: loMs, outsideMs: Math.max(0, short, over) }];
  });
}

function timesOfWindow(window: Window, logs: readonly CaseLog[]): WindowTimes | null {
  const byCase = logs.map((log) => openingsOf(log, window)).filter((list) => list.length > 0);
  if (byCase.length === 0) return null;
  const all = byCase.flat();
  const outside = all.filter((opening) => opening.outsideMs > 0);
  return {
    window,
    open: spreadOf(all.map((opening) => opening.ms)),
    cases: byCase.length,
    casesBroken: byCase.filter((list) => list.some((o) => o.outsideMs > 0)).length,
    worstMs: Math.max(0, ...outside.map((opening) => opening.outsideMs)),
    subjects: [...new Set(outside.map((opening) => opening.subject))],
  };
}

/** What the records of one protocol say, all its revisions together, in the order of `protocol`. */
export function ownTimesFrom(protocol: Protocol, logs: readonly CaseLog[]): ProtocolTimes {
  const own = logs.filter((log) => log.state.opened.protocol.id === protocol.id);
  const samples = own.flatMap(samplesOf);
  return {
    cases: own.length,
    steps: protocol.steps.flatMap((step) => timesOfStep(step, samples) ?? []),
    windows: protocol.windows.flatMap((window) => timesOfWindow(window, own) ?? []),
  };
}
