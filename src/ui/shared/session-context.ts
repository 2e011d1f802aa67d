/** Gives screens the session and lets them read its store. */
import { createContext, useContext, useMemo } from 'react';
import { useStore } from 'zustand';
import { present } from '../../base/assert.ts';
import type { AppState } from '../../runtime/app-state.ts';
import type { Planner } from '../../runtime/planner/planner.ts';
import type { Session } from '../../runtime/session.ts';
import { type Times, timesIn } from '../../words/date-words.ts';
import { languageTag } from '../../words/language.ts';
import type { Tablet } from './tablet.ts';

export const SessionContext = createContext<{
  session: Session;
  tablet: Tablet;
  planner?: Planner;
} | null>(null);

export function useSession(): Session {
  return present(useContext(SessionContext), 'session').session;
}

/** The tablet's own machinery: sound, wake lock, keys, updates. */
export function useTablet(): Tablet {
  return present(useContext(SessionContext), 'session').tablet;
}

/** The planning thread; undefined in a test that has none. */
export function usePlanner(): Planner | undefined {
  return present(useContext(SessionContext), 'session').planner;
}

/** Whether a case runs in this window; one that was closed stands in the chair, but runs no more. */
export function useIsRunning(): boolean {
  return useApp((s) => s.running !== null && s.running.log.state.closed === null);
}

/** The times of the clinic: what every screen tells a moment with, but the record of a case. */
export function useTimes(): Times {
  const zone = useApp((s) => s.settings.zone);
  return useMemo(() => timesIn({ zone, language: languageTag() }), [zone]);
}

/** Reads one part of the state and draws again when it changes. */
export function useApp<T>(pick: (state: AppState) => T): T {
  return useStore(useSession().store, pick);
}
