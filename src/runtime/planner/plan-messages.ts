/** What the page and its planning thread say to each other. */
import type { CaseState } from '../../engine/types.ts';
import type { Alternative } from '../../plan/alternatives.ts';
import type { EffectInput, PlanEffect } from '../../plan/effect.ts';
import type { FullPlan } from '../../plan/make-plan.ts';
import type { PlanTables } from '../../plan/plan-tables.ts';
import type { Replan } from '../../plan/replan.ts';
import type { Timeline } from '../../plan/timeline.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { Protocol } from '../../protocol/types.ts';

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
  | { readonly type: 'compared'; readonly job: number; readonly effect: PlanEffect }
  | { readonly type: 'failed'; readonly job: number; readonly line: string };
