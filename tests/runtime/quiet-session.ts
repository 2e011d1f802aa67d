/** A session without screens, sound or other windows, on a journal that a test hands in. */

import type { PlanTables } from '../../src/plan/plan-tables.ts';
import { type AppState, DEFAULT_SETTINGS } from '../../src/runtime/app-state.ts';
import { createAlarmTimer } from '../../src/runtime/device/alarm-timer.ts';
import { NO_EMERGENCY } from '../../src/runtime/emergency/emergency-state.ts';
import type { CryptoLike } from '../../src/runtime/lead/lead-passphrase.ts';
import { Session } from '../../src/runtime/session.ts';
import type { SessionParts } from '../../src/runtime/session-parts.ts';
import { NOT_SHARING } from '../../src/runtime/sharing/sharing-state.ts';
import { createAppStore } from '../../src/runtime/store.ts';
import type { Pictures } from '../../src/runtime/windows/pictures.ts';
import { type Journal, NO_DAMAGE } from '../../src/storage/journal-types.ts';
import { type FakeTime, fakeTime } from './fake-time.ts';

export const QUIET: Omit<AppState, 'tablet'> = {
  phase: 'starting',
  standing: 'none',
  journal: { saved: true, queued: 0, copies: 0, problem: null },
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
  fault: null,
  emergency: NO_EMERGENCY,
  sharing: NOT_SHARING,
};

export function quietSession(o: {
  readonly journal: Journal;
  readonly protocols: readonly unknown[];
  readonly cases: readonly unknown[];
  readonly tables?: PlanTables;
  /** What the shipped protocols correct in those before them. */
  readonly corrections?: () => Promise<unknown>;
  readonly crypto?: CryptoLike;
  readonly deviceZone?: string;
  /** False when another window writes. */
  readonly isWriter?: boolean;
  /** The tablet's time, where a test lets it pass. */
  readonly time?: FakeTime;
  /** What its ids begin with: two runs of the app have no id in common. */
  readonly run?: string;
  readonly pictures?: Pictures;
  /** The thread that drills are drawn in; left out, they are drawn here. */
  readonly planner?: NonNullable<SessionParts['planner']>;
}): Session {
  const { clock, timers } = o.time ?? fakeTime();
  const visibility = {
    getState: () => 'visible' as const,
    getInitialState: () => 'visible' as const,
    subscribe: () => () => undefined,
    onWake: () => () => undefined,
    onLeave: () => () => undefined,
    dispose: () => undefined,
  };
  const zone = o.deviceZone ?? 'UTC';
  const store = createAppStore({
    ...QUIET,
    tablet: {
      sound: { state: 'on' },
      screen: { state: 'held' },
      storage: { protection: 'evictable', usedBytes: null, quotaBytes: null, isInstalled: false },
      update: 'none',
      canInstall: false,
      zone,
    },
  });
  let ids = 0;
  return new Session({
    journal: o.journal,
    seat: {
      acquire: async () => o.isWriter ?? true,
      requestHandover: async () => 'held',
      takeOver: async () => true,
    },
    store,
    clock,
    timers,
    visibility,
    alarm: createAlarmTimer({ timers, visibility }),
    shipped: {
      protocols: o.protocols,
      cases: o.cases,
      tables: o.tables ?? null,
      ...(o.corrections === undefined ? {} : { corrections: o.corrections }),
    },
    ...(o.crypto === undefined ? {} : { crypto: o.crypto }),
    ...(o.planner === undefined ? {} : { planner: o.planner }),
    pictures: o.pictures ?? null,
    newId: () => {
      ids += 1;
      return `${o.run ?? ''}id-${ids}`;
    },
    realNowMs: () => clock.stamp().monoMs,
  });
}
