/** Portions of cement: their working times, as against that of an adhesive, and what puts them into a unit. */
import type { Step } from '../protocol/types.ts';
import type { Layout, WindowPair } from './layout.ts';

const known = new WeakMap<Layout, readonly WindowPair[]>();

/** Windows that protect a working time and begin with a step of a mix; the same list for one layout. */
export function mixWindows(layout: Layout): readonly WindowPair[] {
  const hit = known.get(layout);
  if (hit) return hit;
  const made = layout.windows.filter(
    ({ window, from }) =>
      window.protects === 'working' && layout.byKey.get(from)?.step.per === 'mix',
  );
  known.set(layout, made);
  return made;
}

/** Whether a step puts cement into a unit: what is read aloud there is how it is loaded. */
export function isLoading({ action }: Step): boolean {
  if (action.kind !== 'confirm' || action.evidence?.kind !== 'read-back') return false;
  return action.evidence.of === 'loading';
}
