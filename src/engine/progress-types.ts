/** How far a tooth of a case has come, for the arch and the record. */
import type { Surface } from '../protocol/types.ts';

export type SubjectState = 'waiting' | 'active' | 'running' | 'done' | 'over' | 'short' | 'skipped';

export interface SurfaceProgress {
  readonly surface: Surface;
  readonly givenMs: number;
  readonly setMs: number;
  readonly state: 'waiting' | 'running' | 'done' | 'short';
}

export interface ToothProgress {
  readonly tooth: string;
  readonly unit: string;
  readonly done: number;
  readonly total: number;
  readonly state: SubjectState;
  /** The step that is running or next on this tooth or its unit. */
  readonly step: string | null;
  /** The last step done on it that says where it leaves the tooth; null before the first. */
  readonly reached: string | null;
  readonly surfaces: readonly SurfaceProgress[];
}
