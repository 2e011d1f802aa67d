/**
 * People's own paces, learned from their records and carried by the case file, in the place of the
 * protocol's. Too few records decide nothing. Times in ms.
 */
import { MS_PER_SECOND } from '../base/units.ts';
import type { CaseFile, RecordedPace } from '../protocol/case-types.ts';
import { paceOf } from '../protocol/pace.ts';
import type { Protocol } from '../protocol/types.ts';
import type { OwnPace } from './activity-draft.ts';
import { type Explanation, explain } from './explanation.ts';

/** Fewer times than these say little about a median. A design choice, no source. */
export const OWN_PACE_COUNT_MIN = 5;
/** From so many times on, their own 90th percentile stands; below it, the protocol's spread. */
export const OWN_SPREAD_COUNT_MIN = 10;

export type OwnPaces = Readonly<Record<string, OwnPace>>;

/** Paces of the case file that are many enough, of steps that the protocol has. */
function usable(spec: CaseFile, protocol: Protocol): readonly RecordedPace[] {
  const steps = new Set(protocol.steps.map((step) => step.id));
  return (spec.paces ?? []).filter((p) => p.count >= OWN_PACE_COUNT_MIN && steps.has(p.step));
}

/** Own paces of a case by step id. */
export function ownPaces(spec: CaseFile, protocol: Protocol): OwnPaces {
  const entries = usable(spec, protocol).map(({ step, medianMs, p90Ms }) => [
    step,
    { medianMs, p90Ms: Math.max(p90Ms, medianMs) },
  ]);
  return Object.fromEntries(entries);
}

/** Change-overs of the case file that are many enough, of light steps that the protocol paces. */
function usableChanges(spec: CaseFile, protocol: Protocol) {
  return (spec.changeOvers ?? []).flatMap((change) => {
    const step = protocol.steps.find(({ id }) => id === change.step);
    if (change.count < OWN_PACE_COUNT_MIN || step?.pressed?.kind !== 'paced') return [];
    return [{ ...change, plannedMs: step.pressed.changeMs.value }];
  });
}

/** Own change-overs of a case by paced light step: the usual one; the tones lead by it. */
export function ownChanges(spec: CaseFile, protocol: Protocol): Readonly<Record<string, number>> {
  const own = usableChanges(spec, protocol);
  return Object.fromEntries(own.map(({ step, medianMs }) => [step, medianMs]));
}

/** Where each change-over that replaces one of the protocol's comes from. */
export function explainChanges(spec: CaseFile, protocol: Protocol): readonly Explanation[] {
  return usableChanges(spec, protocol).map(({ step, medianMs, p90Ms, count, plannedMs }) =>
    ofRecords({ id: `change-over/${step}`, medianMs, p90Ms, count, plannedMs }),
  );
}

interface OfRecords extends Omit<RecordedPace, 'step'> {
  readonly id: string;
  readonly plannedMs: number;
}

const ofRecords = ({ id, medianMs, p90Ms, count, plannedMs }: OfRecords): Explanation =>
  explain({
    id,
    value: medianMs / MS_PER_SECOND,
    unit: 's',
    formula: 'median-of-own-records',
    inputs: {
      records: count,
      p90Seconds: p90Ms / MS_PER_SECOND,
      protocolSeconds: plannedMs / MS_PER_SECOND,
    },
    source: `own records, n = ${count}`,
    calc: null,
    decidedBy: 'own-records',
  });

/** Where each pace that replaces one of the protocol's comes from. */
export function explainPaces(spec: CaseFile, protocol: Protocol): readonly Explanation[] {
  const planned = new Map(protocol.steps.map((step) => [step.id, paceOf(step).medianMs]));
  return usable(spec, protocol).map(({ step, medianMs, p90Ms, count }) =>
    ofRecords({ id: `pace/${step}`, medianMs, p90Ms, count, plannedMs: planned.get(step) ?? 0 }),
  );
}
