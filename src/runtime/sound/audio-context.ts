/** The part of Web Audio that is used, so that tests can put their own in its place. */

export interface AudioParamLike {
  setValueAtTime(value: number, atSeconds: number): unknown;
  linearRampToValueAtTime(value: number, atSeconds: number): unknown;
  cancelScheduledValues(fromSeconds: number): unknown;
  setTargetAtTime(value: number, fromSeconds: number, timeConstantSeconds: number): unknown;
}

export interface AudioNodeLike {
  connect(to: AudioNodeLike): unknown;
  disconnect(): void;
}

export interface GainLike extends AudioNodeLike {
  readonly gain: AudioParamLike;
}

export interface OscillatorLike extends AudioNodeLike {
  readonly frequency: AudioParamLike;
  setPeriodicWave(wave: WaveLike): void;
  start(atSeconds: number): void;
  stop(atSeconds: number): void;
  addEventListener(type: 'ended', listener: () => void): void;
}

/** A tone colour; only the context that made it looks inside. */
export type WaveLike = object;

/** What is needed to draw a sound, on line or off line. */
export interface SoundSurface {
  readonly currentTime: number;
  readonly destination: AudioNodeLike;
  createGain(): GainLike;
  createOscillator(): OscillatorLike;
  createPeriodicWave(real: Float32Array<ArrayBuffer>, imag: Float32Array<ArrayBuffer>): WaveLike;
}

/** A context that plays to a loudspeaker. */
export interface AudioContextLike extends SoundSurface {
  /** `running`, `suspended`, `interrupted` or `closed`. */
  readonly state: string;
  resume(): Promise<void>;
  close(): Promise<void>;
  addEventListener(type: 'statechange', listener: () => void): void;
}
