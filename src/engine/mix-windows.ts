/** The working times of portions of cement, as against that of an adhesive. */
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
