/** What the plan hands the chair: who goes with whom, in which order, and what each surface receives. */
import type { SubjectId } from '../protocol/subjects.ts';
import type { Surface } from '../protocol/types.ts';

/** Why a surface is given the time it is given, for the line beside the press. */
export interface LightReason {
  /** The product's own time for one position. */
  readonly productMs?: number;
  /** What the dose takes before it is rounded up to the lamp's programmes. */
  readonly doseMs?: number;
  readonly doseJPerCm2?: number;
  /** What the light passes on its way; absent where it meets no ceramic. */
  readonly behindMm?: number;
  /** The dose would take more than a ceiling of light allows: this is what it allows. */
  readonly isHeld?: boolean;
}

/** Exposure wanted for one surface of one unit or tooth, in one or more positions of the tip. */
export interface SurfacePlan {
  readonly surface: Surface;
  /** For one position, all its presses together. */
  readonly setMs: number;
  /** What the lamp is set to, press by press, where one position takes more than one. */
  readonly presses?: readonly number[];
  readonly positions: number;
  /** Which of the two decided: the product's time, or the dose through this ceramic. */
  readonly decidedBy: 'product' | 'dose';
  readonly reason?: LightReason;
  /**
   * The rectangle around the outline of the surface and where on it the tip is held, one spot for each position,
   * in mm from its lower left corner. Absent when one position is aimed by eye.
   */
  readonly covers?: {
    readonly widthMm: number;
    readonly heightMm: number;
    readonly spots: readonly { readonly xMm: number; readonly yMm: number }[];
  };
}

/** What the plan fixes for a run: who goes with whom, in which order, for how long. */
export interface RunPlan {
  /** Unit ids in seating order. */
  readonly order: readonly string[];
  /** Unit ids of each mix, first mix first. */
  readonly mixes: readonly (readonly string[])[];
  /** For each step that leads rounds: the subjects of each round, in order. */
  readonly rounds: Readonly<Record<string, readonly (readonly SubjectId[])[]>>;
  /**
   * For each exposing step and the unit or tooth that it is done to, by its bare id: what each
   * surface is to receive.
   */
  readonly exposures: Readonly<Record<string, Readonly<Record<string, readonly SurfacePlan[]>>>>;
  /** In the same order: how long it rests before the next exposure; else what the step says. */
  readonly restMs?: Readonly<Record<string, Readonly<Record<string, number>>>>;
  /**
   * Maxima of windows that this room makes shorter than the protocol says, by window id, in ms. Only
   * those that are shorter are named.
   */
  readonly windowMaxMs?: Readonly<Record<string, number>>;
  /** By paced light step: the team's own time between two places, in ms; else what the step says. */
  readonly changeMs?: Readonly<Record<string, number>>;
}
