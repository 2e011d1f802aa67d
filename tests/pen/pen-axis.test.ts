/**
 * What the clocks know when a case goes from one tablet to another. True time is kept beside the two tablets'
 * clocks, which differ by any amount: whatever is told must hold the truth.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { elapsed } from '../../src/engine/axis.ts';
import { decide } from '../../src/engine/decide.ts';
import { type CaseLog, extend, recordPress, replay } from '../../src/engine/log.ts';
import type { SeenClock } from '../../src/engine/pen-types.ts';
import type { CaseInstant, Stamp } from '../../src/engine/types.ts';
import { nowOf, viewOf } from '../../src/engine/view.ts';
import { tellReadBack } from '../../src/words/read-back-words.ts';
import { Chair, START_WALL_MS } from '../engine/chair.ts';
import { dwell, protocolOf, SMALL_WHOLE, settingOf, step } from '../engine/fixture.ts';

const small = settingOf(SMALL_WHOLE, ['11', '21', '12']);
const SCALE = Number(process.env['PROPERTY_SCALE'] ?? 1);
const YEAR_MS = 365 * 86_400_000;

const A = { tablet: 'tablet-a', name: 'Chair 1' } as const;
const B = { tablet: 'tablet-b', name: 'Chair 2' } as const;
const toB = { to: B.tablet, toName: B.name } as const;

/** A tablet with clocks of its own, beside a watch that tells the truth. */
interface Device {
  readonly wallAheadMs: number;
  readonly monoAheadMs: number;
  readonly runId: string;
}

const stampOf = ({ wallAheadMs, monoAheadMs, runId }: Device, trueMs: number): Stamp =>
  ({
    wallMs: START_WALL_MS + wallAheadMs + trueMs,
    monoMs: monoAheadMs + trueMs,
    runId,
  }) as Stamp;

type Command = Parameters<typeof decide>[1];

function pressed(log: CaseLog, command: Command, stamp: Stamp): CaseLog {
  const decided = decide(log, command, stamp, tellReadBack);
  if (!decided.ok) throw new Error(JSON.stringify(decided.error));
  const { value: events } = decided;
  return extend(log, recordPress({ log, events, stamp, by: 'dentist-a' }));
}

interface Passed {
  readonly log: CaseLog;
  /** True instants of the notes, in their order. */
  readonly notedMs: readonly number[];
  readonly nowMs: number;
  readonly now: Stamp;
}

interface Stretch {
  readonly notes: readonly number[];
  readonly waitMs: number;
  readonly wallAheadMs: number;
  readonly seen: { readonly agoMs: number; readonly onWayMs: number | null } | null;
  readonly isGiven: boolean;
}

const stretch: fc.Arbitrary<Stretch> = fc.record({
  notes: fc.array(fc.integer({ min: 0, max: 60_000 }), { maxLength: 4 }),
  waitMs: fc.integer({ min: 0, max: 400_000 }),
  wallAheadMs: fc.oneof(
    fc.constant(0),
    fc.integer({ min: -5000, max: 5000 }),
    fc.integer({ min: -20 * YEAR_MS, max: 20 * YEAR_MS }),
  ),
  /** How long before the taking the last reading of the other clock came, and how long it was on its way at most. */
  seen: fc.option(
    fc.record({
      agoMs: fc.integer({ min: 0, max: 400_000 }),
      onWayMs: fc.option(fc.integer({ min: 0, max: 3000 }), { nil: null }),
    }),
    { nil: null },
  ),
  isGiven: fc.boolean(),
});

/** A case that goes from tablet to tablet, as the stretches say. */
function handed(stretches: readonly Stretch[]): Passed {
  const chair = new Chair(small);
  let { log } = chair;
  let trueMs = 0;
  let device: Device = { wallAheadMs: 0, monoAheadMs: chair.stamp.monoMs, runId: 'run-1' };
  const notedMs: number[] = [];
  let lastPressMs = 0;
  for (const [n, each] of stretches.entries()) {
    const id = { tablet: `tablet-${n}`, name: `Chair ${n}` };
    const from = { tablet: `tablet-${n - 1}`, name: `Chair ${n - 1}` };
    if (n > 0) {
      if (each.isGiven) {
        log = pressed(
          log,
          { do: 'give-pen', ...from, to: null, toName: '' },
          stampOf(device, trueMs),
        );
        lastPressMs = trueMs;
      }
      trueMs += each.waitMs;
      const before = device;
      device = { wallAheadMs: each.wallAheadMs, monoAheadMs: n * 777_777, runId: `run-${n + 1}` };
      const take = { do: 'take-pen', ...id, fromName: from.name, isHeard: false } as const;
      const seen = seenOf(each.seen, { before, trueMs, lastPressMs });
      log = pressed(
        log,
        { ...take, reason: 'silent', ...(seen && { seen }) },
        stampOf(device, trueMs),
      );
      lastPressMs = trueMs;
    } else if (log.state.pen.holder === null) {
      // The first stretch is pressed on a tablet that the opening names.
      log = replay(
        log.records.map((r) =>
          r.event.type === 'case-opened' ? { ...r, event: { ...r.event, tablet: id.tablet } } : r,
        ),
      );
    }
    for (const waitMs of each.notes) {
      trueMs += waitMs;
      notedMs.push(trueMs);
      lastPressMs = trueMs;
      log = pressed(log, { do: 'note', words: `${notedMs.length}` }, stampOf(device, trueMs));
    }
  }
  trueMs += 5000;
  return { log, notedMs, nowMs: trueMs, now: stampOf(device, trueMs) };
}

