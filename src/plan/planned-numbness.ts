/**
 * Whether the anaesthesia of a prepared case will last: it is planned to be given so that it has just
 * set in when the first step that may hurt begins, and compared with those that begin after the
 * warning. Pure; times in ms on the case axis.
 */
import { type Numbness, numbnessOf } from '../calc/anaesthesia.ts';
import type { AnaesthesiaTable } from '../calc/anaesthesia-rows.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Protocol } from '../protocol/types.ts';
import type { Timeline } from './timeline.ts';

export interface PlannedNumbness {
  readonly agent: string;
  readonly technique: string;
  readonly numbness: Numbness;
  readonly givenAtMs: number;
  /** When the pulp is likely to wake; null where nothing is published. */
  readonly endsAtMs: number | null;
  readonly warnAtMs: number | null;
  /** What may hurt and begins after the warning, in time order. */
  readonly late: readonly {
    readonly step: string;
    readonly subjects: readonly SubjectId[];
    readonly atMs: number;
  }[];
}

/** Null where nothing is to be injected, nothing may hurt, or the agent is not known. */
export function plannedNumbness(o: {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly timeline: Pick<Timeline, 'bars' | 'startMs'>;
  readonly table: AnaesthesiaTable;
}): PlannedNumbness | null {
  const { anaesthesia } = o.spec;
  const numbness = anaesthesia ? numbnessOf(o.table, anaesthesia) : null;
  const hurts = new Set(o.protocol.steps.filter((s) => s.mayHurt).map((s) => s.id));
  const bars = o.timeline.bars
    .filter((bar) => hurts.has(bar.step))
    .toSorted((a, b) => a.startMs - b.startMs);
  const first = bars[0];
  if (anaesthesia === undefined || numbness === null || first === undefined) return null;
  const givenAtMs = Math.max(o.timeline.startMs, first.startMs - (numbness.onsetMs ?? 0));
  const after = (ms: number | null): number | null => (ms === null ? null : givenAtMs + ms);
  const warnAtMs = after(numbness.warnAtMs);
  const late = bars.filter((bar) => warnAtMs !== null && bar.endMs > warnAtMs);
  return {
    ...anaesthesia,
    numbness,
    givenAtMs,
    endsAtMs: after(numbness.pulpalMs),
    warnAtMs,
    late: late.map(({ step, subjects, startMs }) => ({
      step,
      subjects,
      atMs: Math.max(startMs, warnAtMs ?? startMs),
    })),
  };
}
