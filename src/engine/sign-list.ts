/**
 * What stands at the signature: limits that were not kept, what was voided, times that nobody
 * watched, what was skipped. Each has a name that a note can say it is about; a press keeps its
 * number when it is moved in time, so the name stays.
 */
import type { SubjectId } from '../protocol/subjects.ts';
import type { Mishap } from '../protocol/types.ts';
import { layoutOf } from './layout.ts';
import type { Breach, CaseState, Gap } from './types.ts';

/** What was skipped for one reason, step by step. */
interface SkippedSteps {
  readonly step: string;
  readonly subjects: readonly SubjectId[];
}

type SignItem = { readonly id: string; readonly said: readonly string[] } & (
  | { readonly kind: 'breach'; readonly breach: Breach }
  | {
      readonly kind: 'voided';
      readonly wayBack: string | null;
      readonly mishap: Mishap;
      readonly subjects: readonly SubjectId[];
      readonly reason: string;
    }
  | { readonly kind: 'gap'; readonly gap: Gap }
  | { readonly kind: 'skipped'; readonly reason: string; readonly steps: readonly SkippedSteps[] }
);

export const breachId = (b: Pick<Breach, 'press' | 'kind' | 'of' | 'subject' | 'nth'>): string =>
  `breach ${b.press} ${b.kind} ${b.of} ${b.subject}${b.nth === undefined ? '' : ` ${b.nth}`}`;
export const voidedId = (press: number): string => `voided ${press}`;
export const gapId = (seq: number): string => `gap ${seq}`;
export const skippedId = (reason: string): string => `skipped ${reason}`;

/** A gap that is shorter is nothing to sign for, in ms. */
const TOLD_FROM_MS = 1000;

function skippedByReason(state: CaseState): ReadonlyMap<string, readonly SkippedSteps[]> {
  const byReason = new Map<string, Map<string, SubjectId[]>>();
  for (const { key, step, subject } of layoutOf(state).instances) {
    const run = state.runs[key];
    if (run?.status !== 'skipped') continue;
    const reason = run.reason ?? '';
    const steps = byReason.get(reason) ?? new Map<string, SubjectId[]>();
    steps.set(step.id, [...(steps.get(step.id) ?? []), subject]);
    byReason.set(reason, steps);
  }
  return new Map(
    [...byReason].map(([reason, steps]) => [
      reason,
      [...steps].map(([step, subjects]) => ({ step, subjects })),
    ]),
  );
}

/** All of them, in the order in which the record tells them, each with the words that were added. */
export function signItems(state: CaseState): readonly SignItem[] {
  const of = (id: string) => ({
    id,
    said: state.notes.filter(({ about }) => about === id).map(({ words }) => words),
  });
  const gaps = state.gaps.filter(({ hiMs }) => hiMs >= TOLD_FROM_MS);
  return [
    ...state.breaches.map((b) => ({ ...of(breachId(b)), kind: 'breach' as const, breach: b })),
    ...state.waysBack.map(({ press, wayBack, mishap, subjects, reason }) => ({
      ...of(voidedId(press)),
      kind: 'voided' as const,
      ...{ wayBack, mishap, subjects, reason },
    })),
    ...gaps.map((gap) => ({ ...of(gapId(gap.seq)), kind: 'gap' as const, gap })),
    ...[...skippedByReason(state)].map(([reason, steps]) => ({
      ...of(skippedId(reason)),
      kind: 'skipped' as const,
      ...{ reason, steps },
    })),
  ];
}
