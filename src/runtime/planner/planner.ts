/**
 * The page's side of the planning thread: starts a job, tells its progress, cancels it. Cancelling a plan
 * ends the thread; a new one takes over what others still wait for. A thread that breaks tells everybody who waits.
 */
import type { CaseState } from '../../engine/types.ts';
import type { Alternative } from '../../plan/alternatives.ts';
import type { EffectInput, PlanEffect } from '../../plan/effect.ts';
import type { FullPlan } from '../../plan/make-plan.ts';
import type { PlanTables } from '../../plan/plan-tables.ts';
import type { Replan } from '../../plan/replan.ts';
import type { Timeline } from '../../plan/timeline.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { Protocol } from '../../protocol/types.ts';
import type {
  DrillAnswer,
  DrillQuestion,
  OutcomesAnswer,
  OutcomesQuestion,
  PlanAnswer,
  PlanRequest,
} from './plan-messages.ts';

/** The part of a dedicated worker that is used. */
export interface PlanWorkerLike {
  postMessage(request: PlanRequest): void;
  addEventListener(type: 'message', listener: (event: { readonly data: PlanAnswer }) => void): void;
  terminate(): void;
}

/** How far a plan is. */
export interface Planning {
  readonly plan: FullPlan | null;
  readonly alternatives: readonly Alternative[];
  /** Alternatives still to come; 0 when it is done. */
  readonly left: number | null;
  readonly failed: string | null;
}

export interface Planner {
  /** The reference tables that are planned with; null when they could not be read. */
  readonly tables: PlanTables | null;
  /** Plans a prepared case; returns the way to cancel. */
  plan(
    o: { readonly spec: CaseFile; readonly protocol: Protocol },
    onProgress: (planning: Planning) => void,
  ): () => void;
  /** Plans one case with two protocols; returns the way to stop waiting. */
  compare(o: Omit<EffectInput, 'tables'>, onAnswer: (effect: PlanEffect) => void): () => void;
  /** The timeline a case was opened with, null when it cannot be worked out; returns the way to stop waiting. */
  opening(state: CaseState, onAnswer: (timeline: Timeline | null) => void): () => void;
  /** Answers one question of the outcomes, in parts; returns the way to stop, null where there are no workers. */
  outcomes(
    question: OutcomesQuestion,
    onAnswer: (answer: OutcomesAnswer) => void,
  ): (() => void) | null;
  /**
   * Answers one question of a drill; null where there are no workers.
   * @throws Error where the thread breaks.
   */
  drill(question: DrillQuestion): Promise<DrillAnswer> | null;
  /** Plans the rest of a running case. Only the newest question is answered. */
  replan(state: CaseState, nowMs: number, onAnswer: (found: Replan) => void): void;
}

const NOTHING: Planning = { plan: null, alternatives: [], left: null, failed: null };

/** Starts a thread; `onBroken` is told when its code cannot be loaded, or it breaks. */
export type SpawnPlanWorker = (onBroken: (line: string) => void) => PlanWorkerLike;

interface Job {
  readonly request: PlanRequest;
  readonly hear: (answer: PlanAnswer) => void;
}

/** Whether nothing more comes after this answer. */
function isLast(answer: PlanAnswer): boolean {
  if (answer.type === 'planned') return answer.alternatives === 0;
  if (answer.type === 'alternative') return answer.done === answer.of;
  return answer.type !== 'outcomes' || answer.answer.found !== 'part';
}

/** A thread remembers that a file of its code did not come, and would never fetch it again. */
const isFailed = (answer: PlanAnswer): boolean =>
  answer.type === 'failed' || (answer.type === 'outcomes' && answer.answer.found === 'failed');

/** One thread at a time, and what is asked of it. */
class PlanThread {
  readonly #spawn: SpawnPlanWorker;
  #worker: PlanWorkerLike | null = null;
  #count = 0;
  readonly #jobs = new Map<number, Job>();

  constructor(spawn: SpawnPlanWorker) {
    this.#spawn = spawn;
  }

  get #open(): PlanWorkerLike {
    if (this.#worker !== null) return this.#worker;
    const worker = this.#spawn((line) => this.#broke(worker, line));
    worker.addEventListener('message', ({ data }) => {
      const job = this.#jobs.get(data.job);
      if (isLast(data)) this.#jobs.delete(data.job);
      if (isFailed(data)) this.#renew();
      job?.hear(data);
    });
    this.#worker = worker;
    return worker;
  }

