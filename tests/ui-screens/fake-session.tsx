/** A plain object in place of the session, and a store with whatever a test wants to show. */

import { render } from '@testing-library/react';
import type { ReactNode } from 'react';
import { vi } from 'vitest';
import { Router } from 'wouter';
import { memoryLocation } from 'wouter/memory-location';
import { createStore } from 'zustand/vanilla';
import { ok } from '../../src/base/result.ts';
import { type AppState, DEFAULT_SETTINGS } from '../../src/runtime/app-state.ts';
import type { ApartThing } from '../../src/runtime/backup/set-apart.ts';
import type { CasesListState } from '../../src/runtime/cases/cases-list.ts';
import { NO_EMERGENCY } from '../../src/runtime/emergency/emergency-state.ts';
import { createPressDoor } from '../../src/runtime/keys/press-door.ts';
import type { PeopleState } from '../../src/runtime/library/clinic-people.ts';
import { withZone } from '../../src/runtime/library/library.ts';
import type { Planner } from '../../src/runtime/planner/planner.ts';
import type { Session } from '../../src/runtime/session.ts';
import { NOT_SHARING } from '../../src/runtime/sharing/sharing-state.ts';
import type { StockState } from '../../src/runtime/stock/stock.ts';
import { createAppStore } from '../../src/runtime/store.ts';
import { NO_DAMAGE } from '../../src/storage/journal-types.ts';
import { SessionContext } from '../../src/ui/shared/session-context.ts';
import type { Tablet } from '../../src/ui/shared/tablet.ts';
import { ZONE } from '../tools/here.ts';

/** Wednesday 25 November 2026, 08:00 there. */
export const NOW_MS = new Date(2026, 10, 25, 8, 0).getTime();

const QUIET: AppState = {
  phase: 'ready',
  standing: 'writer',
  journal: { saved: true, queued: 0, copies: 2, problem: null },
  report: null,
  cases: [],
  secondEnds: [],
  damage: NO_DAMAGE,
  prepared: [],
  preparedTwice: new Map(),
  unreadPrepared: [],
  protocols: [],
  corrections: [],
  settings: DEFAULT_SETTINGS,
  running: null,
  liveCaseId: null,
  tablet: {
    sound: { state: 'on' },
    screen: { state: 'held' },
    storage: { protection: 'evictable', usedBytes: null, quotaBytes: null, isInstalled: false },
    update: 'none',
    canInstall: false,
    zone: ZONE,
  },
  fault: null,
  emergency: NO_EMERGENCY,
  sharing: NOT_SHARING,
};

const NO_CASES: CasesListState = {
  isRead: true,
  done: 0,
  of: 0,
  facts: [],
  marks: new Map(),
  tombstones: [],
  unreadable: [],
  lastBackup: null,
};

const NO_STOCK: StockState = {
  isRead: true,
  materials: [],
  recalls: [],
  differing: new Map(),
  readings: [],
  separator: '',
  damaged: 0,
  by: '',
  people: [],
};

export function fakeSession(state: Partial<AppState> = {}) {
  const settings = withZone(state.settings ?? QUIET.settings, ZONE);
  const store = createAppStore({ ...QUIET, ...state, settings });
  return {
    store,
    openCase: vi.fn<Session['openCase']>(async () => ok('case-1')),
    follow: vi.fn<Session['follow']>(async () => ok(null)),
    resumeCase: vi.fn<Session['resumeCase']>(async () => ok(null)),
    refreshLists: vi.fn<Session['refreshLists']>(async () => undefined),
    readCase: vi.fn<Session['readCase']>(),
    readRecord: vi.fn<Session['readRecord']>(),
    saveCase: vi.fn<Session['saveCase']>(async () => ok(null)),
    deletePrepared: vi.fn<Session['deletePrepared']>(async () => ok(null)),
    saveSettings: vi.fn<Session['saveSettings']>(async (settings) => {
      store.setState({ settings });
      return ok(null);
    }),
    do: vi.fn<Session['do']>(() => null),
    pressNext: vi.fn<Session['pressNext']>(() => null),
    leaveCase: vi.fn<Session['leaveCase']>(),
    leaveChair: vi.fn<Session['leaveChair']>(),
    keepTyped: vi.fn<Session['keepTyped']>(),
    keepLine: vi.fn<Session['keepLine']>(),
    turnPlace: vi.fn<Session['turnPlace']>(),
    setBy: vi.fn<Session['setBy']>(),
    noteDamage: vi.fn<Session['noteDamage']>(async () => undefined),
    // Their code is still being read: only the button stands there.
    emergencies: vi.fn<Session['emergencies']>(() => new Promise(() => undefined)),
    // No test of another screen reads the follow-up.
    followUps: vi.fn<Session['followUps']>(() => Promise.reject(new Error('not read'))),
    casesList: {
      state: createStore<CasesListState>(() => NO_CASES),
      refresh: vi.fn(async () => undefined),
      markExported: vi.fn(async () => ok(null)),
      restore: vi.fn<Session['casesList']['restore']>(),
      readApart: vi.fn(async () => ok<readonly ApartThing[]>([])),
    },
    people: {
      state: createStore<PeopleState>(() => ({ people: [] })),
      refresh: vi.fn<Session['people']['refresh']>(async () => undefined),
      list: vi.fn<Session['people']['list']>(async () => ok(null)),
      takeOff: vi.fn<Session['people']['takeOff']>(async () => ok(null)),
    },
    stock: {
      state: createStore<StockState>(() => NO_STOCK),
      refresh: vi.fn(async () => undefined),
      lastBoxOf: vi.fn<Session['stock']['lastBoxOf']>(() => null),
      sheetOf: vi.fn<Session['stock']['sheetOf']>(async () => null),
      historyOf: vi.fn<Session['stock']['historyOf']>(() => []),
      setBy: vi.fn<Session['stock']['setBy']>(),
    },
  };
}

export type FakeSession = ReturnType<typeof fakeSession>;

/** The door of the app before the plain session; every press counts. */
function fakeTablet(session: Pick<FakeSession, 'do' | 'pressNext'>) {
  const hush = vi.fn();
  const door = createPressDoor({
    guard: { accept: () => true },
    hush,
    refused: () => undefined,
    behind: {
      do: session.do,
      pressNext: session.pressNext,
      standing: () => ({ cue: null, canUndo: false }),
    },
  });
  const tablet = {
    door,
    realNowMs: () => 0,
    wallNowMs: () => NOW_MS,
    soundTest: vi.fn(),
    lockKeys: vi.fn(),
    testKeys: () => () => undefined,
    mayTeach: () => null,
    protectStorage: vi.fn(async () => undefined),
    applyUpdate: vi.fn(),
    install: vi.fn(async () => undefined),
    newId: () => 'id-1',
  };
  const checked: Tablet = tablet;
  return { ...tablet, hush, checked };
}

/** Draws a screen at a path; `where` tells the path it has navigated to. */
export function show(
  screen: ReactNode,
  o: { session: FakeSession; path?: string; planner?: Planner },
) {
  const place = memoryLocation({ path: o.path ?? '/', record: true });
  const tablet = fakeTablet(o.session);
  // Screens use the few methods above; a whole session would need a journal and clocks.
  const session = o.session as unknown as Session;
  render(
    <SessionContext
      value={{
        session,
        tablet: tablet.checked,
        ...(o.planner === undefined ? {} : { planner: o.planner }),
      }}
    >
      <Router hook={place.hook}>{screen}</Router>
    </SessionContext>,
  );
  return { tablet, where: () => place.history.at(-1) };
}