/** A reading of the clock before, after its last press and before the taking, as it really came. */
function seenOf(
  seen: { readonly agoMs: number; readonly onWayMs: number | null } | null,
  o: { readonly before: Device; readonly trueMs: number; readonly lastPressMs: number },
): SeenClock | null {
  if (seen === null) return null;
  const atMs = Math.max(o.lastPressMs, o.trueMs - seen.agoMs);
  const trulyAgoMs = o.trueMs - atMs;
  const onWayMs = Math.min(trulyAgoMs, seen.onWayMs ?? 500);
  return {
    stamp: stampOf(o.before, atMs),
    // It came `onWayMs` after it was read.
    atLeastMs: trulyAgoMs - onWayMs,
    atMostMs: seen.onWayMs === null ? null : trulyAgoMs,
  };
}

function holdsTruth({ log, notedMs, nowMs, now }: Passed): void {
  const places: CaseInstant[] = [...log.state.notes.map((n) => n.at), nowOf(log.state, now)];
  const truth = [...notedMs, nowMs];
  for (const [i, from] of places.entries()) {
    for (const [j, to] of places.entries()) {
      if (j <= i) continue;
      const trueMs = (truth[j] ?? Number.NaN) - (truth[i] ?? Number.NaN);
      const known = elapsed(from, to);
      expect(known.loMs).toBeLessThanOrEqual(trueMs);
      expect(known.hiMs).toBeGreaterThanOrEqual(trueMs);
    }
  }
}

describe('time elapsed over a hand-over', () => {
  it(
    'is never outside what is told, whatever the clocks of the tablets say',
    () => {
      fc.assert(
        fc.property(fc.array(stretch, { minLength: 2, maxLength: 5 }), (stretches) => {
          holdsTruth(handed(stretches));
        }),
        { numRuns: 300 * SCALE },
      );
    },
    60_000 * SCALE,
  );

  it(
    'replays from its records, as they are or through JSON',
    () => {
      fc.assert(
        fc.property(fc.array(stretch, { minLength: 2, maxLength: 5 }), (stretches) => {
          const { log } = handed(stretches);
          expect(replay(JSON.parse(JSON.stringify(log.records))).state).toEqual(log.state);
        }),
        { numRuns: 50 * SCALE },
      );
    },
    60_000 * SCALE,
  );
});

/** An etch of tooth 11 that began on A 10 s before A gives the case up; B takes it 5 s later. */
function etched(o: { readonly bAheadMs: number; readonly seen?: Omit<SeenClock, 'stamp'> }) {
  const chair = new Chair(
    settingOf(protocolOf([step('etch', 'tooth', dwell(15, 20, 30))]), ['11']),
  );
  const opened = chair.log.records.map((r) =>
    r.event.type === 'case-opened' ? { ...r, event: { ...r.event, tablet: A.tablet } } : r,
  );
  chair.log = replay(opened);
  chair.rows('start etch 11').at(10_000);
  chair.do({ do: 'give-pen', ...A, ...toB });
  const given = chair.stamp;
  const b: Device = { wallAheadMs: o.bAheadMs, monoAheadMs: 5, runId: 'run-b' };
  const take = { do: 'take-pen', ...B, fromName: A.name, isHeard: true } as const;
  const seen = o.seen && { seen: { stamp: given, ...o.seen } };
  const log = pressed(chair.log, { ...take, ...seen }, stampOf(b, 15_000));
  const etchAt = (trueMs: number) =>
    viewOf(log.state, stampOf(b, trueMs)).clocks.find((c) => c.of === 'etch')?.elapsed;
  return { log, b, etchAt };
}

describe('an etch that runs while the case is handed over', () => {
  it.each([-20 * YEAR_MS, -3000, 0, 3000, 20 * YEAR_MS])(
    'has no upper end where nothing was measured, with the clock %d ms ahead',
    (bAheadMs) => {
      const { etchAt, log } = etched({ bAheadMs });
      expect(etchAt(18_000)).toEqual({ loMs: 13_000, hiMs: Number.POSITIVE_INFINITY });
      expect(log.state.gaps.at(-1)).toMatchObject({ cause: 'other-tablet', untrusted: true });
    },
  );

  it('is known as closely as the readings were', () => {
    const { etchAt } = etched({ bAheadMs: -3000, seen: { atLeastMs: 4600, atMostMs: 5200 } });
    expect(etchAt(18_000)).toEqual({ loMs: 17_600, hiMs: 18_200 });
  });

  it('is exact again once people have said how long it was', () => {
    const { log, b } = etched({ bAheadMs: 0 });
    const gap = log.state.gaps.at(-1)?.seq ?? -1;
    const settled = pressed(log, { do: 'settle-gap', gap, lengthMs: 5000 }, stampOf(b, 20_000));
    const clock = viewOf(settled.state, stampOf(b, 21_000)).clocks.find((c) => c.of === 'etch');
    expect(clock?.elapsed).toEqual({ loMs: 21_000, hiMs: 21_000 });
  });
});
