import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type PlacedSound,
  placeSounds,
  SILENCE_BETWEEN_MS,
  type WantedSound,
} from '../../src/runtime/sound/sound-plan.ts';

const want = (id: string, dueMs: number, rank: number, lengthMs = 1000): WantedSound => ({
  id,
  dueMs,
  lengthMs,
  rank,
});
const starts = (placed: readonly PlacedSound[]) =>
  Object.fromEntries(placed.map(({ id, startMs }) => [id, startMs]));

describe('placing sounds', () => {
  test.each([
    ['alone: at its instant', [want('a', 500, 1)], { a: 500 }],
    ['alone and late: at once', [want('a', -500, 1)], { a: 0 }],
    ['apart: both at their instants', [want('a', 0, 1), want('b', 1300, 9)], { a: 0, b: 1300 }],
    [
      'lower inside higher: moves behind',
      [want('hi', 0, 9), want('lo', 500, 1)],
      { hi: 0, lo: 1300 },
    ],
    [
      'lower would run into higher: moves behind',
      [want('lo', 0, 1), want('hi', 500, 9)],
      { hi: 500, lo: 1800 },
    ],
    ['same rank: first due first', [want('b', 0, 1), want('a', 10, 1)], { b: 0, a: 1300 }],
    ['same rank, same instant: by id', [want('b', 0, 1), want('a', 0, 1)], { a: 0, b: 1300 }],
    [
      'lower fits between two higher',
      [want('h1', 0, 9), want('h2', 2600, 9), want('lo', 900, 1)],
      { h1: 0, lo: 1300, h2: 2600 },
    ],
  ])('%s', (_, wanted, expected) => {
    expect(starts(placeSounds(wanted, { notBeforeMs: 0, fixed: [] }))).toEqual(expected);
  });

  test('leaves a sound that already sounds where it is, whatever its rank', () => {
    const fixed = [{ id: 'x', startMs: -200, endMs: 800 }];
    const placed = placeSounds([want('hi', 0, 9)], { notBeforeMs: 0, fixed });
    expect(starts(placed)).toEqual({ hi: 800 + SILENCE_BETWEEN_MS });
  });

  test('never two at a time, none lost, none early, none moved without a cause (property)', () => {
    const sounds = fc.uniqueArray(
      fc.record({
        id: fc.string({ minLength: 1, maxLength: 4 }),
        dueMs: fc.integer({ min: -5000, max: 60_000 }),
        lengthMs: fc.integer({ min: 1, max: 4000 }),
        rank: fc.integer({ min: 1, max: 6 }),
      }),
      { selector: ({ id }) => id, maxLength: 40 },
    );
    fc.assert(
      fc.property(sounds, fc.option(fc.integer({ min: 1, max: 3000 })), (wanted, endMs) => {
        const fixed = endMs === null ? [] : [{ id: '\u0000', startMs: -100, endMs }];
        const placed = placeSounds(wanted, { notBeforeMs: 10, fixed });
        expect(placed.map(({ id }) => id).sort()).toEqual(wanted.map(({ id }) => id).sort());
        const all = [...fixed, ...placed].sort((a, b) => a.startMs - b.startMs);
        for (const [i, sound] of all.entries()) {
          const next = all[i + 1];
          if (next === undefined) continue;
          expect(next.startMs).toBeGreaterThanOrEqual(sound.endMs + SILENCE_BETWEEN_MS);
        }
        const rankOf = new Map(wanted.map((sound) => [sound.id, sound.rank]));
        for (const sound of wanted) {
          const place = placed.find(({ id }) => id === sound.id);
          if (place === undefined) throw new Error('lost');
          const soonest = Math.max(sound.dueMs, 10);
          expect(place.startMs).toBeGreaterThanOrEqual(soonest);
          if (place.startMs === soonest) continue;
          const cause = all.find((other) => other.endMs + SILENCE_BETWEEN_MS === place.startMs);
          if (cause === undefined) throw new Error(`${sound.id} was moved for nothing`);
          expect(rankOf.get(cause.id) ?? 99).toBeGreaterThanOrEqual(sound.rank);
        }
      }),
      { numRuns: 500 },
    );
  });
});
