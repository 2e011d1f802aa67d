/** Lets screens of the clinic lead's desk reach it and read its state. */
import { createContext, useContext } from 'react';
import { useStore } from 'zustand';
import { present } from '../../base/assert.ts';
import type { LeadDesk } from '../../runtime/lead/lead.ts';
import type { LeadState } from '../../runtime/lead/lead-state.ts';

export const LeadContext = createContext<LeadDesk | null>(null);

export function useLeadDesk(): LeadDesk {
  return present(useContext(LeadContext), 'desk');
}

/** Reads one part of the state and draws again when it changes. */
export function useLead<T>(pick: (state: LeadState) => T): T {
  return useStore(useLeadDesk().state, pick);
}