  /** The next question starts a new thread. */
  #broke(worker: PlanWorkerLike, line: string): void {
    if (this.#worker !== worker) return;
    worker.terminate();
    this.#worker = null;
    const waiting = [...this.#jobs];
    this.#jobs.clear();
    for (const [job, { hear }] of waiting) hear({ type: 'failed', job, line });
  }

  /** @returns the number of the job. */
  ask(request: (job: number) => PlanRequest, hear: Job['hear']): number {
    this.#count += 1;
    const asked = request(this.#count);
    this.#jobs.set(this.#count, { request: asked, hear });
    this.#open.postMessage(asked);
    return this.#count;
  }

  /** Nobody waits for its answers any more; the thread may go on with it. */
  forget(job: number): void {
    this.#jobs.delete(job);
  }

  /** The thread ends with a job that it must not go on with; what others wait for is asked of a new one. */
  cancel(job: number): void {
    if (this.#jobs.delete(job)) this.#renew();
  }

  /** What is waited for is asked of a new thread. */
  #renew(): void {
    this.#worker?.terminate();
    this.#worker = null;
    for (const { request } of this.#jobs.values()) this.#open.postMessage(request);
  }

  /** The thread is told to go no further with a job. */
  stop(job: number): void {
    if (this.#jobs.delete(job)) this.#worker?.postMessage({ type: 'stop', job });
  }
}

/** Makes the planner of a page. `spawn` is undefined where there are no workers: it then stays silent. */
export function createPlanner(options: {
  readonly spawn: SpawnPlanWorker | undefined;
  readonly tables: PlanTables | null;
}): Planner {
  const { spawn, tables } = options;
  if (spawn === undefined) return silentPlanner(tables);
  const thread = new PlanThread(spawn);
  let replanJob = 0;
  return {
    tables,
    plan(o, onProgress) {
      let planning = NOTHING;
      const job = thread.ask(
        (job) => ({ type: 'plan', job, ...o, tables }),
        (answer) => {
          planning = advance(planning, answer);
          onProgress(planning);
        },
      );
      return () => thread.cancel(job);
    },
    compare(o, onAnswer) {
      const job = thread.ask(
        (job) => ({ type: 'compare', job, input: { ...o, tables } }),
        (answer) => {
          if (answer.type === 'compared') onAnswer(answer.effect);
        },
      );
      return () => thread.forget(job);
    },
    opening(state, onAnswer) {
      const job = thread.ask(
        (job) => ({ type: 'opening', job, state }),
        (answer) => onAnswer(answer.type === 'opening' ? answer.timeline : null),
      );
      return () => thread.forget(job);
    },
    outcomes(question, onAnswer) {
      const job = thread.ask(
        (job) => ({ type: 'outcomes', job, question }),
        (answer) => {
          if (answer.type === 'outcomes') onAnswer(answer.answer);
          if (answer.type === 'failed') onAnswer({ found: 'failed', line: answer.line });
        },
      );
      return () => thread.stop(job);
    },
    drill: (question) =>
      new Promise((resolve, reject) => {
        thread.ask(
          (job) => ({ type: 'drill', job, question }),
          (answer) => {
            if (answer.type === 'drill') resolve(answer.answer);
            if (answer.type === 'failed') reject(new Error(answer.line));
          },
        );
      }),
    replan(state, nowMs, onAnswer) {
      thread.forget(replanJob);
      replanJob = thread.ask(
        (job) => ({ type: 'replan', job, state, nowMs }),
        (answer) => {
          if (answer.type === 'replanned') onAnswer(answer.replan);
        },
      );
    },
  };
}

const silentPlanner = (tables: PlanTables | null): Planner => ({
  tables,
  plan: () => () => undefined,
  compare: () => () => undefined,
  opening: () => () => undefined,
  outcomes: () => null,
  drill: () => null,
  replan: () => undefined,
});

function advance(before: Planning, answer: PlanAnswer): Planning {
  switch (answer.type) {
    case 'planned':
      return { ...before, plan: answer.plan, left: answer.alternatives };
    case 'alternative': {
      const alternatives = [...before.alternatives, answer.alternative];
      return { ...before, alternatives, left: answer.of - answer.done };
    }
    case 'failed':
      return { ...before, failed: answer.line };
    case 'compared':
    case 'drill':
    case 'opening':
    case 'outcomes':
    case 'replanned':
      return before;
  }
}
