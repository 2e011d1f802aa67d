/**
 * Gathers from a window what the files of this folder want handed to them. Touches nothing until it
 * is called, and leaves undefined what a browser does not have.
 */

import planWorkerUrl from '../planner/plan.worker.ts?chunk';
import type { SpawnPlanWorker } from '../planner/planner.ts';
import type { AudioContextLike } from '../sound/audio-context.ts';
import type { ChannelLike } from '../windows/second-screen.ts';
import type { StorageLike } from './persist.ts';
import type { PageTimers, WorkerLike } from './timer-host.ts';
import type { PageLike } from './visibility.ts';
import type { SentinelLike } from './wake-lock.ts';

export interface BrowserPlatform {
  readonly page: PageLike;
  readonly pageTimers: PageTimers;
  readonly spawnTimerWorker: (() => WorkerLike) | undefined;
  readonly spawnPlanWorker: SpawnPlanWorker | undefined;
  readonly createAudioContext: (() => AudioContextLike) | undefined;
  readonly audioSession: { type: string } | undefined;
  readonly synthesis: SpeechSynthesis | undefined;
  readonly makeUtterance: (words: string) => SpeechSynthesisUtterance;
  readonly requestWakeLock: (() => Promise<SentinelLike>) | undefined;
  readonly storage: StorageLike | undefined;
  readonly matches: (query: string) => boolean;
  readonly isHomeScreenApp: boolean;
  /** A channel that only windows of this app on this device hear. */
  readonly openChannel: ((name: string) => ChannelLike) | undefined;
  readonly hasServiceWorker: boolean;
  /** Locks that all windows of this app share. */
  readonly locks: LockManager | undefined;
  /** The zone that the tablet's own clock is set to. */
  readonly zone: string;
  readonly reload: () => void;
}

/** Reads what `window` offers. */
export function browserPlatform(window: Window & typeof globalThis): BrowserPlatform {
  const { navigator, document } = window;
  return {
    page: { document, window },
    pageTimers: {
      set: (callback, delayMs) => window.setTimeout(callback, delayMs),
      clear: (id) => window.clearTimeout(id),
    },
    spawnTimerWorker: 'Worker' in window ? spawnTimerWorker : undefined,
    spawnPlanWorker: 'Worker' in window ? spawnPlanWorker : undefined,
    createAudioContext:
      'AudioContext' in window
        ? () => new window.AudioContext({ latencyHint: 'interactive' })
        : undefined,
    audioSession: audioSessionOf(navigator),
    synthesis: 'speechSynthesis' in window ? window.speechSynthesis : undefined,
    makeUtterance: (words) => new window.SpeechSynthesisUtterance(words),
    requestWakeLock:
      'wakeLock' in navigator ? () => navigator.wakeLock.request('screen') : undefined,
    storage: 'storage' in navigator ? navigator.storage : undefined,
    matches: (query) => window.matchMedia(query).matches,
    isHomeScreenApp: 'standalone' in navigator && navigator.standalone === true,
    openChannel:
      'BroadcastChannel' in window ? (name) => new window.BroadcastChannel(name) : undefined,
    hasServiceWorker: 'serviceWorker' in navigator,
    locks: 'locks' in navigator ? navigator.locks : undefined,
    zone: new Intl.DateTimeFormat().resolvedOptions().timeZone,
    reload: () => window.location.reload(),
  };
}

function spawnTimerWorker(): WorkerLike {
  return new Worker(new URL('./alarm.worker.ts', import.meta.url), { type: 'module' });
}

const spawnPlanWorker: SpawnPlanWorker = (onBroken) => {
  const worker = new Worker(planWorkerUrl, { type: 'module' });
  // A file that cannot be loaded has no message.
  worker.addEventListener('error', ({ message }) => onBroken(message ?? 'not loaded'));
  return worker;
};

/** The audio session of the browsers that have one; no type library knows it yet. */
function audioSessionOf(navigator: Navigator): { type: string } | undefined {
  if (!('audioSession' in navigator)) return undefined;
  const session = navigator.audioSession;
  if (typeof session !== 'object' || session === null) return undefined;
  return {
    get type() {
      return String(Reflect.get(session, 'type'));
    },
    set type(next) {
      Reflect.set(session, 'type', next);
    },
  };
}
