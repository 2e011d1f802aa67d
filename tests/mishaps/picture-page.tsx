/** The chair in a page of its own, for a case that is handed to it: what the pictures of the mishaps are taken of. */
import { NO_DAMAGE } from '../../src/storage/journal-types.ts';
import '../../src/ui/theme/theme.css';
import { createRoot, type Root } from 'react-dom/client';
import { Router } from 'wouter';
import { memoryLocation } from 'wouter/memory-location';
import { createStore } from 'zustand/vanilla';
import { replay } from '../../src/engine/log.ts';
import type { Recorded, Stamp } from '../../src/engine/types.ts';
import { viewOf } from '../../src/engine/view.ts';
import { type AppState, DEFAULT_SETTINGS, type RunningCase } from '../../src/runtime/app-state.ts';
import { NO_EMERGENCY } from '../../src/runtime/emergency/emergency-state.ts';
import { createPressDoor } from '../../src/runtime/keys/press-door.ts';
import { withZone } from '../../src/runtime/library/library.ts';
import type { Session } from '../../src/runtime/session.ts';
import { NOT_SHARING } from '../../src/runtime/sharing/sharing-state.ts';
import { createAppStore } from '../../src/runtime/store.ts';
import { App } from '../../src/ui/app/App.tsx';
import { SessionContext } from '../../src/ui/shared/session-context.ts';
import type { Tablet } from '../../src/ui/shared/tablet.ts';
import { speak } from '../../src/words/language.ts';

/** What the page is given: the entries of a case, and the instant at which it is looked at. */
export interface Shown {
  readonly records: readonly Recorded[];
  readonly stamp: Stamp;
}

declare global {
  interface Window {
    showMishap(shown: Shown): void;
  }
}

const ZONE = 'Europe/Vienna';

function runningOf({ records, stamp }: Shown): RunningCase {
  const log = replay(records);
  const view = viewOf(log.state, stamp);
  const last = log.records.at(-1);
  const press = last?.press ?? 0;
  return {
    caseId: 'case-1',
    log,
    view,
    now: stamp,
    pending: 0,
    undo: last?.event.type === 'press-retracted' ? null : { press, untilRealMs: 7000 },
    refusal: null,
    speed: 1,
    by: 'dentist-a',
    isViewOnly: false,
    isStale: false,
    unsaved: 0,
    typed: null,
    answers: {},
  };
}

function stateOf(running: RunningCase): AppState {
  return {
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
    settings: withZone(DEFAULT_SETTINGS, ZONE),
    running,
    liveCaseId: running.caseId,
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
}

const nothing = (): void => undefined;

/** Nobody presses anything in a picture. */
function stillTablet(wallMs: number): Tablet {
  return {
    door: createPressDoor({
      guard: { accept: () => false },
      hush: nothing,
      refused: nothing,
      behind: {
        do: () => null,
        pressNext: () => null,
        standing: () => ({ cue: null, canUndo: false }),
      },
    }),
    realNowMs: () => 0,
    wallNowMs: () => wallMs,
    soundTest: nothing,
    lockKeys: nothing,
    testKeys: () => nothing,
    mayTeach: () => null,
    protectStorage: async () => undefined,
    applyUpdate: nothing,
    install: async () => undefined,
    newId: () => 'id-1',
  };
}

/** The screens of the chair read what the session holds and call nothing while nobody presses. */
function stillSession(state: AppState): Session {
  const refresh = async () => undefined;
  const stock = {
    isRead: true,
    materials: [],
    recalls: [],
    readings: [],
    separator: '',
    damaged: 0,
  };
  const session = {
    store: createAppStore(state),
    emergencies: () => new Promise(nothing),
    keepTyped: nothing,
    people: { state: createStore(() => ({ people: [] })), refresh },
    stock: { state: createStore(() => stock), refresh },
  };
  return session as unknown as Session;
}

speak('en', null);
let root: Root | null = null;
window.showMishap = (shown) => {
  root?.unmount();
  const place = memoryLocation({ path: '/chair' });
  root = createRoot(document.body.appendChild(document.createElement('div')));
  root.render(
    <SessionContext
      value={{
        session: stillSession(stateOf(runningOf(shown))),
        tablet: stillTablet(shown.stamp.wallMs),
      }}
    >
      <Router hook={place.hook}>
        <App />
      </Router>
    </SessionContext>,
  );
};
