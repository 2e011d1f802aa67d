/** Sounds set ahead: to the instant at which they are due, however long their picture took, and not too often. */
import { expect, test } from 'vitest';
import type { RunningCase } from '../../src/runtime/app-state.ts';
import { followSounds } from '../../src/runtime/sound/follow-sounds.ts';
import { SoundQueue, type SoundRequest } from '../../src/runtime/sound/sound-queue.ts';

function follower() {
  let nowMs = 5000;
  const set: (readonly SoundRequest[])[] = [];
  const waiting: (() => void)[] = [];
  const follow = followSounds({
    sound: { schedule: (sounds) => set.push(sounds) },
    realNowMs: () => nowMs,
    timers: {
      route: 'page',
      after: (_, then) => {
        waiting.push(then);
        return () => undefined;
      },
      dispose: () => undefined,
    },
  });
  return {
    set,
    follow,
    pass: (ms: number) => {
      nowMs += ms;
    },
    nowMs: () => nowMs,
    fire: () => {
      for (const then of waiting.splice(0)) then();
    },
  };
}

const STATE = { opened: { spec: { id: 'a' } } };

function picture(madeAtRealMs: number, state: object = STATE): RunningCase {
  const cue = { id: 'etch/now', kind: 'now', dueInMs: 10_000, acknowledged: false };
  return {
    log: { state },
    view: { cues: [cue] },
    speed: 1,
    isViewOnly: false,
    madeAtRealMs,
  } as unknown as RunningCase;
}

test('what a picture took to make does not make its sounds late', () => {
  const { follow, set, pass, nowMs } = follower();
  const madeAtMs = nowMs();
  pass(30);
  follow(picture(madeAtMs));
  expect(set).toEqual([[{ id: 'a etch/now', kind: 'now', inMs: 9970 }]]);
});

test('a press sets them at once; time alone not oftener than once a second, and after the picture', () => {
  const { follow, set, pass, nowMs, fire } = follower();
  follow(picture(nowMs()));
  for (let tick = 0; tick < 3; tick += 1) {
    pass(250);
    follow(picture(nowMs()));
  }
  fire();
  expect(set).toHaveLength(1);
  pass(250);
  follow(picture(nowMs()));
  expect(set).toHaveLength(1);
  fire();
  expect(set).toHaveLength(2);
  follow(picture(nowMs(), { ...STATE }));
  expect(set).toHaveLength(3);
});

test('an audio clock that moves in blocks moves no tone by a block', () => {
  const BLOCK_MS = 24;
  const startsMs: number[] = [];
  for (let phase = 0; phase < BLOCK_MS; phase += 1) {
    let realMs = 1000 + phase;
    const drawn: number[] = [];
    const queue = new SoundQueue({ realNowMs: () => realMs, onSounded: () => undefined });
    queue.setStage({
      audioNowMs: () => Math.floor(realMs / BLOCK_MS) * BLOCK_MS,
      draw: (_, atMs) => {
        drawn.push(atMs);
        return { cut: () => undefined };
      },
    });
    queue.want([{ id: 'a', kind: 'now', inMs: 10_000 }]);
    const dueMs = realMs + 10_000;
    for (let look = 0; look < 18; look += 1) {
      realMs += 507;
      queue.refresh();
    }
    startsMs.push((drawn.at(-1) ?? Number.NaN) - dueMs);
  }
  // All alike but for some ms, where single readings differ by a whole block.
  expect(Math.max(...startsMs) - Math.min(...startsMs)).toBeLessThanOrEqual(10);
});
