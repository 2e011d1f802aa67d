/** What the page and its planning thread say to each other. */
import type { CaseState } from '../../engine/types.ts';
import type { OutcomesInput, OutcomesModel } from '../../outcomes/model/outcomes-types.ts';
import type { Compared } from '../../outcomes/review-types.ts';
import type { Alternative } from '../../plan/alternatives.ts';
import type { EffectInput, PlanEffect } from '../../plan/effect.ts';
import type { FullPlan } from '../../plan/make-plan.ts';
import type { PlanTables } from '../../plan/plan-tables.ts';
import type { Replan } from '../../plan/replan.ts';
import type { Timeline } from '../../plan/timeline.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { Protocol } from '../../protocol/types.ts';

/** What is asked of the outcomes. */
export type OutcomesQuestion =
  | { readonly ask: 'model'; readonly input: OutcomesInput }
  | { readonly ask: 'review'; readonly input: OutcomesInput; readonly seed: number };

/** What is answered: the page, or how far a review is and what it found. */
export type OutcomesAnswer =
  | { readonly found: 'model'; readonly model: OutcomesModel }
  | { readonly found: 'part'; readonly done: number; readonly of: number }
  | { readonly found: 'compared'; readonly compared: readonly Compared[] }
  | { readonly found: 'failed'; readonly line: string };

/** From the page. Each job has an id; a later job of one kind makes an earlier one pointless. */
export type PlanRequest =
  | { readonly type: 'compare'; readonly job: number; readonly input: EffectInput }
  | {
      readonly type: 'plan';
      readonly job: number;
      readonly spec: CaseFile;
      readonly protocol: Protocol;
      readonly tables: PlanTables | null;
    }
  | { readonly type: 'opening'; readonly job: number; readonly state: CaseState }
  | { readonly type: 'outcomes'; readonly job: number; readonly question: OutcomesQuestion }
  /** Nobody waits for this job any more. */
  | { readonly type: 'stop'; readonly job: number }
  | {
      readonly type: 'replan';
      readonly job: number;
      readonly state: CaseState;
      readonly nowMs: number;
    };

/** From the thread. */
export type PlanAnswer =
  | {
      readonly type: 'planned';
      readonly job: number;
      readonly plan: FullPlan;
      /** How many alternatives will follow. */
      readonly alternatives: number;
    }
  | {
      readonly type: 'alternative';
      readonly job: number;
      readonly alternative: Alternative;
      readonly done: number;
      readonly of: number;
    }
  | { readonly type: 'replanned'; readonly job: number; readonly replan: Replan }
  | { readonly type: 'opening'; readonly job: number; readonly timeline: Timeline }
  | { readonly type: 'outcomes'; readonly job: number; readonly answer: OutcomesAnswer }
  | { readonly type: 'compared'; readonly job: number; readonly effect: PlanEffect }
  | { readonly type: 'failed'; readonly job: number; readonly line: string };
