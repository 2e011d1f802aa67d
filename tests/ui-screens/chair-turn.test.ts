/** What is painted first when something becomes due, and what may follow in the next frames. */
import { expect, test } from 'vitest';
import { hasTurned } from '../../src/ui/chair/chair-model.ts';
import { FamilyChair } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';

/** Before the first end of a dwell that is not yet due. */
function waiting(): FamilyChair {
  const chair = FamilyChair.of('veneers, universal');
  for (let press = 0; press < 300; press += 1) {
    const top = chair.view.offers[0];
    if (top?.kind === 'end' && top.dueInMs > 1000) return chair;
    chair.next();
  }
  throw new Error('nothing is ever waited for');
}

test('what the bar waited for has become due: only then does the rest of the screen follow later', () => {
  const chair = waiting();
  const before = runningOf(chair);
  const dueInMs = before.view.offers[0]?.dueInMs ?? 0;
  chair.atMs += dueInMs - 1;
  expect(hasTurned(before, runningOf(chair))).toBe(false);
  chair.atMs += 1;
  const due = runningOf(chair);
  expect(hasTurned(before, due)).toBe(true);
  // Once it is due, every part shows the same picture again.
  chair.atMs += 1000;
  expect(hasTurned(due, runningOf(chair))).toBe(false);
});

test('a press is shown by the whole screen at once, also when it makes something due', () => {
  const chair = waiting();
  const before = runningOf(chair);
  chair.next();
  expect(hasTurned(before, runningOf(chair))).toBe(false);
});
