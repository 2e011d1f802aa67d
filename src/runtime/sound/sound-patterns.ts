/**
 * The few sounds there are, as data. Each has one meaning and a rhythm of its own, so that they can
 * be told apart by someone who cannot name a pitch.
 *
 * Rhythm, pulse length, spacing, rise and harmonics keep to the ranges of IEC 60601-1-8 tables 3
 * and 4 for the priority named (no conformity is claimed): high 75-200 ms pulses, 5+5, spacing
 * x, x, 2x + pulse, x with x 50-125 ms, 0.35-1.3 s between the fives; medium 3 pulses and low 1 or 2
 * of 125-250 ms, spacing 125-250 ms; 2.5-15 s (high) or 2.5-30 s (medium) of silence before it comes
 * again; fundamental 150-1000 Hz with four or more harmonics within
 * 300-4000 Hz. The pitches are our own choice: above 500 Hz, so that most of the energy lies where
 * ears and small loudspeakers are good (0.5-2 kHz), and low enough for five partials below 4 kHz.
 */
import type { SoundKind } from '../../words/codes.ts';

/** What can sound: the engine's cues, and the app's own trouble. */
type SoundPriority = 'low' | 'medium' | 'high';

/** One tone of a pattern. `durationMs` runs from 90 % on the rise to 90 % on the fall. */
export interface Pulse {
  /** Onset, in ms from the start of the pattern. */
  readonly startMs: number;
  readonly durationMs: number;
  /** Fundamental. */
  readonly hz: number;
}

export interface SoundPattern {
  readonly kind: SoundKind;
  readonly priority: SoundPriority;
  /** The higher goes first when two would sound together. */
  readonly rank: number;
  readonly pulses: readonly Pulse[];
  /** Silence before an unacknowledged one comes again, in ms; null for one that never does. */
  readonly repeatAfterMs: number | null;
  /** For developers and the quick card; the words on the screen live in the catalogue. */
  readonly meaning: string;
}

/** Levels of the partials 1-5 relative to the fundamental, in dB. All within 15 dB of it. */
export const PARTIAL_LEVELS_DB: readonly number[] = [0, -3, -6, -9, -12];

/** Time from 10 % to 90 % of the level on the rise and on the fall, as a share of the pulse. */
export const RISE_SHARE = 0.15;
/** A straight ramp passes from 10 % to 90 % in eight tenths of its length. */
const RAMP_SHARE = RISE_SHARE / 0.8;

/** Length of the whole ramp from silence to full level (and back), in ms. */
export function rampMs(pulse: Pulse): number {
  return pulse.durationMs * RAMP_SHARE;
}

/** The instants, in ms from the start of the pattern, between which the pulse is at full level. */
export function fullLevel(pulse: Pulse): { readonly fromMs: number; readonly toMs: number } {
  const ramp = rampMs(pulse);
  // 90 % is passed at 0.9 of the rise and at 0.1 of the fall.
  return { fromMs: pulse.startMs + ramp, toMs: pulse.startMs + 0.8 * ramp + pulse.durationMs };
}

/** When the last sound of the pattern has died away, in ms from its start. */
export function patternLengthMs(pattern: Pick<SoundPattern, 'pulses'>): number {
  return Math.max(0, ...pattern.pulses.map((pulse) => fullLevel(pulse).toMs + rampMs(pulse)));
}

const C5 = 523.25;
const E5 = 659.26;
const G5 = 783.99;

/** Pulses of one length, `spacingMs` apart, one for each pitch. */
function row(
  pitches: readonly number[],
  rhythm: { readonly durationMs: number; readonly spacingMs: number },
): readonly Pulse[] {
  const { durationMs, spacingMs } = rhythm;
  return pitches.map((hz, i) => ({ startMs: i * (durationMs + spacingMs), durationMs, hz }));
}

/** Five pulses spaced x, x, 2x + pulse, x, and after `betweenMs` the same five again. */
function twiceFive(
  pitches: readonly [number, number, number, number, number],
  rhythm: { readonly durationMs: number; readonly spacingMs: number; readonly betweenMs: number },
): readonly Pulse[] {
  const { durationMs, spacingMs, betweenMs } = rhythm;
  const gapsMs = [spacingMs, spacingMs, 2 * spacingMs + durationMs, spacingMs, betweenMs];
  const pulses: Pulse[] = [];
  let startMs = 0;
  for (const _ of [1, 2]) {
    for (const [i, hz] of pitches.entries()) {
      pulses.push({ startMs, durationMs, hz });
      startMs += durationMs + (gapsMs[i] ?? 0);
    }
  }
  return pulses;
}

/** Every pattern, most urgent first. */
export const SOUND_PATTERNS: readonly SoundPattern[] = [
  {
    kind: 'window-broken',
    priority: 'high',
    rank: 7,
    pulses: twiceFive([C5, C5, C5, G5, G5], { durationMs: 150, spacingMs: 100, betweenMs: 600 }),
    repeatAfterMs: 10_000,
    meaning: 'a window has been overrun',
  },
  {
    kind: 'tablet-fault',
    priority: 'medium',
    rank: 6,
    pulses: row([E5, C5, E5], { durationMs: 250, spacingMs: 250 }),
    repeatAfterMs: 20_000,
    meaning: 'something is wrong with the tablet',
  },
  {
    kind: 'window-closing',
    priority: 'medium',
    rank: 5,
    pulses: row([C5, E5, G5], { durationMs: 180, spacingMs: 200 }),
    repeatAfterMs: null,
    meaning: 'a window closes soon',
  },
  {
    kind: 'over',
    priority: 'medium',
    rank: 4,
    pulses: row([G5, E5, C5], { durationMs: 125, spacingMs: 125 }),
    repeatAfterMs: 20_000,
    meaning: 'a step has run past its longest time',
  },
  {
    kind: 'now',
    priority: 'low',
    rank: 3,
    pulses: row([E5, G5], { durationMs: 200, spacingMs: 150 }),
    repeatAfterMs: null,
    meaning: 'the time has come',
  },
  {
    kind: 'refused',
    priority: 'low',
    rank: 2,
    pulses: row([G5, C5], { durationMs: 130, spacingMs: 130 }),
    repeatAfterMs: null,
    meaning: 'a press was not taken',
  },
  {
    kind: 'nearing',
    priority: 'low',
    rank: 1,
    pulses: row([E5], { durationMs: 150, spacingMs: 150 }),
    repeatAfterMs: null,
    meaning: 'the time comes in a moment',
  },
];

/** The pattern of one kind. */
export function soundPattern(kind: SoundKind): SoundPattern {
  const found = SOUND_PATTERNS.find((pattern) => pattern.kind === kind);
  if (found === undefined) throw new RangeError(`no sound pattern for ${kind}`);
  return found;
}
