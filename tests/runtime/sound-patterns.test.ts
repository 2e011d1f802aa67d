/**
 * The ranges are those of IEC 60601-1-8:2006+A1, tables 3 and 4, as quoted in public alarm-sound
 * generators and in US 9,814,817 B2; the 15 dB limit for harmonics is from memory. No conformity is
 * claimed by meeting them.
 */

import { describe, expect, test } from 'vitest';
import {
  fullLevel,
  PARTIAL_LEVELS_DB,
  type Pulse,
  patternLengthMs,
  RISE_SHARE,
  rampMs,
  SOUND_PATTERNS,
  soundPattern,
} from '../../src/runtime/sound/sound-patterns.ts';
import type { SoundKind } from '../../src/words/codes.ts';

const PULSE_MS = { high: [75, 200], medium: [125, 250], low: [125, 250] } as const;
const SPACING_MS = { high: [50, 125], medium: [125, 250], low: [125, 250] } as const;
const COUNTS = { high: [10], medium: [3], low: [1, 2] } as const;

const spacings = (pulses: readonly Pulse[]): readonly number[] =>
  pulses.slice(1).map((pulse, i) => {
    const before = pulses[i];
    if (before === undefined) throw new Error('no pulse before');
    return pulse.startMs - (before.startMs + before.durationMs);
  });

const isWithin = (value: number, [least, most]: readonly [number, number]): boolean =>
  value >= least - 1e-9 && value <= most + 1e-9;

describe.each(SOUND_PATTERNS)('pattern $kind ($priority)', (pattern) => {
  const { priority, pulses } = pattern;

  test('has the number and length of pulses of its priority', () => {
    expect(COUNTS[priority]).toContain(pulses.length);
    for (const pulse of pulses) {
      expect(isWithin(pulse.durationMs, PULSE_MS[priority])).toBe(true);
    }
  });

  test('has the spacing of its priority', () => {
    const gaps = spacings(pulses);
    if (priority !== 'high') {
      for (const gap of gaps) expect(isWithin(gap, SPACING_MS[priority])).toBe(true);
      // Spaces within one burst are alike (table 3: y and y).
      expect(new Set(gaps.map((gap) => Math.round(gap))).size).toBeLessThanOrEqual(1);
      return;
    }
    const x = gaps[0] ?? Number.NaN;
    const td = pulses[0]?.durationMs ?? Number.NaN;
    expect(isWithin(x, SPACING_MS.high)).toBe(true);
    const five = [x, x, 2 * x + td, x];
    expect(gaps.slice(0, 4)).toEqual(five);
    expect(isWithin(gaps[4] ?? Number.NaN, [350, 1300])).toBe(true);
    expect(gaps.slice(5)).toEqual(five);
  });

  test('has a fundamental of 150-1000 Hz and four or more harmonics within 300-4000 Hz', () => {
    for (const { hz } of pulses) {
      expect(isWithin(hz, [150, 1000])).toBe(true);
      const harmonics = PARTIAL_LEVELS_DB.map((_, i) => hz * (i + 1)).slice(1);
      expect(harmonics.filter((f) => isWithin(f, [300, 4000])).length).toBeGreaterThanOrEqual(4);
    }
  });

  test('puts most of its energy between 500 and 2000 Hz', () => {
    for (const { hz } of pulses) {
      const powers = PARTIAL_LEVELS_DB.map(
        (level, i) => [hz * (i + 1), 10 ** (level / 10)] as const,
      );
      const sum = (list: readonly (readonly [number, number])[]) =>
        list.reduce((total, [, power]) => total + power, 0);
      const low = sum(powers.filter(([f]) => isWithin(f, [500, 2000])));
      expect(low / sum(powers)).toBeGreaterThan(0.7);
    }
  });

  test('comes again, if ever, after the silence of its priority', () => {
    const silenceMs = { high: [2500, 15_000], medium: [2500, 30_000] } as const;
    if (priority === 'low') expect(pattern.repeatAfterMs).toBeNull();
    else if (pattern.repeatAfterMs !== null) {
      expect(isWithin(pattern.repeatAfterMs, silenceMs[priority])).toBe(true);
    }
  });

  test('falls silent before the next pulse rises', () => {
    for (const [i, pulse] of pulses.entries()) {
      const next = pulses[i + 1];
      if (next !== undefined) {
        expect(fullLevel(pulse).toMs + rampMs(pulse)).toBeLessThan(next.startMs);
      }
    }
  });
});

test('every partial lies within 15 dB of the fundamental', () => {
  for (const level of PARTIAL_LEVELS_DB) expect(Math.abs(level)).toBeLessThanOrEqual(15);
});

test('the rise takes 10-20 % of the pulse', () => {
  expect(isWithin(RISE_SHARE, [0.1, 0.2])).toBe(true);
});

test('each kind has one pattern, and no two have the same rhythm or rank', () => {
  const kinds: SoundKind[] = [
    'nearing',
    'refused',
    'now',
    'over',
    'window-closing',
    'window-broken',
    'tablet-fault',
  ];
  const rhythms = kinds.map((kind) =>
    soundPattern(kind)
      .pulses.map(({ startMs, durationMs }) => `${Math.round(startMs)}+${durationMs}`)
      .join(' '),
  );
  expect(new Set(rhythms).size).toBe(kinds.length);
  expect(new Set(SOUND_PATTERNS.map(({ rank }) => rank)).size).toBe(kinds.length);
});

test('a more urgent priority has a higher rank, and nothing lasts five seconds', () => {
  const weight = { low: 0, medium: 1, high: 2 };
  const byRank = [...SOUND_PATTERNS].sort((a, b) => a.rank - b.rank);
  const weights = byRank.map(({ priority }) => weight[priority]);
  expect(weights).toEqual([...weights].sort((a, b) => a - b));
  for (const pattern of SOUND_PATTERNS) {
    expect(patternLengthMs(pattern)).toBeGreaterThan(100);
    // Table 3: 10 pulses of 200 ms, spacing 125 ms, 1.3 s between make 4.95 s at most.
    expect(patternLengthMs(pattern)).toBeLessThan(5000);
  }
});
