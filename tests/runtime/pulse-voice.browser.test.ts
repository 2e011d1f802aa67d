/**
 * Renders each pattern as a browser does and measures the samples. Ranges: IEC 60601-1-8:2006+A1,
 * tables 3 and 4 (rise 10-20 % of the pulse; four or more harmonics within 300-4000 Hz; pulses
 * within 10 dB of each other), the 15 dB limit for harmonics from memory.
 */
import { describe, expect, test } from 'vitest';
import { drawPulses, makeWave } from '../../src/runtime/sound/pulse-voice.ts';
import {
  fullLevel,
  type Pulse,
  patternLengthMs,
  rampMs,
  SOUND_PATTERNS,
} from '../../src/runtime/sound/sound-patterns.ts';

const RATE_HZ = 48_000;
const AT_MS = 100;

async function render(pulses: readonly Pulse[], cutAtMs?: number): Promise<Float32Array> {
  const lengthMs = AT_MS + patternLengthMs({ pulses }) + 100;
  const context = new OfflineAudioContext(1, Math.ceil((lengthMs / 1000) * RATE_HZ), RATE_HZ);
  const voice = drawPulses(context, {
    pulses,
    atSeconds: AT_MS / 1000,
    wave: makeWave(context),
    to: context.destination,
    onEnded: () => undefined,
  });
  if (cutAtMs !== undefined) {
    void context.suspend(cutAtMs / 1000).then(() => {
      voice.cut();
      return context.resume();
    });
  }
  return (await context.startRendering()).getChannelData(0);
}

const index = (ms: number): number => Math.round((ms / 1000) * RATE_HZ);

/** The largest magnitude between two instants. */
function peak(samples: Float32Array, fromMs: number, toMs: number): number {
  let largest = 0;
  for (const sample of samples.subarray(Math.max(0, index(fromMs)), index(toMs))) {
    largest = Math.max(largest, Math.abs(sample));
  }
  return largest;
}

/** The level at an instant: the largest magnitude in the period of the fundamental around it. */
function level(samples: Float32Array, atMs: number, hz: number): number {
  const half = 500 / hz;
  return peak(samples, atMs - half, atMs + half);
}

/** First instant from `fromMs` on, in steps of 0.1 ms, at which `holds`. */
function firstMs(fromMs: number, holds: (atMs: number) => boolean): number {
  for (let step = 0; step < 10_000; step += 1) {
    const atMs = fromMs + step / 10;
    if (holds(atMs)) return atMs;
  }
  throw new Error('never reached within a second');
}

/** Power at one frequency between two instants (a plain Fourier sum with a Hann window). */
function powerAt(samples: Float32Array, hz: number, fromMs: number, toMs: number): number {
  const part = samples.subarray(index(fromMs), index(toMs));
  let re = 0;
  let im = 0;
  for (const [i, sample] of part.entries()) {
    const window = 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / part.length);
    const angle = (2 * Math.PI * hz * i) / RATE_HZ;
    re += window * sample * Math.cos(angle);
    im += window * sample * Math.sin(angle);
  }
  return (re * re + im * im) / part.length ** 2;
}

describe.each(SOUND_PATTERNS)('the sound of $kind', ({ pulses }) => {
  test('is there at each stated instant and nowhere else', async () => {
    const samples = await render(pulses);
    let silentFromMs = 0;
    for (const pulse of pulses) {
      const full = fullLevel(pulse);
      const onsetMs = AT_MS + pulse.startMs;
      expect(peak(samples, silentFromMs, onsetMs - 0.1)).toBeLessThan(1e-4);
      expect(peak(samples, AT_MS + full.fromMs, AT_MS + full.toMs)).toBeGreaterThan(0.9);
      silentFromMs = AT_MS + full.toMs + rampMs(pulse) + 0.1;
    }
    expect(peak(samples, silentFromMs, silentFromMs + 90)).toBeLessThan(1e-4);
  });

  test('rises within 10-20 % of each pulse, and lasts from 90 % to 90 % as long as stated', async () => {
    const samples = await render(pulses);
    for (const pulse of pulses) {
      const onsetMs = AT_MS + pulse.startMs;
      const middleMs = onsetMs + pulse.durationMs / 2;
      const top = level(samples, middleMs, pulse.hz);
      const reaches = (share: number) => (atMs: number) =>
        level(samples, atMs, pulse.hz) >= share * top;
      const tenthMs = firstMs(onsetMs, reaches(0.1));
      const ninetyMs = firstMs(onsetMs, reaches(0.9));
      const endMs = firstMs(middleMs, (atMs) => !reaches(0.9)(atMs));
      const share = (ninetyMs - tenthMs) / pulse.durationMs;
      expect(share).toBeGreaterThanOrEqual(0.1);
      expect(share).toBeLessThanOrEqual(0.2);
      // The level is known to within a period of the fundamental on either side.
      expect(Math.abs(endMs - ninetyMs - pulse.durationMs)).toBeLessThan(2 * (1000 / pulse.hz));
    }
  });

  test('has four or more harmonics within 300-4000 Hz and 15 dB, most energy in 0.5-2 kHz', async () => {
    const samples = await render(pulses);
    for (const pulse of pulses) {
      const full = fullLevel(pulse);
      const power = (hz: number) => powerAt(samples, hz, AT_MS + full.fromMs, AT_MS + full.toMs);
      const multiples = [1, 2, 3, 4, 5, 6, 7, 8].map((n) => n * pulse.hz);
      const fundamental = power(pulse.hz);
      const harmonics = multiples
        .slice(1)
        .filter((hz) => hz >= 300 && hz <= 4000)
        .filter((hz) => Math.abs(10 * Math.log10(power(hz) / fundamental)) <= 15);
      expect(harmonics.length).toBeGreaterThanOrEqual(4);
      const sum = (list: readonly number[]) => list.reduce((total, hz) => total + power(hz), 0);
      const middle = sum(multiples.filter((hz) => hz >= 500 && hz <= 2000));
      expect(middle / sum(multiples)).toBeGreaterThan(0.5);
    }
  });

  test('has pulses within 10 dB of each other', async () => {
    const samples = await render(pulses);
    const tops = pulses.map((pulse) =>
      level(samples, AT_MS + pulse.startMs + pulse.durationMs / 2, pulse.hz),
    );
    expect(20 * Math.log10(Math.max(...tops) / Math.min(...tops))).toBeLessThanOrEqual(10);
  });
});

describe('cutting', () => {
  const long = [{ startMs: 0, durationMs: 500, hz: 523.25 }];

  test('fades a sounding pattern within 20 ms, without a click', async () => {
    const samples = await render(long, 300);
    expect(peak(samples, 280, 299)).toBeGreaterThan(0.9);
    expect(peak(samples, 321, 600)).toBeLessThan(1e-4);
    let largestStep = 0;
    for (let i = index(295); i < index(330); i += 1) {
      largestStep = Math.max(largestStep, Math.abs((samples[i] ?? 0) - (samples[i - 1] ?? 0)));
    }
    let ownStep = 0;
    for (let i = index(200); i < index(290); i += 1) {
      ownStep = Math.max(ownStep, Math.abs((samples[i] ?? 0) - (samples[i - 1] ?? 0)));
    }
    expect(largestStep).toBeLessThanOrEqual(ownStep * 1.2);
  });

  test('before its time leaves silence', async () => {
    const samples = await render(long, 50);
    expect(peak(samples, 0, 600)).toBeLessThan(1e-4);
  });
});
