/** Lets the pages of the product sheets read what is kept and what is being typed. */
import { useEffect } from 'react';
import { useStore } from 'zustand';
import type { Reader } from '../../../protocol/sheet-draft.ts';
import type { SheetState } from '../../../runtime/lead/sheet-desk.ts';
import { useTimes } from '../../shared/session-context.ts';
import { useLead, useLeadDesk } from '../use-lead.ts';

/** Reads one part of the state and draws again when it changes. */
export function useSheets<T>(pick: (state: SheetState) => T): T {
  return useStore(useLeadDesk().sheets.state, pick);
}

/** Reads the sheets when one of their pages is opened. */
export function useSheetsRead(): void {
  const { sheets } = useLeadDesk();
  useEffect(() => void sheets.refresh(), [sheets]);
}

/** Who sits at the desk, and the day in the clinic. */
export function useReader(): Reader {
  const desk = useLeadDesk();
  const by = useLead((s) => s.keeper) ?? '';
  const on = useTimes().isoDay(desk.nowWallMs());
  return { by, on };
}
