/**
 * Puts the runtime together for one window: clocks, timers, sound, screen lock, keys, storage,
 * updates, and the session that uses them. Called once, by `main.tsx`.
 */
import { type Journal, NO_DAMAGE } from '../storage/journal-types.ts';
import {
  type AppState,
  DEFAULT_SETTINGS,
  type RunningCase,
  type Settings,
  type Tablet,
} from './app-state.ts';
import { createAlarmTimer } from './device/alarm-timer.ts';
import { type BrowserPlatform, browserPlatform } from './device/browser-platform.ts';
import { type Clock, realClock } from './device/clock.ts';
import { createInstallOffer, type InstallOffer } from './device/install-offer.ts';
import { createStorageGuard, type StorageGuard } from './device/persist.ts';
import { createTimerHost, type TimerHost } from './device/timer-host.ts';
import { watchVisibility } from './device/visibility.ts';
import { createScreenLock } from './device/wake-lock.ts';
import { NO_EMERGENCY } from './emergency/emergency-state.ts';
import { createBounceGuard } from './keys/bounce.ts';
import { DEFAULT_KEYS, teachKey } from './keys/key-map.ts';
import { createKeys, type Keys } from './keys/keys.ts';
import { createPressDoor, type PressDoor } from './keys/press-door.ts';
import type { Shipped } from './library/library.ts';
import { createPlanner, type Planner } from './planner/planner.ts';
import { Session } from './session.ts';
import type { WriterSeat } from './session-parts.ts';
import { sharingMark } from './sharing/sharing-open.ts';
import type { SharingWindow } from './sharing/sharing-parts.ts';
import { NOT_SHARING } from './sharing/sharing-state.ts';
import type { ToldChannel } from './sharing/told-channel.ts';
import { SoundPlayer } from './sound/audio.ts';
import { followSounds, type SoundParts, soundId } from './sound/follow-sounds.ts';
import type { followTones } from './sound/follow-tones.ts';
import { createSpeech } from './sound/speech.ts';
import { type AppStore, createAppStore } from './store.ts';
import { appServiceWorker, registerApp } from './update/app-update.ts';
import { type CaseSign, createCaseSign } from './windows/case-sign.ts';
import { Pictures } from './windows/pictures.ts';

interface AppParts {
  readonly window: Window & typeof globalThis;
  readonly journal: Journal;
  /** The channel of the journal: what this window wrote, and what is told to it. */
  readonly told: ToldChannel;
  readonly openSeat: (o: {
    readonly tabId: string;
    readonly onAsked: () => Promise<boolean>;
  }) => WriterSeat;
  readonly shipped: Shipped;
  readonly isProduction: boolean;
  /** What a voice says of a cue that has sounded; null when there is nothing to say. */
  readonly wordsOf: (running: RunningCase, cueId: string) => string | null;
}

export interface App {
  readonly session: Session;
  readonly planner: Planner;
  readonly keys: Keys;
  readonly tablet: {
    /** The one way by which a press reaches the case. */
    readonly door: PressDoor;
    realNowMs(): number;
    wallNowMs(): number;
    soundTest(): void;
    lockKeys(o: { readonly isLocked: boolean }): void;
    testKeys: Keys['testKeys'];
    mayTeach(key: string): string | null;
    protectStorage(): Promise<void>;
    applyUpdate(): void;
    install(): Promise<void>;
    newId(): string;
    readonly say?: (words: string) => void;
  };
}

/** Where a pedal works: what it records stands there, or what it has just done. */
const PEDAL_PLACES: ReadonlySet<string> = new Set(['/chair', '/far-view']);

const isCaseRunning = ({ running }: AppState): boolean => running?.log.state.closed === null;

const PICTURE_CHANNEL = 'lutewatch-picture';

function firstState(tablet: Tablet): AppState {
  return {
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
    settings: { ...DEFAULT_SETTINGS, zone: tablet.zone },
    running: null,
    liveCaseId: null,
    tablet,
    fault: null,
    emergency: NO_EMERGENCY,
    sharing: NOT_SHARING,
  };
}

function openPictures(
  platform: BrowserPlatform,
  o: { readonly timers: TimerHost; readonly runId: string; readonly window: Window },
) {
  const { openChannel } = platform;
  const open = openChannel === undefined ? null : () => openChannel(PICTURE_CHANNEL);
  const pictures = new Pictures({ ...o, open });
  // A page that goes says so; who looks on need not wait for the missing beat.
  o.window.addEventListener('pagehide', () => pictures.rest());
  return pictures;
}

