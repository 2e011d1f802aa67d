/** What the page and its planning thread say to each other. */
import type { DrillAccount } from '../../drill/account.ts';
import type { DrillCourse } from '../../drill/course.ts';
import type { DrillPlan } from '../../drill/drill-types.ts';
import type { Refusal } from '../../engine/commands.ts';
import type { Drilled } from '../../engine/drilled-types.ts';
import type { RunPlan } from '../../engine/run-plan-types.ts';
import type { CaseState, Recorded } from '../../engine/types.ts';
import type { OutcomesInput, OutcomesModel } from '../../outcomes/model/outcomes-types.ts';
import type { Compared } from '../../outcomes/review-types.ts';
import type { Alternative } from '../../plan/alternatives.ts';
import type { EffectInput, PlanEffect } from '../../plan/effect.ts';
import type { FullPlan } from '../../plan/make-plan.ts';
import type { PlanTables } from '../../plan/plan-tables.ts';
import type { Replan } from '../../plan/replan.ts';
import type { Timeline } from '../../plan/timeline.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { Mishap, Protocol } from '../../protocol/types.ts';

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

/** What is asked of a drill. */
export type DrillQuestion =
  | {
      readonly ask: 'draw';
      readonly spec: CaseFile;
      readonly protocol: Protocol;
      readonly protocolHash: string;
      readonly tables: PlanTables | null;
      readonly seed: number;
      readonly toward: readonly Mishap[];
    }
  /** What the drill of a log holds, or would hold if it were another one. */
  | {
      readonly ask: 'course';
      readonly records: readonly Recorded[];
      readonly drill: Drilled;
    }
  /** What a drill that is over came to. */
  | { readonly ask: 'account'; readonly records: readonly Recorded[] };

/** The case of a drill has a function, which no message carries: who asks knows the case. */
export type CourseFound = Omit<DrillCourse, 'drilled'>;
export type AccountFound = Omit<DrillAccount, 'course'> & { readonly course: CourseFound };

/** What is answered; null where this version draws something else from the seed. */
export type DrillAnswer =
  | {
      readonly found: 'drawn';
      /** The plan that the case is opened with. */
      readonly plan: RunPlan;
      readonly drawn: DrillPlan;
      /** What is played before people take over. */
      readonly records: readonly Recorded[];
    }
  /** The case cannot be opened. */
  | { readonly found: 'refused'; readonly refusal: Refusal }
  | { readonly found: 'course'; readonly course: CourseFound | null }
  | { readonly found: 'account'; readonly account: AccountFound | null };

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
  | { readonly type: 'drill'; readonly job: number; readonly question: DrillQuestion }
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
  | { readonly type: 'drill'; readonly job: number; readonly answer: DrillAnswer }
  | { readonly type: 'compared'; readonly job: number; readonly effect: PlanEffect }
  | { readonly type: 'failed'; readonly job: number; readonly line: string };
