/**
 * What must hold on every walk through a case, whoever presses what and whatever the device does.
 * fast-check prints seed and path of a failing walk. PROPERTY_SCALE=20 walks twenty times as often.
 */
import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deepFreeze } from '../../src/base/freeze.ts';
import { elapsed } from '../../src/engine/axis.ts';
import { decide } from '../../src/engine/decide.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { replay } from '../../src/engine/log.ts';
import type { CaseState, Recorded, Stamp } from '../../src/engine/types.ts';
import { nowOf, viewOf } from '../../src/engine/view.ts';
import type { View } from '../../src/engine/view-types.ts';
import { answered } from '../../src/plan/follow.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import { parseCaseText, parseProtocolText } from '../../src/protocol/parse-text.ts';
import { tellReadBack } from '../../src/words/read-back-words.ts';
import { Chair } from './chair.ts';
import { type Setting, SMALL_WHOLE, settingOf } from './fixture.ts';
import { follow, type Stride, startsOf, strides, walk } from './walks.ts';

const SCALE = Number(process.env['PROPERTY_SCALE'] ?? 1);

const read = (path: string) => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

function shipped(file: string): Setting {
  const spec = parseCaseText(read(`demo-data/cases/${file}`));
  if (!spec.ok) throw new Error(`${file} does not parse`);
  const protocol = parseProtocolText(read(`shared/protocols/${spec.value.protocol}.json`));
  if (!protocol.ok) throw new Error(`${spec.value.protocol} does not parse`);
  const plan = makeRunPlan(spec.value, protocol.value);
  return deepFreeze({ spec: spec.value, protocol: protocol.value, plan });
}

/** Every case that ships, so every family of protocols; the longest one is walked most. */
const shippedCases = readdirSync(new URL('../../demo-data/cases/', import.meta.url))
  .filter((file) => file.endsWith('.json'))
  .map((file) => ({
    name: file,
    setting: shipped(file),
    runs: file.startsWith('eight') ? 20 : 5,
    length: 25,
  }));

const small = settingOf(SMALL_WHOLE, ['11', '21', '12']);
const settings = [
  { name: 'the small whole protocol', setting: small, runs: 120, length: 40 },
  ...shippedCases,
];

interface Walked {
  readonly presses: number;
  readonly list: readonly Stride[];
}

const walks = (length: number) =>
  fc.record({ presses: fc.nat(200), list: strides(length) }) satisfies fc.Arbitrary<Walked>;

const A_LIGHT_CONFIRMED: readonly Stride[] = [0, 1, 0].map((pick) => ({
  what: 0,
  pick,
  waitMs: 0,
}));

/** What clocks said last is not what people did; corrections leave the rest exactly as it was. */
const withoutAnchor = ({ anchor: _, ...rest }: CaseState) => rest;

const moved = (stamp: Stamp, byWallMs: number, byMonoMs: number) =>
  ({
    wallMs: stamp.wallMs + byWallMs,
    monoMs: stamp.monoMs + byMonoMs,
    runId: stamp.runId,
  }) as Stamp;

function movedRecord(recorded: Recorded, byWallMs: number, byMonoMs: number): Recorded {
  const { event } = recorded;
  const stamp = moved(recorded.stamp, byWallMs, byMonoMs);
  if (event.type === 'case-opened' && event.spec.follows) {
    const { follows } = event.spec;
    const lastExposureWallMs = follows.lastExposureWallMs + byWallMs;
    const spec = { ...event.spec, follows: { ...follows, lastExposureWallMs } };
    return { ...recorded, stamp, event: { ...event, spec } };
  }
  if (event.type !== 'gap-found') return { ...recorded, stamp };
  const before = moved(event.before, byWallMs, byMonoMs);
  const after = moved(event.after, byWallMs, byMonoMs);
  return { ...recorded, stamp, event: { ...event, before, after } };
}

