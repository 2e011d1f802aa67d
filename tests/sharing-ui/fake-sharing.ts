/** What shares, made by hand over real stores: a test sets its state and sees what it was asked. */
import { vi } from 'vitest';
import { createStore } from 'zustand/vanilla';
import { ok } from '../../src/base/result.ts';
import {
  NOT_SHARING,
  type Pairing,
  type PairingState,
  type Sharing,
  type SharingState,
} from '../../src/runtime/sharing/sharing-state.ts';
import { fakeSession } from '../ui-screens/fake-session.tsx';

export function fakePairing(first: Partial<PairingState> = {}) {
  const state = createStore<PairingState>(() => ({
    side: 'new',
    step: 'waiting',
    code: null,
    digits: null,
    name: null,
    untilWallMs: 0,
    founds: false,
    problem: null,
    ...first,
  }));
  return { state, confirm: vi.fn(async () => undefined), stop: vi.fn() };
}

export function fakeSharing(first: Partial<SharingState> = {}) {
  const pairing: Pairing = fakePairing();
  const state = createStore<SharingState>(() => ({ ...NOT_SHARING, ...first }));
  return {
    state,
    join: vi.fn<Sharing['join']>(async () => ok(pairing)),
    found: vi.fn<Sharing['found']>(async () => ok(null)),
    invite: vi.fn<Sharing['invite']>(async () => ok(pairing)),
    putOut: vi.fn<Sharing['putOut']>(async () => ok(null)),
    rename: vi.fn<Sharing['rename']>(async () => ok(null)),
    eraseDeleted: vi.fn<Sharing['eraseDeleted']>(async () => ok({ keys: 0, entries: 0 })),
    boxText: vi.fn<Sharing['boxText']>(async () => null),
    boxPrinted: vi.fn<Sharing['boxPrinted']>(async () => ok(null)),
    recover: vi.fn<Sharing['recover']>(async () => ok(null)),
    leave: vi.fn<Sharing['leave']>(async () => undefined),
    conflicts: vi.fn<Sharing['conflicts']>(async () => ok([])),
    storeOnly: vi.fn<Sharing['storeOnly']>(async () => []),
    bringHere: vi.fn<Sharing['bringHere']>(async () => ok(null)),
    now: vi.fn<Sharing['now']>(),
  };
}

/** A session whose state has what this tablet shares, as the app keeps it. */
export function sharingSession(sharing: ReturnType<typeof fakeSharing>) {
  const session = fakeSession({ sharing: sharing.state.getState() });
  sharing.state.subscribe((state) => session.store.setState({ sharing: state }));
  return { ...session, sharing: async (): Promise<Sharing> => sharing };
}
