/** When a kind of mishap is practised again: the vector of the rule, which has no other source. */
import { expect, test } from 'vitest';
import { standingOf } from '../../src/drill/schedule.ts';
import { vector } from './vectors.ts';

test('due days and states', () => {
  const { input, expected } = vector<
    readonly { readonly drills: readonly (readonly [number, boolean])[] }[],
    readonly { readonly dueDay: number; readonly state: string }[]
  >('drill-schedule');
  const found = input.map(({ drills }) => {
    const done = drills.map(([day, isRight]) => ({ day, isRight }));
    return standingOf(done, done.at(-1)?.day ?? 0);
  });
  expect(found).toEqual(expected);
});
