/** Lets screens of the clinic lead's desk read its state. */
import { useSyncExternalStore } from 'react';
import type { LeadDesk } from '../../runtime/lead.ts';
import type { LeadState } from '../../runtime/lead-state.ts';
import { useSession } from '../app/session-context.ts';

export function useLeadDesk(): LeadDesk {
  return useSession().lead;
}

/** Reads one part of the state and draws again when it changes. */
export function useLead<T>(pick: (state: LeadState) => T): T {
  const { state } = useLeadDesk();
  return useSyncExternalStore(state.subscribe, () => pick(state.get()));
}
