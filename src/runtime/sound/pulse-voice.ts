/**
 * Draws one pattern on the audio clock. Everything is handed to the audio thread at once, so that a
 * busy page cannot delay a pulse.
 */
import type { AudioNodeLike, SoundSurface, WaveLike } from './audio-context.ts';
import {
  fullLevel,
  PARTIAL_LEVELS_DB,
  type Pulse,
  patternLengthMs,
  rampMs,
} from './sound-patterns.ts';

/** A pattern that is set to sound, or sounds. */
export interface Voice {
  /** Ends it now, with a short fade instead of a click; before its time it never sounds. */
  cut(): void;
}

/** Fade of a pattern that is cut short, in seconds. */
const CUT_FADE_S = 0.01;
const S_PER_MS = 0.001;

/** Makes the tone colour: five partials with falling levels. */
export function makeWave(context: SoundSurface): WaveLike {
  const size = PARTIAL_LEVELS_DB.length + 1;
  const real = new Float32Array(size);
  const imag = new Float32Array(size);
  for (const [i, levelDb] of PARTIAL_LEVELS_DB.entries()) imag[i + 1] = 10 ** (levelDb / 20);
  return context.createPeriodicWave(real, imag);
}

/**
 * Sets `pulses` to sound from `atSeconds` on the clock of `context`.
 *
 * @param options.to where the sound goes.
 * @param options.onEnded called when it has sounded to its end, or was cut.
 */
export function drawPulses(
  context: SoundSurface,
  options: {
    readonly pulses: readonly Pulse[];
    readonly atSeconds: number;
    readonly wave: WaveLike;
    readonly to: AudioNodeLike;
    readonly onEnded: () => void;
  },
): Voice {
  const { atSeconds } = options;
  const envelope = context.createGain();
  const tone = context.createOscillator();
  tone.setPeriodicWave(options.wave);
  tone.connect(envelope);
  envelope.connect(options.to);

  envelope.gain.setValueAtTime(0, 0);
  for (const pulse of options.pulses) {
    const onset = atSeconds + pulse.startMs * S_PER_MS;
    const full = fullLevel(pulse);
    // The pitch changes in the silence before the pulse.
    tone.frequency.setValueAtTime(pulse.hz, onset);
    envelope.gain.setValueAtTime(0, onset);
    envelope.gain.linearRampToValueAtTime(1, atSeconds + full.fromMs * S_PER_MS);
    envelope.gain.setValueAtTime(1, atSeconds + full.toMs * S_PER_MS);
    const silentMs = full.toMs + rampMs(pulse);
    envelope.gain.linearRampToValueAtTime(0, atSeconds + silentMs * S_PER_MS);
  }
  tone.start(atSeconds);
  tone.stop(atSeconds + patternLengthMs(options) * S_PER_MS);
  tone.addEventListener('ended', () => {
    envelope.disconnect();
    options.onEnded();
  });

  return {
    cut() {
      const now = context.currentTime;
      envelope.gain.cancelScheduledValues(now);
      envelope.gain.setTargetAtTime(0, now, CUT_FADE_S / 4);
      tone.stop(Math.max(now + CUT_FADE_S, 0));
    },
  };
}