describe.each(settings)('$name', ({ setting, runs, length }) => {
  const start = startsOf(setting);
  const check = (property: (walked: Walked) => void, numRuns = runs, maxLength = length) =>
    fc.assert(fc.property(walks(maxLength), property), {
      numRuns: numRuns * SCALE,
      // Shrinking takes long; a long search only has to name the seed.
      endOnFailure: SCALE > 1,
    });

  it(
    'replayed from its records, as they are or through JSON, gives the state that lived',
    () => {
      check(({ presses, list }) => {
        const { log } = walk(start(presses), list);
        expect(replay(log.records).state).toEqual(log.state);
        const stored = JSON.parse(JSON.stringify(log.records)) as Recorded[];
        expect(replay(deepFreeze(stored)).state).toEqual(log.state);
      });
    },
    60_000 * SCALE,
  );

  it(
    'shows the same when all its times are shifted',
    () => {
      check(({ presses, list }) => {
        const chair = walk(start(presses), list);
        const records = chair.log.records.map((r) => movedRecord(r, 98_765_432, 1_234_567));
        const now = moved(chair.stamp, 98_765_432, 1_234_567);
        expect(viewOf(replay(records).state, now)).toEqual(chair.view);
      });
    },
    60_000 * SCALE,
  );

  it(
    'is exactly as before after any press and its undo',
    () => {
      check(({ presses, list }) => {
        walk(start(presses), list, (chair, before, command) => {
          if (command.do === 'undo') return;
          const after = chair.log;
          chair.do({ do: 'undo' });
          expect(withoutAnchor(chair.log.state)).toEqual(withoutAnchor(gapsOf(before, chair)));
          chair.log = after;
        });
      });
    },
    60_000 * SCALE,
  );

  it(
    'is exactly as before after a retime and its inverse',
    () => {
      check(({ presses, list }) => {
        walk(start(presses), list, (chair) => {
          const after = chair.log;
          if (chair.do({ do: 'retime', byMs: -1500 }) === null) {
            expect(chair.do({ do: 'retime', byMs: 1500 })).toBeNull();
            expect(withoutAnchor(chair.log.state)).toEqual(withoutAnchor(after.state));
          }
          chair.log = after;
        });
      });
    },
    60_000 * SCALE,
  );

  it(
    'offers only what can be decided, and shows a picture at any time',
    () => {
      check(({ presses, list }) => {
        const look = (chair: Chair) => {
          const { view, log, stamp } = chair;
          for (const each of view.offers) {
            // A list of which every line asks something is pressed with its answers.
            const offer = answered(layoutOf(log.state), each);
            const decided = decide(
              log,
              { do: 'press', offer, reason: 'for a test' },
              stamp,
              tellReadBack,
            );
            expect(decided.ok, `${offer.id} ${JSON.stringify(decided)}`).toBe(true);
          }
          expect(new Set(view.offers.map((o) => o.id)).size).toBe(view.offers.length);
          viewOf(log.state, { ...moved(stamp, 5_000_000, 0), runId: 'another' });
          viewOf(log.state, moved(stamp, -3_600_000, 60_000));
        };
        look(walk(start(presses), list, look));
      });
    },
    60_000 * SCALE,
  );

  it(
    'does nothing by itself: time alone finishes no step',
    () => {
      check(({ presses, list }) => {
        const chair = walk(start(presses), list);
        const doneIn = (view: View) => [
          view.done,
          view.total,
          view.teeth.map((t) => [t.done, t.total]),
        ];
        const before = doneIn(chair.view);
        deepFreeze(chair.log.state);
        for (const ms of [1, 10_000, 3_600_000, 90_000_000]) {
          expect(doneIn(viewOf(chair.log.state, moved(chair.stamp, ms, ms)))).toEqual(before);
        }
      });
    },
    60_000 * SCALE,
  );

  it(
    'looks the same until the next change it foretells, but for figures that count',
    () => {
      const looksTheSame = ({ presses, list }: Walked): void => {
        const chair = walk(start(presses), list);
        const first = chair.view;
        const next = first.nextChangeInMs ?? 600_000;
        for (const share of [0.01, 0.3, 0.7, 0.99]) {
          const ms = Math.floor(next * share);
          const later = viewOf(chair.log.state, moved(chair.stamp, ms, ms));
          expect(pictureOf(later), `${ms} of ${next} ms later`).toEqual(pictureOf(first));
        }
      };
      check(looksTheSame);
      // The order of the places of the next pass of light turned over while a tooth rested.
      for (const presses of [70, 110]) looksTheSame({ presses, list: A_LIGHT_CONFIRMED });
    },
    60_000 * SCALE,
  );

  it(
    'can be finished from anywhere by pressing what is offered',
    () => {
      check(
        ({ presses, list }) => {
          const chair = walk(start(presses), list);
          if (chair.log.state.closed) return;
          follow(chair, 400);
          expect(chair.view.finished, chair.view.offers.map((o) => o.id).join()).toBe(true);
        },
        Math.ceil(runs / 3),
        length,
      );
    },
    120_000 * SCALE,
  );
});

