/** The planning thread without a browser. */
import { vi } from 'vitest';
import type { PlanAnswer, PlanRequest } from '../../src/runtime/planner/plan-messages.ts';
import type { PlanWorkerLike } from '../../src/runtime/planner/planner.ts';

/**
 * The planning thread itself, in this process: it posts to `self` and listens there. What is said between the two
 * is copied, as a browser copies it. Whoever asks for it unstubs the globals afterwards.
 */
export async function planningThread(): Promise<() => PlanWorkerLike> {
  let hear: (event: { data: PlanRequest }) => void = () => undefined;
  let answer: (event: { data: PlanAnswer }) => void = () => undefined;
  vi.stubGlobal('self', {
    postMessage: (data: PlanAnswer) => answer({ data: structuredClone(data) }),
    addEventListener: (_: string, listener: typeof hear) => {
      hear = listener;
    },
  });
  // By its address: the types of a worker are not those of this project.
  await import(new URL('../../src/runtime/planner/plan.worker.ts', import.meta.url).href);
  return () => ({
    postMessage: (data) => hear({ data: structuredClone(data) }),
    addEventListener: (_, listener) => {
      answer = listener;
    },
    terminate: () => undefined,
  });
}
