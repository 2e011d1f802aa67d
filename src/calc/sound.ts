/**
 * Pulse patterns of alarm signals after IEC 60601-1-8: ten pulses (five and five) for high
 * priority, three for medium, two for low. Durations in ms.
 */
import { unreachable } from '../base/assert.ts';
import { ok } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { readChoice, readObject } from './reading.ts';

export type AlarmPriority = 'high' | 'medium' | 'low';

interface AlarmPulse {
  readonly startMs: number;
  readonly durationMs: number;
  /** Fundamental frequency; see {@link ALARM_PARTIALS} for what sounds above it. */
  readonly hz: number;
}

interface AlarmPattern {
  readonly pulses: readonly AlarmPulse[];
  /** From the first pulse of a burst to the first pulse of the next one. */
  readonly repeatAfterMs: number;
}

/** Multiples of the fundamental that sound together: four at least within 300 to 4000 Hz. */
export const ALARM_PARTIALS = [1, 2, 3, 4] as const;
/** Rise and fall of a pulse as a share of its duration; the standard allows 0.1 to 0.2. */
export const ALARM_RISE_SHARE = 0.15;

interface Burst {
  readonly pulseMs: number;
  /** Silence after each pulse but the last. */
  readonly gapsMs: readonly number[];
  readonly hz: number;
  readonly repeatAfterMs: number;
}

const HIGH_PULSE_MS = 150;
const HIGH_SPACING_MS = 100;
const HIGH_GROUP_GAP_MS = 600;
const FIVE = [
  HIGH_SPACING_MS,
  HIGH_SPACING_MS,
  2 * HIGH_SPACING_MS + HIGH_PULSE_MS,
  HIGH_SPACING_MS,
];

function burst(priority: AlarmPriority): Burst {
  switch (priority) {
    case 'high':
      return {
        pulseMs: HIGH_PULSE_MS,
        gapsMs: [...FIVE, HIGH_GROUP_GAP_MS, ...FIVE],
        hz: 880,
        repeatAfterMs: 10_000,
      };
    case 'medium':
      return { pulseMs: 200, gapsMs: [200, 200], hz: 660, repeatAfterMs: 15_000 };
    case 'low':
      return { pulseMs: 200, gapsMs: [200], hz: 440, repeatAfterMs: 30_000 };
    default:
      return unreachable(priority);
  }
}

/** One burst of the alarm signal for a priority, and when it repeats. */
export function alarmPattern(priority: AlarmPriority): AlarmPattern {
  const { pulseMs, gapsMs, hz, repeatAfterMs } = burst(priority);
  const pulses: AlarmPulse[] = [{ startMs: 0, durationMs: pulseMs, hz }];
  let startMs = 0;
  for (const gapMs of gapsMs) {
    startMs += pulseMs + gapMs;
    pulses.push({ startMs, durationMs: pulseMs, hz });
  }
  return { pulses, repeatAfterMs };
}

/** `sound`: the pulses of one burst. */
export const soundCalc: Calc = defineCalc(
  {
    name: 'sound',
    about: 'pulses of an alarm signal and when it repeats',
    source: 'IEC 60601-1-8, tables 2 to 4 (as quoted in public sources)',
  },
  readObject({ priority: readChoice(['high', 'medium', 'low']) }),
  ({ priority }) => ok(alarmPattern(priority)),
);
