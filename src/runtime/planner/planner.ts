/**
 * The page's side of the planning thread: starts a job, tells its progress, cancels it. Cancelling
 * ends the thread; the next job starts a new one.
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
import type { OutcomesAnswer, OutcomesQuestion, PlanAnswer, PlanRequest } from './plan-messages.ts';

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
  /** Plans the rest of a running case. Only the newest question is answered. */
  replan(state: CaseState, nowMs: number, onAnswer: (found: Replan) => void): void;
}

const NOTHING: Planning = { plan: null, alternatives: [], left: null, failed: null };

/** Makes the planner of a page. `spawn` is undefined where there are no workers: it then stays silent. */
export function createPlanner(options: {
  readonly spawn: (() => PlanWorkerLike) | undefined;
  readonly tables: PlanTables | null;
}): Planner {
  const { spawn, tables } = options;
  let worker: PlanWorkerLike | null = null;
  let jobs = 0;
  const listeners = new Map<number, (answer: PlanAnswer) => void>();
  const open = (): PlanWorkerLike | null => {
    if (worker === null && spawn !== undefined) {
      worker = spawn();
      worker.addEventListener('message', ({ data }) => listeners.get(data.job)?.(data));
    }
    return worker;
  };
  let replanJob = 0;
  return {
    tables,
    plan(o, onProgress) {
      jobs += 1;
      const job = jobs;
      let planning = NOTHING;
      listeners.set(job, (answer) => {
        planning = advance(planning, answer);
        onProgress(planning);
      });
      open()?.postMessage({ type: 'plan', job, ...o, tables });
      return () => {
        listeners.delete(job);
        worker?.terminate();
        worker = null;
      };
    },
    compare(o, onAnswer) {
      jobs += 1;
      const job = jobs;
      listeners.set(job, (answer) => {
        if (answer.type === 'compared') onAnswer(answer.effect);
      });
      open()?.postMessage({ type: 'compare', job, input: { ...o, tables } });
      return () => {
        listeners.delete(job);
      };
    },
    opening(state, onAnswer) {
      jobs += 1;
      const job = jobs;
      listeners.set(job, (answer) => {
        onAnswer(answer.type === 'opening' ? answer.timeline : null);
      });
      open()?.postMessage({ type: 'opening', job, state });
      return () => {
        listeners.delete(job);
      };
    },
    outcomes(question, onAnswer) {
      jobs += 1;
      const job = jobs;
      listeners.set(job, (answer) => {
        if (answer.type === 'outcomes') onAnswer(answer.answer);
      });
      const thread = open();
      thread?.postMessage({ type: 'outcomes', job, question });
      return (
        thread &&
        (() => {
          listeners.delete(job);
          thread.postMessage({ type: 'stop', job });
        })
      );
    },
    replan(state, nowMs, onAnswer) {
      jobs += 1;
      listeners.delete(replanJob);
      replanJob = jobs;
      listeners.set(replanJob, (answer) => {
        if (answer.type === 'replanned') onAnswer(answer.replan);
      });
      open()?.postMessage({ type: 'replan', job: replanJob, state, nowMs });
    },
  };
}

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
    case 'opening':
    case 'outcomes':
    case 'replanned':
      return before;
  }
}
