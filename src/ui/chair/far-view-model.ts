/** The one number and the one word of the far view. Pure. */
import type { Clock } from '../../engine/view-types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { farViewWords } from '../../words/far-view-words.ts';
import type { RunningClock } from '../parts/WindowList.tsx';
import { namingOf } from '../shared/arch-model.ts';
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
  const naming = namingOf(running);
  const top = running.view.offers[0];
  const isClosed = running.log.state.closed !== null;
  const heading = top
    ? headingOf(top, naming)
    : { doing: isClosed ? farViewWords.closed : farViewWords.allDone };
  return {
    ...heading,
    clock: ownClock(running),
    watched: watchedClocks(running),
  };
}
