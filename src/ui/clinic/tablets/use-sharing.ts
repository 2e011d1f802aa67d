/** Lets the pages of the tablets reach what shares, and read its state. */
import { createContext, useContext } from 'react';
import { useStore } from 'zustand';
import { present } from '../../../base/assert.ts';
import type { Problem } from '../../../base/problem.ts';
import type { Result } from '../../../base/result.ts';
import type { Sharing, SharingState } from '../../../runtime/sharing/sharing-state.ts';
import { useApp } from '../../shared/session-context.ts';

export const SharingContext = createContext<Sharing | null>(null);

export function useSharing(): Sharing {
  return present(useContext(SharingContext), 'sharing');
}

/** Reads one part of the state and draws again when it changes. */
export function useShared<T>(pick: (state: SharingState) => T): T {
  return useStore(useSharing().state, pick);
}

/** Whether nothing may be changed here: another window of this tablet writes. */
export const useIsReader = (): boolean => useApp((s) => s.standing !== 'writer');

/** What a form sends, and why it was not done. */
export type Send = () => Promise<Result<unknown, Problem>>;
