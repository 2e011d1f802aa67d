/**
 * Owns the audio context. Sound is watched, not assumed: the state says whether the loudspeaker can
 * be relied on, and why not.
 */

import { createStore } from 'zustand/vanilla';
import type { SoundKind } from '../../words/codes.ts';
import type { TimerHost } from '../device/timer-host.ts';
import type { Visibility } from '../device/visibility.ts';
import { type Readable, setIfChanged } from '../readable.ts';
import { type Signal, signal } from '../signal.ts';
import type { AudioContextLike, GainLike } from './audio-context.ts';
import { type AudioReading, judgeAdvance, WATCH_EVERY_MS } from './audio-watchdog.ts';
import { drawPulses, makeWave } from './pulse-voice.ts';
import { patternLengthMs, soundPattern } from './sound-patterns.ts';
import { type Sounded, SoundQueue, type SoundRequest, type SoundStage } from './sound-queue.ts';

/** Whether a sound set now would be heard. Everything but `on` is to be shown large. */
export type SoundStatus =
  | { readonly state: 'on' }
  | { readonly state: 'muted' }
  /** The browser waits for a touch (`needs-touch`), or the first proof is still out (`checking`). */
  | { readonly state: 'locked'; readonly reason: 'needs-touch' | 'checking' }
  /** A call, an assistant or another app has taken the loudspeaker. */
  | { readonly state: 'interrupted' }
  | { readonly state: 'off'; readonly reason: 'unsupported' | 'failed' | 'stalled' | 'closed' };

/** What the owner needs from the browser. */
interface AudioPlatform {
  /** Makes a context; may throw. Undefined where there is no Web Audio. */
  readonly createContext: (() => AudioContextLike) | undefined;
  /** Where every touch and key passes, usually the window. */
  readonly gestures: EventTarget;
  /** `navigator.audioSession` where it exists: lets sound pass a tablet's silent switch. */
  readonly audioSession: { type: string } | undefined;
  /** A real monotonic clock, in ms. */
  readonly realNowMs: () => number;
  readonly timers: TimerHost;
  readonly visibility: Pick<Visibility, 'onWake'>;
}

/** Any of these may be the one a browser accepts as a gesture; they are listened to for life. */
const GESTURES = ['pointerdown', 'pointerup', 'touchend', 'click', 'keydown'] as const;

/** Peak level at full volume; leaves room for the five partials. */
const FULL_LEVEL = 0.8;
const VOLUME_GLIDE_S = 0.01;

/** Leaves the state unset while nothing proves it either way. */
type Proof = 'unknown' | 'advancing' | 'stalled';

interface Open {
  readonly context: AudioContextLike;
  readonly master: GainLike;
  readonly stage: SoundStage;
}

/** The sound of the app. Call {@link SoundPlayer.start} once; it then lives as long as the page. */
export class SoundPlayer {
  readonly #platform: AudioPlatform;
  readonly #status = createStore<SoundStatus>(() => ({ state: 'locked', reason: 'needs-touch' }));
  readonly #sounded: Signal<Sounded> = signal();
  readonly #queue: SoundQueue;
  #open: Open | undefined;
  #failed = false;
  #proof: Proof = 'unknown';
  #lastLook: AudioReading | undefined;
  #volume = 1;
  #isMuted = false;
  #tests = 0;
  #undo: (() => void)[] = [];
  #stopWatch: () => void = () => undefined;

