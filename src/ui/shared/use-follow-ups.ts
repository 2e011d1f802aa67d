/** Lets screens read the follow-up. Its code and its entries are read when the first of them opens. */
import { useStore } from 'zustand';
import { FIRST_FOLLOW_UPS, type FollowUpsState } from '../../runtime/follow-up/follow-up-state.ts';
import type { FollowUps } from '../../runtime/follow-up/follow-ups.ts';
import type { Readable } from '../../runtime/readable.ts';
import { useSession } from './session-context.ts';
import { useLoaded } from './use-loaded.ts';

const UNREAD: Readable<FollowUpsState> = {
  getState: () => FIRST_FOLLOW_UPS,
  getInitialState: () => FIRST_FOLLOW_UPS,
  subscribe: () => () => undefined,
};

export interface ReadFollowUps {
  readonly phase: 'reading' | 'read' | 'failed';
  /** Null until it was read. */
  readonly followUps: FollowUps | null;
  readonly state: FollowUpsState;
}

/** The follow-up of this window, read anew for the day on which the screen opens. */
export function useFollowUps(): ReadFollowUps {
  const session = useSession();
  const open = async (): Promise<FollowUps> => {
    const followUps = await session.followUps();
    const opened = await followUps.open();
    if (!opened.ok) throw new Error(opened.error.code);
    return followUps;
  };
  const loaded = useLoaded(open, [session]);
  const followUps = loaded.value ?? null;
  const state = useStore(followUps?.state ?? UNREAD);
  const phase = followUps !== null ? 'read' : loaded.state === 'failed' ? 'failed' : 'reading';
  return { phase, followUps, state };
}
