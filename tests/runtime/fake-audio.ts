import type {
  AudioContextLike,
  AudioParamLike,
  GainLike,
  OscillatorLike,
} from '../../src/runtime/sound/audio-context.ts';

/** One oscillator as the audio thread would play it. Instants in seconds of the audio clock. */
export interface PlayedTone {
  readonly startS: number;
  readonly stopS: number;
}

interface Tone {
  startS: number;
  stopS: number;
  ended: boolean;
  readonly onEnded: (() => void)[];
}

/** An audio context without a loudspeaker, whose clock the test drives. */
export interface FakeAudio extends AudioContextLike {
  state: string;
  /** False: resume() is refused, as without a gesture. */
  mayResume: boolean;
  /** True: it says it runs, and its clock stands still. */
  isStalled: boolean;
  /** Lets the audio thread run for `ms`. */
  run(ms: number): void;
  setState(state: string): void;
  /** Every tone that sounded, even partly. */
  played(): readonly PlayedTone[];
  /** Tones set for later, by start. */
  waiting(): readonly PlayedTone[];
  /** The levels the master was set to, newest last. */
  readonly levels: number[];
  drawCount: number;
}

const silentParam: AudioParamLike = {
  setValueAtTime: () => undefined,
  linearRampToValueAtTime: () => undefined,
  cancelScheduledValues: () => undefined,
  setTargetAtTime: () => undefined,
};

export function fakeAudio(state: 'running' | 'suspended'): FakeAudio {
  const tones: Tone[] = [];
  const stateListeners: (() => void)[] = [];
  const levels: number[] = [];
  let currentTime = 0;
  let gains = 0;

  const makeGain = (): GainLike => {
    gains += 1;
    const isMaster = gains === 1;
    return {
      gain: {
        ...silentParam,
        setTargetAtTime(value) {
          if (isMaster) levels.push(value);
        },
      },
      connect: () => undefined,
      disconnect: () => undefined,
    };
  };
  const makeTone = (): OscillatorLike => {
    const tone: Tone = { startS: Infinity, stopS: Infinity, ended: false, onEnded: [] };
    tones.push(tone);
    context.drawCount += 1;
    return {
      frequency: silentParam,
      setPeriodicWave: () => undefined,
      start(atS) {
        tone.startS = Math.max(atS, currentTime);
      },
      stop(atS) {
        if (!tone.ended) tone.stopS = atS;
      },
      addEventListener: (_, listener) => tone.onEnded.push(listener),
      connect: () => undefined,
      disconnect: () => undefined,
    };
  };

  const context: FakeAudio = {
    state,
    mayResume: true,
    isStalled: false,
    drawCount: 0,
    levels,
    get currentTime() {
      return currentTime;
    },
    destination: { connect: () => undefined, disconnect: () => undefined },
    createGain: makeGain,
    createOscillator: makeTone,
    createPeriodicWave: () => ({}),
    addEventListener: (_, listener) => stateListeners.push(listener),
    setState(next) {
      context.state = next;
      for (const listener of stateListeners) listener();
    },
    resume() {
      if (!context.mayResume) return Promise.reject(new Error('NotAllowedError'));
      context.setState('running');
      return Promise.resolve();
    },
    close() {
      context.state = 'closed';
      return Promise.resolve();
    },
    run(ms) {
      if (context.state !== 'running' || context.isStalled) return;
      currentTime += ms / 1000;
      for (const tone of tones) {
        if (tone.ended || tone.stopS > currentTime) continue;
        tone.ended = true;
        for (const listener of tone.onEnded) listener();
      }
    },
    played: () =>
      tones
        .filter((tone) => tone.startS < Math.min(tone.stopS, currentTime))
        .map(({ startS, stopS }) => ({ startS, stopS })),
    waiting: () =>
      tones
        .filter((tone) => tone.startS >= currentTime && tone.stopS > tone.startS)
        .map(({ startS, stopS }) => ({ startS, stopS }))
        .sort((a, b) => a.startS - b.startS),
  };
  return context;
}
