/** The one number and the one word of the far view. Pure. */
import type { Clock } from '../../engine/view-types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import type { RunningClock } from '../parts/WindowList.tsx';
import { headingOf, ownClock, watchedClocks } from './chair-model.ts';

interface FarViewModel {
  /** "Etching gel on enamel". */
  readonly doing: string;
  /** "12"; absent when it is for the whole case. */
  readonly subject?: string;
  /** The clock of what is in hand. */
  readonly clock: Clock | null;
  /** What is watched beside it, and the working time while cement is out. */
  readonly watched: readonly RunningClock[];
}

export function farViewModel(running: RunningCase): FarViewModel {
  return {
    ...headingOf(running),
    clock: ownClock(running),
    watched: watchedClocks(running),
  };
}