/** Follows the running case with sound and with the screen's lock. */
function followRunning(
  o: SoundParts & {
    readonly store: AppStore;
    readonly hold: () => void;
    readonly letGo: () => void;
  },
): void {
  const sounds = followSounds(o);
  let last: RunningCase | null = null;
  let heldFor: string | null = null;
  o.store.subscribe(() => {
    const { running } = o.store.getState();
    if (running === last) return;
    last = running;
    // The screen stays on for a case until it is closed, on whichever page it is followed.
    const open = running?.log.state.closed === null ? running.caseId : null;
    if (open !== null && open !== heldFor) o.hold();
    if (open === null && heldFor !== null) o.letGo();
    heldFor = open;
    sounds(running);
  });
}

/** Speaks the words of a cue after its sound, when people want that and a local voice is there; says what else is to be said. */
function speakCues(o: {
  readonly store: AppStore;
  readonly sound: SoundPlayer;
  readonly speech: ReturnType<typeof createSpeech>;
  readonly wordsOf: AppParts['wordsOf'];
}): (words: string) => void {
  const say = (words: string): void => {
    const { settings } = o.store.getState();
    if (!settings.spoken) return;
    o.speech.setVolume(settings.volume);
    o.speech.speak(words);
  };
  o.sound.onSounded(({ id }) => {
    const { running } = o.store.getState();
    const cue = running?.view.cues.find((c) => soundId(c, running.log.state) === id);
    const words = running && cue ? o.wordsOf(running, cue.id) : null;
    if (words) say(words);
  });
  return say;
}

/** Lets the first case bring what a pass of light needs of sound: who hears it, and its words. */
function followPasses(
  o: Omit<Parameters<typeof followTones>[0], 'sinceMs'> & { readonly sound: SoundPlayer },
): void {
  const sinceMs = o.wallNowMs();
  const stop = o.store.subscribe(({ running }) => {
    if (running === null) return;
    stop();
    void import('./sound/follow-tones.ts').then(({ followTones }) => {
      const tones = followTones({ ...o, sinceMs });
      o.sound.onSounded(({ id }) => tones.sounded(id));
    });
  });
}

/** Lets settings reach the sound and the keys, now and whenever they change. */
function followSettings(o: {
  readonly store: AppStore;
  readonly sound: SoundPlayer;
  readonly keys: Keys;
}): void {
  let last: Settings | null = null;
  const apply = () => {
    const { settings } = o.store.getState();
    if (settings === last) return;
    last = settings;
    o.sound.setVolume(settings.volume);
    const learned = Object.fromEntries(settings.extraKeys.map((key) => [key, 'press' as const]));
    o.keys.setMap({ ...DEFAULT_KEYS, ...learned });
  };
  apply();
  o.store.subscribe(apply);
}

/** Whether a press can still be taken back, by key as on the screen. */
const isOffered = (undo: RunningCase['undo'], realNowMs: number): boolean =>
  undo !== null && undo.untilRealMs > realNowMs;

/** The door before the case that this window runs. */
function doorOf(o: {
  readonly session: Session;
  readonly sound: SoundPlayer;
  readonly realNowMs: () => number;
}): PressDoor {
  const { session, sound } = o;
  return createPressDoor({
    guard: createBounceGuard({ realNowMs: o.realNowMs }),
    hush: () => sound.hush(),
    refused: () => sound.refused(),
    behind: {
      do: (command) => session.do(command),
      pressNext: () => session.pressNext(),
      standing() {
        const { running } = session.store.getState();
        if (!running) return null;
        const cue = running.view.cues.findLast((c) => c.dueInMs <= 0 && !c.acknowledged);
        return { cue: cue?.id ?? null, canUndo: isOffered(running.undo, o.realNowMs()) };
      },
    },
  });
}

/** Null when a key may be taught to press; else the code of what stands against it. */
function whyNotTeach(keys: Keys, key: string): string | null {
  const taught = teachKey(keys.map.getState(), { key, verb: 'press' });
  return taught.ok ? null : taught.error.code;
}

/** What screens may ask of the tablet itself. */
function tabletOf(o: {
  readonly door: PressDoor;
  readonly sound: SoundPlayer;
  readonly keys: Keys;
  readonly clock: Clock;
  readonly realNowMs: () => number;
  readonly newId: () => string;
  readonly storage: StorageGuard;
  readonly update: ReturnType<typeof registerApp>;
  readonly offer: InstallOffer;
  readonly say: (words: string) => void;
}): App['tablet'] {
  const { door, sound, keys, clock, storage, update } = o;
  return {
    door,
    realNowMs: o.realNowMs,
    wallNowMs: () => clock.stamp().wallMs,
    soundTest: () => void sound.loudnessTest('now'),
    lockKeys(lock) {
      keys.setLocked(lock);
      door.setLocked(lock);
    },
    testKeys: keys.testKeys,
    mayTeach: (key) => whyNotTeach(keys, key),
    protectStorage: () => storage.protect(),
    applyUpdate: () => void update.applyUpdate(),
    install: o.offer.install,
    newId: o.newId,
    say: o.say,
  };
}