  constructor(platform: AudioPlatform) {
    this.#platform = platform;
    this.#queue = new SoundQueue({
      realNowMs: platform.realNowMs,
      onSounded: this.#sounded.emit,
    });
  }

  /** Whether sound can be relied on now. */
  get status(): Readable<SoundStatus> {
    return this.#status;
  }

  /** Calls `listener` after each pattern has sounded: the moment to speak its words. */
  onSounded(listener: (sounded: Sounded) => void): () => void {
    return this.#sounded.listen(listener);
  }

  /** Opens the context, listens for gestures and begins to watch. */
  start(): void {
    const { gestures, visibility } = this.#platform;
    for (const type of GESTURES) {
      gestures.addEventListener(type, this.#onGesture, { capture: true, passive: true });
      this.#undo.push(() => gestures.removeEventListener(type, this.#onGesture, { capture: true }));
    }
    this.#undo.push(visibility.onWake(() => this.#revive()));
    // Where the browser trusts the app, sound is back after a reload without a touch.
    this.#openContext();
    this.#watch();
  }

  /** Ends everything. For tests; a page keeps its sound for life. */
  dispose(): void {
    for (const undo of this.#undo) undo();
    this.#undo = [];
    this.#stopWatch();
    this.#closeContext();
  }

  /**
   * Says which sounds are to come, all of them each time; instants in real ms from now. Sounds that
   * stay the same are left alone, so it may be called as often as the screen changes. A sound that
   * was heard is not repeated unless it becomes due later again.
   */
  schedule(cues: readonly SoundRequest[]): void {
    this.#queue.want(cues);
  }

  /** Cuts what sounds now and counts it as heard. Sounds still to come stay set. */
  hush(): void {
    this.#queue.hush();
  }

  /** Sounds one pattern now, so that a person can say whether it was heard. Returns its length. */
  loudnessTest(kind: SoundKind): { readonly id: string; readonly lengthMs: number } {
    this.#tests += 1;
    const id = `loudness-test:${this.#tests}`;
    this.#queue.add({ id, kind });
    return { id, lengthMs: patternLengthMs(soundPattern(kind)) };
  }

  /** Sounds at once that a press was not taken. */
  refused(): void {
    this.#tests += 1;
    this.#queue.add({ id: `refused:${this.#tests}`, kind: 'refused' });
  }

  /** Sets the level, from 0 (silent) to 1. */
  setVolume(share: number): void {
    this.#volume = Math.min(1, Math.max(0, share));
    this.#applyVolume();
  }

  /** Silences or opens the loudspeaker; what sounds meanwhile counts as heard. */
  setMuted(options: { readonly isMuted: boolean }): void {
    this.#isMuted = options.isMuted;
    this.#applyVolume();
  }

  readonly #onGesture = (): void => {
    const { audioSession } = this.#platform;
    if (audioSession !== undefined && audioSession.type !== 'playback') {
      audioSession.type = 'playback';
    }
    if (this.#proof === 'stalled' || this.#open?.context.state === 'closed') this.#closeContext();
    if (this.#open === undefined) this.#openContext();
    this.#revive();
  };

  /** Asks a sleeping context to go on; refused without a gesture, and while a call lasts. */
  #revive(): void {
    const context = this.#open?.context;
    if (context !== undefined && context.state !== 'running' && context.state !== 'closed') {
      context.resume().then(this.#update, this.#update);
    }
    this.#update();
  }

  #openContext(): void {
    const { createContext } = this.#platform;
    if (createContext === undefined) return;
    try {
      const context = createContext();
      const master = context.createGain();
      master.connect(context.destination);
      context.addEventListener('statechange', this.#update);
      this.#open = { context, master, stage: this.#stageOn(context, master) };
      this.#failed = false;
      this.#applyVolume();
    } catch {
      // A device without a loudspeaker, or one context too many: the status says so.
      this.#failed = true;
      this.#update();
    }
  }

  #closeContext(): void {
    this.#queue.setStage(undefined);
    this.#open?.context.close().catch(() => undefined);
    this.#open = undefined;
    this.#proof = 'unknown';
    this.#lastLook = undefined;
  }

  #applyVolume(): void {
    const level = this.#isMuted ? 0 : this.#volume * FULL_LEVEL;
    const now = this.#open?.context.currentTime ?? 0;
    this.#open?.master.gain.setTargetAtTime(level, now, VOLUME_GLIDE_S);
    this.#update();
  }

  #watch(): void {
    this.#look();
    this.#stopWatch = this.#platform.timers.after(WATCH_EVERY_MS, () => this.#watch());
  }

  #look(): void {
    const context = this.#open?.context;
    if (context?.state === 'running' && this.#lastLook !== undefined) {
      const now = this.#reading(context);
      const verdict = judgeAdvance(this.#lastLook, now);
      if (verdict !== 'too-soon') this.#lastLook = now;
      if (verdict === 'advancing' || verdict === 'stalled') this.#proof = verdict;
    }
    this.#update();
    this.#queue.refresh();
  }

  #reading(context: AudioContextLike): AudioReading {
    return { realMs: this.#platform.realNowMs(), audioMs: context.currentTime * 1000 };
  }

  readonly #update = (): void => {
    const open = this.#open?.context.state === 'running' ? this.#open : undefined;
    if (open === undefined) {
      this.#proof = 'unknown';
      this.#lastLook = undefined;
    } else {
      this.#lastLook ??= this.#reading(open.context);
    }
    this.#queue.setStage(this.#proof === 'stalled' ? undefined : open?.stage);
    setIfChanged(this.#status, this.#judge());
  };

  #judge(): SoundStatus {
    if (this.#platform.createContext === undefined) return { state: 'off', reason: 'unsupported' };
    if (this.#failed) return { state: 'off', reason: 'failed' };
    const state = this.#open?.context.state;
    if (state === 'closed') return { state: 'off', reason: 'closed' };
    if (state === 'interrupted') return { state: 'interrupted' };
    if (state !== 'running') return { state: 'locked', reason: 'needs-touch' };
    if (this.#proof === 'stalled') return { state: 'off', reason: 'stalled' };
    if (this.#isMuted || this.#volume === 0) return { state: 'muted' };
    return this.#proof === 'advancing' ? { state: 'on' } : { state: 'locked', reason: 'checking' };
  }

  #stageOn(context: AudioContextLike, master: GainLike): SoundStage {
    const wave = makeWave(context);
    return {
      audioNowMs: () => context.currentTime * 1000,
      draw: (kind, atAudioMs) =>
        drawPulses(context, {
          pulses: soundPattern(kind).pulses,
          atSeconds: atAudioMs / 1000,
          wave,
          to: master,
          onEnded: () => this.#queue.refresh(),
        }),
    };
  }
}
