/** The page of outcomes on a clinic of a few lines, as a session without a store draws it. */
import { vi } from 'vitest';
import { createStore } from 'zustand/vanilla';
import { ok } from '../../src/base/result.ts';
import type { Reviews } from '../../src/outcomes/review-types.ts';
import {
  FIRST_FOLLOW_UPS,
  type FollowUpRow,
  type FollowUpsState,
} from '../../src/runtime/follow-up/follow-up-state.ts';
import type { FollowUps } from '../../src/runtime/follow-up/follow-ups.ts';
import { Outcomes } from '../../src/ui/outcomes/Outcomes.tsx';
import { fakeSession, show } from '../ui-screens/fake-session.tsx';
import { ASKED, followUpOf, type SmallUnit, TODAY } from './small-clinic.ts';

export const rows = (units: readonly SmallUnit[]): readonly FollowUpRow[] =>
  // The page reads the follow-up of a row alone.
  units.map((unit, n) => ({ followUp: followUpOf(unit, n) }) as unknown as FollowUpRow);

export function opened(o: {
  readonly units: readonly SmallUnit[];
  readonly reviews?: Reviews;
  readonly part?: string;
  readonly leftTwice?: number;
  /** Somebody comes back to the page; otherwise it is opened for the first time. */
  readonly isBack?: boolean;
}) {
  if (o.isBack !== true) window.history.replaceState(null, '');
  const state = createStore<FollowUpsState>(() => ({
    ...FIRST_FOLLOW_UPS,
    isRead: true,
    list: rows(o.units),
    reviews: o.reviews ?? ASKED,
    leftTwice: o.leftTwice ?? 0,
    today: TODAY,
  }));
  const followUps = {
    state,
    open: async () => ok(null),
    fixQuestion: vi.fn(async () => ok('id')),
    noteReview: vi.fn(async (_: { readonly review: { readonly compared: unknown } }) => ok('id')),
    noteFlagLooked: vi.fn(async () => ok('id')),
  };
  const session = fakeSession();
  session.followUps.mockResolvedValue(followUps as unknown as FollowUps);
  const shown = show(<Outcomes part={o.part} />, { session });
  return { ...shown, followUps };
}

export const many = (n: number, failed: number, change: Partial<SmallUnit> = {}): SmallUnit[] =>
  Array.from({ length: n }, (_, at) => ({
    patient: `C-${change.limit ?? 'kept'}-${at}`,
    day: at < failed ? 100 + 7 * at : 3900,
    end: at < failed ? 'event' : 'none',
    ...change,
  }));
