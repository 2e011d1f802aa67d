/** Skipping what is left at once, with one reason: of a unit that is set aside, of a visit that is stopped. */
import type { Instance } from './layout.ts';
import type { Status } from './status.ts';
import type { CaseEvent } from './types.ts';

const LEFT: readonly Status[] = ['open', 'blocked', 'running'];

/** Whether a step is still to be done or ended. */
export const isLeft = (status: Status): boolean => LEFT.includes(status);

/** One skip for each step, in the order given. */
export function skipsOf(instances: readonly Instance[], reason: string): readonly CaseEvent[] {
  const byStep = new Map<string, string[]>();
  for (const { step, subject } of instances) {
    byStep.set(step.id, [...(byStep.get(step.id) ?? []), subject]);
  }
  return [...byStep].map(([step, subjects]) => ({ type: 'step-skipped', step, subjects, reason }));
}