/** The state before, with the gap that the undone press may have been the first to notice. */
function gapsOf(before: Chair['log'], chair: Chair): CaseState {
  return { ...before.state, gaps: chair.log.state.gaps };
}

/** What does not count by itself in a picture. */
function pictureOf(view: View) {
  return {
    offers: view.offers.map((o) => [o.id, o.dueInMs > 0, o.boundBy]),
    // Their order follows the figures: targets count by lo, maxima by hi.
    cues: view.cues.map((c) => `${c.id} ${c.dueInMs > 0}`).sort(),
    clocks: view.clocks.map((c) => c.id),
    teeth: view.teeth.map((t) => [t.tooth, t.state, t.step, t.surfaces.map((s) => s.state)]),
    amber: view.amber,
  };
}

describe('elapsed time', () => {
  it(
    'is never outside the interval, whatever the device did in between',
    () => {
      const script = fc.array(
        fc.record({
          what: fc.constantFrom('work', 'sleep', 'reload', 'wall', 'note'),
          ms: fc.integer({ min: 300, max: 400_000 }),
          forwards: fc.boolean(),
          beats: fc.boolean(),
        }),
        { minLength: 1, maxLength: 30 },
      );
      fc.assert(
        fc.property(script, (rows) => {
          const chair = new Chair(small);
          const trueAt: number[] = [];
          for (const { what, ms, forwards, beats } of rows) {
            const before = chair.stamp;
            const beat = (cause: 'closed' | 'asleep-or-moved' | 'moved-back') =>
              chair.do({ do: 'note-gap', before, after: chair.stamp, cause }, null);
            if (what === 'work') chair.at(chair.trueMs + ms);
            else if (what === 'sleep') chair.rows(`sleep ${ms} ms`);
            else if (what === 'reload') chair.rows(`reload ${ms} ms`);
            else if (what === 'wall') chair.rows(`wall ${forwards ? ms : -ms} ms`);
            else {
              trueAt.push(chair.trueMs);
              chair.rows(`note ${trueAt.length}`);
            }
            // A moved clock is always noticed by the next beat; the others may be seen at a press.
            if (what === 'wall') beat(forwards ? 'asleep-or-moved' : 'moved-back');
            else if (beats && what === 'sleep') beat('asleep-or-moved');
            else if (beats && what === 'reload') beat('closed');
          }
          const moments = chair.log.state.notes.map((n) => n.at);
          const now = nowOf(chair.log.state, chair.stamp);
          moments.forEach((from, i) => {
            [...moments.slice(i + 1), now].forEach((to, j) => {
              const isNow = j === moments.length - i - 1;
              const until = isNow ? chair.trueMs : (trueAt[i + 1 + j] ?? Number.NaN);
              const elapsedMs = until - (trueAt[i] ?? Number.NaN);
              const known = elapsed(from, to);
              expect(known.loMs).toBeLessThanOrEqual(elapsedMs);
              expect(known.hiMs).toBeGreaterThanOrEqual(elapsedMs);
            });
          });
        }),
        { numRuns: 500 * SCALE },
      );
    },
    60_000 * SCALE,
  );

  it('is exact while nothing disagrees', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 900_000 }), { maxLength: 20 }), (waits) => {
        const chair = new Chair(small);
        for (const ms of waits) chair.at(chair.trueMs + ms).rows('note here');
        const places = chair.log.state.notes.map((n) => [n.at.loMs, n.at.hiMs]);
        let sum = 0;
        expect(places).toEqual(
          waits.map((ms) => {
            sum += ms;
            return [sum, sum];
          }),
        );
      }),
      { numRuns: 100 },
    );
  });
});
