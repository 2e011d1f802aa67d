/** The app in a page of its own, with a case of another tablet as it is handed to it. */
import '../../src/ui/theme/theme.css';
import { createRoot, type Root } from 'react-dom/client';
import { Router } from 'wouter';
import { memoryLocation } from 'wouter/memory-location';
import { createStore } from 'zustand/vanilla';
import { ok } from '../../src/base/result.ts';
import { replay } from '../../src/engine/log.ts';
import type { Stamp } from '../../src/engine/types.ts';
import { viewOf } from '../../src/engine/view.ts';
import type { SecondEnd } from '../../src/export/export-source.ts';
import { type AppState, DEFAULT_SETTINGS } from '../../src/runtime/app-state.ts';
import { NO_EMERGENCY } from '../../src/runtime/emergency/emergency-state.ts';
import { createPressDoor } from '../../src/runtime/keys/press-door.ts';
import { withZone } from '../../src/runtime/library/library.ts';
import type { Session } from '../../src/runtime/session.ts';
import { createAppStore } from '../../src/runtime/store.ts';
import { type JournalEntry, NO_DAMAGE } from '../../src/storage/journal-types.ts';
import { App } from '../../src/ui/app/App.tsx';
import { SessionContext } from '../../src/ui/shared/session-context.ts';
import type { Tablet } from '../../src/ui/shared/tablet.ts';
import { speak } from '../../src/words/language.ts';

export interface PenShown {
  readonly path: string;
  readonly entries: readonly JournalEntry[];
  readonly stamp: Stamp;
  readonly isViewOnly: boolean;
  readonly isStale: boolean;
  /** This tablet. */
  readonly tablet: string;
  readonly sharing: AppState['sharing'];
  readonly cases: AppState['cases'];
  readonly secondEnds: AppState['secondEnds'];
  readonly ends: readonly SecondEnd[];
}

declare global {
  interface Window {
    showPen(shown: PenShown): void;
  }
}

const ZONE = 'UTC';
const nothing = (): void => undefined;

function runningOf({ entries, stamp, isViewOnly, isStale }: PenShown): AppState['running'] {
  const log = replay(entries);
  return {
    caseId: 'case-1',
    log,
    view: viewOf(log.state, stamp),
    now: stamp,
    pending: 0,
    undo: null,
    refusal: null,
    speed: 1,
    by: 'dentist-a',
    isViewOnly,
    isStale,
    unsaved: 0,
    typed: null,
    answers: {},
  };
}

function stateOf(shown: PenShown): AppState {
  return {
    phase: 'ready',
    standing: 'writer',
    journal: { saved: true, queued: 0, copies: 2, problem: null },
    report: null,
    cases: shown.cases,
    secondEnds: shown.secondEnds,
    damage: NO_DAMAGE,
    prepared: [],
    preparedTwice: new Map(),
    unreadPrepared: [],
    protocols: [],
    corrections: [],
    settings: withZone({ ...DEFAULT_SETTINGS, tablet: shown.tablet }, ZONE),
    running: shown.path === '/chair' ? runningOf(shown) : null,
    liveCaseId: null,
    tablet: {
      sound: { state: 'on' },
      screen: { state: 'held' },
      storage: { protection: 'protected', usedBytes: null, quotaBytes: null, isInstalled: true },
      update: 'none',
      canInstall: false,
      zone: ZONE,
    },
    fault: null,
    emergency: NO_EMERGENCY,
    sharing: shown.sharing,
  };
}

function stillTablet(wallMs: number): Tablet {
  const behind = {
    do: () => null,
    pressNext: () => null,
    standing: () => ({ cue: null, canUndo: false }),
  };
  const guard = { accept: () => true };
  return {
    door: createPressDoor({ guard, hush: nothing, refused: nothing, behind }),
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

function stillSession(shown: PenShown): Session {
  const { entries, ends } = shown;
  const verdict = { goodCount: entries.length, firstBad: null };
  const reading = { caseId: 'case-1', entries, apart: [], verdict };
  const stock = {
    isRead: true,
    materials: [],
    recalls: [],
    readings: [],
    differing: new Map(),
    separator: '',
    damaged: 0,
    by: '',
    people: [],
  };
  const session = {
    store: createAppStore(stateOf(shown)),
    emergencies: () => new Promise(nothing),
    keepTyped: nothing,
    refreshLists: async () => undefined,
    people: { state: createStore(() => ({ people: [] })), refresh: async () => undefined },
    stock: { state: createStore(() => stock), refresh: async () => undefined },
    pens: { give: async () => ok(null), take: async () => ok(null) },
    readRecord: async () => ok({ log: replay(entries), reading, secondEnds: ends, anchor: null }),
    casesList: {
      state: createStore(() => ({ isRead: true, facts: [], marks: new Map(), tombstones: [] })),
      refresh: async () => undefined,
    },
  };
  return session as unknown as Session;
}

speak('en', null);
let root: Root | null = null;
window.showPen = (shown) => {
  root?.unmount();
  const place = memoryLocation({ path: shown.path });
  root = createRoot(document.body.appendChild(document.createElement('div')));
  const value = { session: stillSession(shown), tablet: stillTablet(shown.stamp.wallMs) };
  root.render(
    <SessionContext value={value}>
      <Router hook={place.hook}>
        <App />
      </Router>
    </SessionContext>,
  );
};
