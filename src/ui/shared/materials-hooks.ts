/** Lets screens read the stock list and the list of cases. */
import { useEffect } from 'react';
import { useStore } from 'zustand';
import type { CasesListState } from '../../runtime/cases/cases-list.ts';
import type { StockState } from '../../runtime/stock/stock.ts';
import { useApp, useSession } from './session-context.ts';

/** Reads one part of the stock and draws again when it changes. */
export function useStock<T>(pick: (state: StockState) => T): T {
  return useStore(useSession().stock.state, pick);
}

/** The list of cases, read again whenever the journal has more of one. */
export function useCasesList(): CasesListState {
  const { casesList } = useSession();
  const cases = useApp((s) => s.cases);
  const atStore = useApp((s) => s.sharing.storeOnly.revision);
  // biome-ignore lint/correctness/useExhaustiveDependencies: new entries are the reason to read again.
  useEffect(() => {
    void casesList.refresh();
  }, [casesList, cases, atStore]);
  return useStore(casesList.state);
}
