/** Tells when another window or tablet said something that pages of drills tell. */
import { useStore } from 'zustand';
import { useSession } from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';

const NOTHING = { times: 0 };
const SILENT = {
  getState: () => NOTHING,
  getInitialState: () => NOTHING,
  subscribe: () => () => undefined,
};

/** A number that changes with each such word. */
export function useHeard(): number {
  const session = useSession();
  const drills = useLoaded(() => session.drills(), [session]);
  return useStore(drills.value?.heard ?? SILENT, ({ times }) => times);
}
