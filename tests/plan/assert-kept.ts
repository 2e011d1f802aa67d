import { assert } from '../../src/base/assert.ts';
import { ORIGIN, type Schedule, type ScheduleProblem } from '../../src/plan/schedule-problem.ts';

/** Throws when a schedule breaks its problem. */
export function assertKept(problem: ScheduleProblem, schedule: Schedule): void {
  const { tasks, arcs } = problem;
  const startOf = (task: number): number =>
    task === ORIGIN ? 0 : (schedule.startMs[task] ?? Number.NaN);
  for (const arc of arcs) {
    const room = startOf(arc.to) - startOf(arc.from) - arc.gainMs;
    assert(room >= -1e-3, `arc ${arc.from} -> ${arc.to} is broken by ${-room} ms`);
  }
  const inTime = tasks.map((_, i) => i).sort((a, b) => startOf(a) - startOf(b));
  for (const [at, a] of inTime.entries()) {
    const endMs = startOf(a) + (tasks[a]?.durationMs ?? 0);
    for (const b of inTime.slice(at + 1)) {
      if (startOf(b) >= endMs - 1e-3) break;
      const shared = (schedule.staff[a] ?? 0) & (schedule.staff[b] ?? 0);
      const overlap = Math.min(endMs, startOf(b) + (tasks[b]?.durationMs ?? 0)) - startOf(b);
      assert(shared === 0 || overlap <= 1e-3, `tasks ${a} and ${b} need one resource at a time`);
    }
  }
}
