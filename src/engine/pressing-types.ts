/** What a press carries that stands for more than one thing at one instant. */
import type { SubjectId } from '../protocol/subjects.ts';
import type { Surface } from '../protocol/types.ts';

/**
 * What a line of a list is answered with before it can be taken; null where it is ticked already. `tick`: by
 * hand, because nothing of what is read aloud was noted.
 */
export type Wants = 'tick' | 'option' | 'choice' | 'reading' | 'material' | 'note' | null;

/** One line of a list: a step on its subjects. */
export interface ListLine {
  readonly step: string;
  readonly subjects: readonly SubjectId[];
  readonly wants: Wants;
}

/** A line that a press takes, with its answer. */
export interface TakenLine {
  readonly step: string;
  readonly subjects: readonly SubjectId[];
  /** The option of a choice. */
  readonly option?: string;
  /** A value, in words. */
  readonly evidence?: string;
}

/** One place of a pass of light. */
export interface PassPlace {
  readonly subject: SubjectId;
  readonly surface: Surface;
  readonly position: number;
  /** What the lamp is set to, in ms. */
  readonly setMs: number;
  /** Which of several presses on the same position in one pass, from 2 on; absent for the first. */
  readonly nth?: number;
}

/** A place of a pass with when it is due: in ms from the press that began the pass. */
export interface TimedPlace extends PassPlace {
  readonly fromMs: number;
}

/** How long each subject of a sweep takes, in order, in ms. */
export interface SweepMs {
  readonly shortestMs: number;
  readonly longestMs: number;
}

/** How it is known when a run began or ended, where it was not pressed for itself. */
export type KnownBy = 'list' | 'swept' | 'implied' | 'paced';
