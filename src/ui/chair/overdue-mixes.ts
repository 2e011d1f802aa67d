import { layoutOf } from '../../engine/layout.ts';
import type { SubjectId } from '../../protocol/subjects.ts';
import type { RunningCase } from '../../runtime/app-state.ts';

/** Mixes whose working time has run out, or may have, by the clocks that stand on the screen. */
export function overdueMixes({ log, view }: RunningCase): readonly SubjectId[] {
  const { subjects } = layoutOf(log.state);
  const over = view.clocks.filter(
    ({ protects, maxMs, elapsed }) =>
      protects === 'working' && maxMs !== null && elapsed.hiMs > maxMs,
  );
  return [...new Set(over.flatMap((c) => c.subjects.flatMap((s) => subjects.linked(s, 'mix'))))];
}
