/** The one number and the one word of the far view. Pure. */
import type { Clock } from '../../engine/view-types.ts';
import type { AppState, RunningCase } from '../../runtime/app-state.ts';
import type { TabletRow } from '../../runtime/sharing/sharing-state.ts';
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

/** A tablet that says what runs there every two seconds is not heard of any more after this, in ms. */
const HEARD_WITHIN_MS = 10_000;

/** What the far view of a tablet shows while no case of its own runs there. */
interface FollowModel {
  /** The other tablets of the clinic, by name; empty on a tablet that is alone. */
  readonly tablets: readonly (TabletRow & { readonly isHeard: boolean })[];
  /** The one that was chosen, while it is one of the clinic's. */
  readonly chosen: (TabletRow & { readonly isHeard: boolean }) | null;
}

export function followModel(
  { sharing, settings }: Pick<AppState, 'sharing' | 'settings'>,
  nowMs: number,
): FollowModel {
  const tablets = sharing.tablets
    .filter((t) => !t.isThis && t.isEarlier !== true && t.standing === 'paired')
    .map((t) => ({
      ...t,
      isHeard:
        sharing.line === 'open' &&
        t.lastContactWallMs !== null &&
        nowMs - t.lastContactWallMs < HEARD_WITHIN_MS,
    }))
    .toSorted((a, b) => (a.name < b.name ? -1 : 1));
  const shown = sharing.standing === 'paired' ? tablets : [];
  return { tablets: shown, chosen: shown.find((t) => t.device === settings.farViewOf) ?? null };
}

/** What becomes of the picture: a case to follow, none any more, or it stays as it is. */
export function toFollow({ chosen }: FollowModel): string | 'none' | 'as-it-is' {
  if (chosen === null) return 'none';
  if (chosen.runs !== null) return chosen.runs.caseId;
  // What is not heard of may still run: its picture stays, and says that it is not live.
  return chosen.isHeard ? 'none' : 'as-it-is';
}
