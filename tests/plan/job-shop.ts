/** Job shops for tests: each job a chain of operations, each operation one machine for a time. */
import type {
  ScheduleArc,
  ScheduleProblem,
  ScheduleTask,
} from '../../src/plan/schedule-problem.ts';

/**
 * The 6x6 instance of Fisher & Thompson, "Probabilistic learning combinations of local job-shop
 * scheduling rules", in Muth & Thompson (eds.), Industrial Scheduling, Prentice-Hall 1963,
 * pp. 225-251: machine and time of each operation, one job a row. Its shortest makespan is 55.
 */
export const FISHER_THOMPSON_6X6: readonly (readonly number[])[] = [
  [2, 1, 0, 3, 1, 6, 3, 7, 5, 3, 4, 6],
  [1, 8, 2, 5, 4, 10, 5, 10, 0, 10, 3, 4],
  [2, 5, 3, 4, 5, 8, 0, 9, 1, 1, 4, 7],
  [1, 5, 0, 5, 2, 5, 3, 3, 4, 8, 5, 9],
  [2, 9, 1, 3, 4, 5, 5, 4, 0, 3, 3, 1],
  [1, 3, 3, 3, 5, 9, 0, 10, 4, 4, 2, 1],
];

/** The problem of a job shop given as rows of machine, time, machine, time ... */
export function jobShop(jobs: readonly (readonly number[])[]): ScheduleProblem {
  const tasks: ScheduleTask[] = [];
  const arcs: ScheduleArc[] = [];
  for (const job of jobs) {
    for (let at = 0; at < job.length; at += 2) {
      const task = tasks.length;
      const before = tasks[task - 1];
      tasks.push({ durationMs: job[at + 1] ?? 0, ways: [1 << (job[at] ?? 0)] });
      if (at > 0) arcs.push({ from: task - 1, to: task, gainMs: before?.durationMs ?? 0 });
    }
  }
  return { tasks, arcs };
}
