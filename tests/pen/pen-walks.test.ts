/** Random walks through a case that goes from tablet to tablet on the way: the same must hold as on one tablet. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deepFreeze } from '../../src/base/freeze.ts';
import { decide } from '../../src/engine/decide.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { replay } from '../../src/engine/log.ts';
import type { Recorded } from '../../src/engine/types.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { answered } from '../../src/plan/follow.ts';
import { tellReadBack } from '../../src/words/read-back-words.ts';
import type { Chair } from '../engine/chair.ts';
import { SMALL_WHOLE, settingOf } from '../engine/fixture.ts';
import { follow, type Stride, startsOf, strides, walk } from '../engine/walks.ts';
import { sourceOf } from '../export/journals.ts';

const SCALE = Number(process.env['PROPERTY_SCALE'] ?? 1);
const start = startsOf(settingOf(SMALL_WHOLE, ['11', '21', '12']));

interface HandOver {
  readonly isGiven: boolean;
  readonly waitMs: number;
  /** The clock of the tablet that takes the case, against that of the one before. */
  readonly wallMs: number;
  readonly walked: readonly Stride[];
}

const handOver: fc.Arbitrary<HandOver> = fc.record({
  isGiven: fc.boolean(),
  waitMs: fc.integer({ min: 0, max: 120_000 }),
  wallMs: fc.integer({ min: -1e11, max: 1e11 }),
  walked: strides(12),
});

const nameOf = (n: number) => ({ tablet: `tablet-${n}`, name: `Chair ${n}` });

function pass(chair: Chair, n: number, { isGiven, waitMs, wallMs }: HandOver): void {
  const { tablet: to, name: toName } = nameOf(n);
  if (isGiven) chair.do({ do: 'give-pen', ...nameOf(n - 1), to, toName });
  chair.at(chair.trueMs + waitMs);
  chair.clock.moveWall(wallMs);
  chair.clock.restart(`tablet-run-${n}`);
  const take = { do: 'take-pen', ...nameOf(n), fromName: toName, isHeard: false } as const;
  expect(chair.do({ ...take, reason: 'for a test' })).toBeNull();
}

/** A case that the first tablet opened, pressed on, and handed on as often as is said. */
function handedOn(presses: number, list: readonly Stride[], hands: readonly HandOver[]): Chair {
  const chair = start(presses);
  chair.log = replay(
    chair.log.records.map((r) =>
      r.event.type === 'case-opened'
        ? { ...r, event: { ...r.event, tablet: nameOf(0).tablet } }
        : r,
    ),
  );
  walk(chair, list);
  for (const [n, hand] of hands.entries()) {
    pass(chair, n + 1, hand);
    walk(chair, hand.walked);
  }
  return chair;
}

const walks = [
  fc.nat(200),
  strides(15),
  fc.array(handOver, { minLength: 1, maxLength: 3 }),
] as const;

describe('a case that is handed on', () => {
  it(
    'replays from its records to the state that lived, and tells each tablet',
    () => {
      fc.assert(
        fc.property(...walks, (presses, list, hands) => {
          const { log } = handedOn(presses, list, hands);
          const stored = JSON.parse(JSON.stringify(log.records)) as Recorded[];
          expect(replay(deepFreeze(stored)).state).toEqual(log.state);
          const { tablets = [] } = recordFacts(sourceOf(log));
          expect(tablets.map(({ tablet }) => tablet)).toEqual(
            [...Array(hands.length + 1).keys()].map((n) => nameOf(n).tablet),
          );
          // Every press belongs to exactly one tablet.
          const last = log.records.at(-1)?.press ?? 0;
          expect(tablets.flatMap((t) => [t.fromPress, t.toPress])).toEqual(
            tablets.flatMap((t, n) => [t.fromPress, (tablets[n + 1]?.fromPress ?? last + 1) - 1]),
          );
        }),
        { numRuns: 60 * SCALE },
      );
    },
    120_000 * SCALE,
  );

  it(
    'offers only what can be decided, and can be finished from anywhere',
    () => {
      fc.assert(
        fc.property(...walks, (presses, list, hands) => {
          const chair = handedOn(presses, list, hands);
          const { log, stamp } = chair;
          for (const each of chair.view.offers) {
            const offer = answered(layoutOf(log.state), each);
            const press = { do: 'press', offer, reason: 'for a test' } as const;
            expect(decide(log, press, stamp, tellReadBack).ok, offer.id).toBe(true);
          }
          if (log.state.closed) return;
          follow(chair, 400);
          expect(chair.view.finished, chair.view.offers.map((o) => o.id).join()).toBe(true);
        }),
        { numRuns: 40 * SCALE },
      );
    },
    120_000 * SCALE,
  );

  it(
    'takes no press while nobody has its pen',
    () => {
      fc.assert(
        fc.property(fc.nat(200), strides(15), (presses, list) => {
          const chair = handedOn(presses, list, []);
          if (chair.log.state.closed) return;
          chair.do({ do: 'give-pen', ...nameOf(0), to: null, toName: '' });
          for (const each of chair.view.offers) {
            const offer = answered(layoutOf(chair.log.state), each);
            expect(chair.do({ do: 'press', offer })).toMatchObject({ code: 'not-holder' });
          }
          expect(chair.do({ do: 'undo' })).toMatchObject({ code: 'not-holder' });
        }),
        { numRuns: 30 * SCALE },
      );
    },
    60_000 * SCALE,
  );
});