const sharingIn = ({ window, told }: AppParts): SharingWindow => ({
  told,
  crypto: window.crypto,
  version: __APP_VERSION__,
  origin: window.location.origin,
  mark: sharingMark(() => window.localStorage),
});

const updatesOf = (o: {
  readonly platform: ReturnType<typeof browserPlatform>;
  readonly worker: typeof appServiceWorker | undefined;
  readonly timers: ReturnType<typeof createTimerHost>;
  readonly isRunning: () => boolean;
  readonly caseSign: CaseSign;
}) =>
  registerApp({
    openWorker: o.worker,
    isCaseRunning: o.isRunning,
    whileNone: o.caseSign.whileNone,
    reload: o.platform.reload,
    timers: o.timers,
  });

/** Starts everything; the first screen says that the records are being opened. */
export function startApp(parts: AppParts): App {
  const { window, journal } = parts;
  const platform = browserPlatform(window);
  const newId = () => window.crypto.randomUUID();
  const runId = newId();
  const clock = realClock({ runId });
  const realNowMs = () => window.performance.now();
  const visibility = watchVisibility(platform.page);
  const timers = createTimerHost({ page: platform.pageTimers, spawn: platform.spawnTimerWorker });
  const alarm = createAlarmTimer({ timers, visibility });
  const { createAudioContext: createContext, audioSession } = platform;
  const audio = { createContext, audioSession, gestures: window };
  const sound = new SoundPlayer({ ...audio, realNowMs, timers, visibility });
  const screen = createScreenLock({ request: platform.requestWakeLock, visibility, timers });
  const storage = createStorageGuard(platform);
  const caseSign = createCaseSign(platform.locks);
  const isRunning = () => isCaseRunning(store.getState());
  const worker = parts.isProduction && platform.hasServiceWorker ? appServiceWorker : undefined;
  const update = updatesOf({ platform, worker, timers, isRunning, caseSign });
  const offer = createInstallOffer(window);
  const tablet = (): Tablet => ({
    sound: sound.status.getState(),
    screen: screen.status.getState(),
    storage: storage.status.getState(),
    update: update.status.getState(),
    canInstall: offer.canInstall.getState(),
    zone: platform.zone,
  });
  const store = createAppStore(firstState(tablet()));
  const kept = [sound.status, screen.status, storage.status, update.status, offer.canInstall];
  for (const part of kept) part.subscribe(() => store.setState({ tablet: tablet() }));
  store.subscribe((state) => caseSign.show(isCaseRunning(state)));
  const planner = createPlanner({ spawn: platform.spawnPlanWorker, tables: parts.shipped.tables });
  const seat = parts.openSeat({ tabId: runId, onAsked: () => session.yieldSeat() });
  const session: Session = new Session({
    journal,
    seat,
    store,
    clock,
    timers,
    alarm,
    visibility,
    shipped: parts.shipped,
    planner,
    pictures: openPictures(platform, { timers, runId, window }),
    newId,
    realNowMs,
    ...(window.isSecureContext ? { crypto: window.crypto, sharing: sharingIn(parts) } : {}),
  });
  const door = doorOf({ session, sound, realNowMs });
  const keys = createKeys({
    window,
    document: window.document,
    map: DEFAULT_KEYS,
    // Who reads a record or types in a form must not press on in a case that runs out of sight.
    isInSight: () => PEDAL_PLACES.has(window.location.pathname),
  });
  followRunning({ store, sound, timers, realNowMs, hold: screen.hold, letGo: screen.letGo });
  followSettings({ store, sound, keys });
  const heard = { store, sound, speech: createSpeech({ ...platform, lang: 'en' }) };
  const say = speakCues({ ...heard, wordsOf: parts.wordsOf });
  followPasses({ ...heard, wallNowMs: () => clock.stamp().wallMs, do: (c) => session.do(c) });
  keys.onVerb((verb) => void door.verb(verb));
  sound.start();
  void storage.refresh();
  void session.start();
  return {
    session,
    planner,
    keys,
    tablet: tabletOf({ door, sound, keys, clock, realNowMs, newId, storage, update, offer, say }),
  };
}
