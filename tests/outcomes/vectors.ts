/**
 * The vectors of vectors.json: values computed by other programs (R with survival, KMsurv and spc; Python
 * with numpy and scipy), or printed in the named source. Each says which.
 */
import { expect } from 'vitest';
import { present } from '../../src/base/assert.ts';
import type { Timed } from '../../src/outcomes/life-types.ts';
import file from './vectors.json' with { type: 'json' };

/** One vector; the caller names the shape of its input and of what is expected. */
export interface Vector<I, E> {
  readonly input: I;
  readonly expected: E;
  readonly tolerance: number;
}

export const vectorIds: readonly string[] = file.vectors.map((each) => each.id);

export function vector<I, E>(id: string): Vector<I, E> {
  const found: unknown = present(
    file.vectors.find((each) => each.id === id),
    `vector ${id}`,
  );
  return found as Vector<I, E>;
}

/** Every number as in the vector, within its tolerance, relative and absolute. */
export function expectClose(actual: unknown, expected: unknown, tolerance: number, at = ''): void {
  if (typeof expected === 'number') {
    expect(typeof actual, at).toBe('number');
    const room = tolerance * (1 + Math.abs(expected));
    expect(Math.abs((actual as number) - expected), `${at}: ${actual}`).toBeLessThanOrEqual(room);
  } else if (expected !== null && typeof expected === 'object') {
    if (Array.isArray(expected)) expect((actual as unknown[]).length, at).toBe(expected.length);
    for (const [key, value] of Object.entries(expected)) {
      expectClose((actual as Record<string, unknown>)[key], value, tolerance, `${at}/${key}`);
    }
  } else expect(actual, at).toBe(expected);
}

/** Survival data as the vectors have them. Every unit is its own patient unless clusters are given. */
export interface Columns {
  readonly times: readonly number[];
  readonly events: readonly number[];
  readonly entry?: readonly number[];
  readonly cluster?: readonly number[];
}

const EVENTS = ['none', 'event', 'competing'] as const;

export const livesOf = ({ times, events, entry, cluster }: Columns): readonly Timed[] =>
  times.map((time, at) => ({
    entry: entry?.[at] ?? 0,
    time,
    event: EVENTS[events[at] ?? 0] ?? 'none',
    patient: String(cluster?.[at] ?? `unit ${at}`),
  }));
