/** The app in a page of its own, in a state of sharing that is handed to it. */
import '../../src/ui/theme/theme.css';
import { createRoot, type Root } from 'react-dom/client';
import { Router } from 'wouter';
import { memoryLocation } from 'wouter/memory-location';
import { createStore } from 'zustand/vanilla';
import twoVeneers from '../../demo-data/cases/two-veneers.json' with { type: 'json' };
import { present } from '../../src/base/assert.ts';
import { ok } from '../../src/base/result.ts';
import { replay } from '../../src/engine/log.ts';
import type { Recorded, Stamp } from '../../src/engine/types.ts';
import { viewOf } from '../../src/engine/view.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { type AppState, DEFAULT_SETTINGS } from '../../src/runtime/app-state.ts';
import { NO_EMERGENCY } from '../../src/runtime/emergency/emergency-state.ts';
import { createPressDoor } from '../../src/runtime/keys/press-door.ts';
import { withZone } from '../../src/runtime/library/library.ts';
import type { Session } from '../../src/runtime/session.ts';
import type { Conflict } from '../../src/runtime/sharing/conflicts.ts';
import type { Pairing, Sharing } from '../../src/runtime/sharing/sharing-state.ts';
import { createAppStore } from '../../src/runtime/store.ts';
import { NO_DAMAGE } from '../../src/storage/journal-types.ts';
import { App } from '../../src/ui/app/App.tsx';
import { SessionContext } from '../../src/ui/shared/session-context.ts';
import type { Tablet } from '../../src/ui/shared/tablet.ts';
import { speak } from '../../src/words/language.ts';
import { BOX_TEXT, CONFLICTS, LOOKED_AT_MS, type Look, OTHER, THIS } from './states.ts';

/** What runs in the chair, where the look is at the chair. */
export interface AtChair {
  readonly records: readonly Recorded[];
  readonly stamp: Stamp;
}

declare global {
  interface Window {
    showSharing(look: Look, chair: AtChair | null): void;
  }
}

const ZONE = 'UTC';
const nothing = (): void => undefined;

function runningOf({ records, stamp }: AtChair): AppState['running'] {
  const log = replay(records);
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
    isViewOnly: false,
    isStale: false,
    unsaved: 0,
    typed: null,
    answers: {},
  };
}

function stateOf(look: Look, chair: AtChair | null): AppState {
  return {
    phase: 'ready',
    standing: 'writer',
    journal: { saved: true, queued: 0, copies: 2, problem: null },
    report: null,
    cases: [],
    damage: NO_DAMAGE,
    prepared: [],
    preparedTwice: new Map(),
    unreadPrepared: [],
    protocols: [],
    corrections: [],
    settings: withZone({ ...DEFAULT_SETTINGS, tablet: THIS, clinic: 'Harbour Street' }, ZONE),
    running: chair === null ? null : runningOf(chair),
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
    sharing: look.sharing,
    secondEnds: [],
  };
}

function stillTablet(wallMs: number): Tablet {
  const behind = {
    do: () => null,
    pressNext: () => null,
    standing: () => ({ cue: null, canUndo: false }),
  };
  const guard = { accept: () => false };
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

/** A case of the demonstration, prepared on two tablets. */
function preparedTwice(): Conflict {
  const parsed = parseCase(twoVeneers);
  const spec: CaseFile = present(parsed.ok ? parsed.value : null, 'the case of the demonstration');
  const other: CaseFile = { ...spec, title: 'Two veneers, moved', allergies: 'Nickel' };
  const on = (tablet: string) => ({ tablet, by: null, atWallMs: LOOKED_AT_MS });
  const shown = { ...spec, allergies: 'Latex; Nickel' };
  return {
    kind: 'prepared-case',
    id: spec.id,
    title: spec.title,
    shown,
    sides: [
      { ...on(THIS), spec: { ...spec, allergies: 'Latex' } },
      { ...on(OTHER), spec: other },
    ],
  };
}

function stillSharing(look: Look): Sharing {
  const begin = async () => {
    const state = present(look.pairing, 'a pairing of this look');
    const pairing: Pairing = {
      state: createStore(() => state),
      confirm: async () => undefined,
      stop: nothing,
    };
    return ok(pairing);
  };
  const done = async () => ok(null);
  return {
    state: createStore(() => look.sharing),
    join: begin,
    found: done,
    invite: begin,
    putOut: done,
    rename: done,
    storeOnly: async () => [],
    bringHere: done,
    eraseDeleted: async () => ({ ok: true, value: { keys: 0, entries: 0 } }),
    boxText: async () => BOX_TEXT,
    boxPrinted: done,
    recover: done,
    leave: async () => undefined,
    conflicts: async () => ok([preparedTwice(), ...CONFLICTS]),
    now: nothing,
  };
}

function stillSession(state: AppState, look: Look): Session {
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
    store: createAppStore(state),
    emergencies: () => new Promise(nothing),
    keepTyped: nothing,
    refreshLists: async () => undefined,
    people: { state: createStore(() => ({ people: [] })), refresh: async () => undefined },
    stock: { state: createStore(() => stock), refresh: async () => undefined },
    sharing: async () => stillSharing(look),
  };
  return session as unknown as Session;
}

speak('en', null);
let root: Root | null = null;
window.showSharing = (look, chair) => {
  root?.unmount();
  const place = memoryLocation({ path: look.path });
  root = createRoot(document.body.appendChild(document.createElement('div')));
  root.render(
    <SessionContext
      value={{
        session: stillSession(stateOf(look, chair), look),
        tablet: stillTablet(LOOKED_AT_MS),
      }}
    >
      <Router hook={place.hook}>
        <App />
      </Router>
    </SessionContext>,
  );
};
