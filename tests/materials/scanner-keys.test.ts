/**
 * Keys of scanners at every speed that they are sold with, and of people: what is a label, what is told
 * as too slow, and what is neither. Gaps of people after Dhakal, Feit, Kristensson, Oulasvirta,
 * "Observations on typing from 136 million keystrokes", CHI 2018 (mean interval 239 ms, SD 112 ms, fast
 * typists about 120 ms; figures from memory), drawn as a log-normal of that mean and that spread.
 */
import { describe, expect, it } from 'vitest';
import { isMissing } from '../../src/calc/udi/label-fault.ts';
import { type TypedKey, Wedge } from '../../src/runtime/scanner/scanner.ts';
import { isSoundLabel, readScans } from '../../src/runtime/scanner/scanner-label.ts';

const GS1 = '010401234567890117281130' + '10AB';
const HIBC = '+A99912345/$$52001510X33';
const isLabel = (text: string): boolean => isSoundLabel(text, { presentYear: 2026 });

/** Mulberry32, a small public-domain generator: the same draws in every run. */
function rngOf(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** A gap of a person; the spread is the same part of every mean. */
function typingGapMs(rng: () => number, meanMs: number): number {
  const sigma = Math.sqrt(Math.log(1 + (112 / 239) ** 2));
  const normal = Math.sqrt(-2 * Math.log(1 - rng())) * Math.cos(2 * Math.PI * rng());
  return meanMs * Math.exp(sigma * normal - sigma ** 2 / 2);
}

function keysOf(text: string, gapOf: (n: number) => number): TypedKey[] {
  let atMs = 1000;
  return [...text, 'Enter'].map((key, n) => {
    atMs += n === 0 ? 0 : gapOf(n);
    return { key, ctrlKey: false, isRepeat: false, atMs };
  });
}

function outcomeOf(keys: readonly TypedKey[]) {
  const wedge = new Wedge({ isLabel });
  return keys.map((key) => wedge.take(key)).findLast(() => true);
}

describe('keys of a scanner', () => {
  it.each([1, 10, 30, 50, 51, 60, 80, 100])('%i ms apart are read', (gapMs) => {
    for (const text of [GS1, HIBC, 'ABCDEFGHIJ']) {
      expect(outcomeOf(keysOf(text, () => gapMs))).toEqual({ kind: 'label', text });
    }
  });

  it.each([101, 120, 150, 200, 300])('%i ms apart are told as too slow', (gapMs) => {
    for (const text of [GS1, HIBC, 'ABCDEFGHIJ']) {
      expect(outcomeOf(keysOf(text, () => gapMs))).toEqual({ kind: 'too-slow', gapMs });
    }
  });

  it('are read whole where one of them comes late', () => {
    for (const at of [3, 9, 15]) {
      const keys = keysOf(HIBC, (n) => (n === at ? 130 : 12));
      expect(outcomeOf(keys)).toEqual({ kind: 'label', text: HIBC });
    }
  });

  it('are read where Shift comes before some and takes its time', () => {
    const keys = keysOf(HIBC, () => 90).flatMap((key) =>
      /[A-Z+$]/.test(key.key) && key.key.length === 1
        ? [{ ...key, key: 'Shift', atMs: key.atMs - 45 }, key]
        : [key],
    );
    expect(outcomeOf(keys)).toEqual({ kind: 'label', text: HIBC });
  });

  it('are told from what somebody typed right before', () => {
    const typed = keysOf('lot', () => 180).slice(0, -1);
    const scan = keysOf(HIBC, () => 10).map((key) => ({ ...key, atMs: key.atMs + 620 }));
    expect(outcomeOf([...typed, ...scan])).toEqual({ kind: 'label', text: HIBC });
  });
});

describe('keys of a person', () => {
  it.each([238, 120])('who types a lot, %i ms a key on average, are no scan', (meanMs) => {
    const rng = rngOf(7);
    for (let person = 0; person < 300; person += 1) {
      const outcome = outcomeOf(keysOf('LOT 25-118 B', () => typingGapMs(rng, meanMs)));
      expect(outcome).toEqual({ kind: 'none' });
    }
  });

  it('who types a whole label are never taken for one', () => {
    const rng = rngOf(11);
    for (let person = 0; person < 300; person += 1) {
      expect(outcomeOf(keysOf(GS1, () => typingGapMs(rng, 238)))?.kind).not.toBe('label');
    }
  });
});

describe('a label that holds together', () => {
  it('has a right check digit or character', () => {
    expect([GS1, HIBC].map(isLabel)).toEqual([true, true]);
    expect(isLabel('0104012345678902172811301')).toBe(false);
    expect(isLabel('ABCDEFGH')).toBe(false);
    expect(
      readScans([GS1], { presentYear: 2026 }).label.faults.filter((f) => !isMissing(f)),
    ).toEqual([]);
  });
});
