/**
 * The etch round beside an independent model of it: a statechart in XState 5 (Stately, MIT) on a
 * simulated clock. Instants of warnings, targets and maxima, and every breach, must agree.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { Chair } from './chair.ts';
import { etchMachine, legalPresses, type RoundPress, TEETH } from './etch-machine.ts';
import { ETCH_ROUND, settingOf } from './fixture.ts';

const setting = settingOf(ETCH_ROUND, TEETH);

/** Nine presses in a random legal order with random waits in between. */
const roundPresses = fc
  .array(fc.record({ waitMs: fc.integer({ min: 0, max: 25_000 }), pick: fc.nat(99) }), {
    minLength: 9,
    maxLength: 9,
  })
  .map((raw) => {
    const presses: RoundPress[] = [];
    for (const { waitMs, pick } of raw) {
      const legal = legalPresses(presses.map((p) => p.event));
      const event = legal[pick % legal.length];
      if (event) presses.push({ waitMs, event });
    }
    return presses;
  });

const byText = (a: string, b: string) => (a < b ? -1 : 1);

function ours(presses: readonly RoundPress[]) {
  const chair = new Chair(setting).rows('at 0 s confirm ready case');
  const told = new Set<string>();
  const look = () => {
    const { cues, at } = chair.view;
    for (const cue of cues.filter((c) => c.dueInMs <= 0)) {
      for (const subject of cue.subjects) {
        told.add(`${cue.kind} ${cue.of} ${subject.slice(6)} at ${at.loMs + cue.dueInMs}`);
      }
    }
  };
  for (const { waitMs, event } of presses) {
    chair.at(chair.trueMs + waitMs);
    look();
    const [what, tooth = ''] = event.split(' ');
    if (what === 'gel') chair.rows(`start etch ${tooth}`);
    else if (what === 'rinse') chair.rows(`end etch ${tooth}`);
    else chair.rows(`end rinse ${TEETH.join(' ')}`);
  }
  look();
  return {
    told: [...told].sort(byText),
    breaches: chair.breaches.map((b) => b.replace('tooth:', '')).sort(byText),
    isDone: TEETH.every((t) => chair.status(`rinse@tooth:${t}`) === 'done'),
  };
}

function theirs(presses: readonly RoundPress[]) {
  const machine = etchMachine();
  for (const { waitMs, event } of presses) {
    machine.clock.advanceTo(machine.clock.nowMs() + waitMs);
    machine.press({ type: event });
  }
  const { told, breaches } = machine.witness;
  return {
    told: told.map((t) => `${t.what} ${t.tooth} at ${t.atMs}`).sort(byText),
    breaches: breaches.map((b) => `${b.what} ${b.tooth} by ${b.byMs}`).sort(byText),
    isDone: machine.isDone(),
  };
}

it('tells the same at the same instants, and breaks the same bounds by the same milliseconds', () => {
  const seen = { short: 0, over: 0, kept: 0, told: 0 };
  fc.assert(
    fc.property(roundPresses, (presses) => {
      const model = theirs(presses);
      expect(ours(presses)).toEqual(model);
      expect(model.isDone).toBe(true);
      seen.told += model.told.length;
      if (model.breaches.length === 0) seen.kept += 1;
      if (model.breaches.some((b) => b.startsWith('short'))) seen.short += 1;
      if (model.breaches.some((b) => b.startsWith('over'))) seen.over += 1;
    }),
    { numRuns: 150 },
  );
  // All kinds of rounds must have come up, or agreement would mean little.
  expect(seen.short).toBeGreaterThan(15);
  expect(seen.over).toBeGreaterThan(15);
  expect(seen.told).toBeGreaterThan(1000);
});

it.each([
  { waitMs: 14_999, breaches: ['short etch 11 by 1'] },
  { waitMs: 15_000, breaches: [] },
  { waitMs: 30_000, breaches: [] },
  { waitMs: 30_001, breaches: ['over etch 11 by 1'] },
])('agrees at the very edge: $waitMs ms of etch', ({ waitMs, breaches }) => {
  const presses: RoundPress[] = [
    { waitMs: 0, event: 'gel 11' },
    { waitMs, event: 'rinse 11' },
  ];
  expect(ours(presses)).toEqual(theirs(presses));
  expect(theirs(presses).breaches).toEqual(breaches);
});
