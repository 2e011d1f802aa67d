import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { SoundPlayer } from '../../src/runtime/sound/audio.ts';
import { patternLengthMs, soundPattern } from '../../src/runtime/sound/sound-patterns.ts';
import type { Sounded, SoundRequest } from '../../src/runtime/sound/sound-queue.ts';
import type { SoundKind } from '../../src/words/codes.ts';
import { type FakeAudio, fakeAudio } from './fake-audio.ts';
import { fakeWake } from './fake-page.ts';
import { fakeTime, settle } from './fake-time.ts';

/** A player on a fake loudspeaker; `contexts` lists the contexts it has opened. */
function player(options: { readonly first: FakeAudio }) {
  const time = fakeTime();
  const page = fakeWake();
  const contexts: FakeAudio[] = [];
  const gestures = new EventTarget();
  const audioSession = { type: 'auto' };
  const sound = new SoundPlayer({
    createContext: () => {
      const next = contexts.length === 0 ? options.first : fakeAudio('running');
      contexts.push(next);
      return next;
    },
    gestures,
    audioSession,
    realNowMs: () => time.clock.stamp().monoMs,
    timers: time.timers,
    visibility: page,
  });
  const sounded: Sounded[] = [];
  sound.onSounded((one) => sounded.push(one));
  time.onStep((ms) => {
    for (const context of contexts) context.run(ms);
  });
  sound.start();
  return {
    ...time,
    page,
    sound,
    sounded,
    contexts,
    audioSession,
    touch: () => gestures.dispatchEvent(new Event('pointerdown')),
    ids: () => sounded.map(({ id }) => id),
  };
}

const cue = (id: string, kind: SoundKind, inMs: number): SoundRequest => ({ id, kind, inMs });

describe('sound state', () => {
  test('is on only after the audio clock was seen to advance', () => {
    const { sound, pass } = player({ first: fakeAudio('running') });
    expect(sound.status.getState()).toEqual({ state: 'locked', reason: 'checking' });
    pass(500);
    expect(sound.status.getState()).toEqual({ state: 'on' });
  });

  test('is locked until a touch, and lets the silent switch pass', async () => {
    const first = fakeAudio('suspended');
    const { sound, pass, touch, audioSession } = player({ first });
    pass(2000);
    expect(sound.status.getState()).toEqual({ state: 'locked', reason: 'needs-touch' });
    touch();
    await settle();
    pass(500);
    expect(sound.status.getState()).toEqual({ state: 'on' });
    expect(audioSession.type).toBe('playback');
  });

  test('goes off when a context that says it runs has a clock that stands still', () => {
    const first = fakeAudio('running');
    const { sound, pass } = player({ first });
    pass(1000);
    first.isStalled = true;
    pass(1000);
    expect(sound.status.getState()).toEqual({ state: 'off', reason: 'stalled' });
  });

  test('goes off when the audio clock runs at less than 0.8 of real time', () => {
    const first = fakeAudio('running');
    const time = player({ first });
    time.pass(1000);
    first.run(-120);
    time.pass(500);
    expect(time.sound.status.getState()).toEqual({ state: 'off', reason: 'stalled' });
  });

  test('is rebuilt by the next touch after a stall, and what was owed then sounds', () => {
    const first = fakeAudio('running');
    const { sound, pass, touch, contexts, ids } = player({ first });
    pass(1000);
    first.isStalled = true;
    sound.schedule([cue('a', 'now', 800)]);
    pass(3000);
    expect(ids()).toEqual([]);
    touch();
    expect(contexts.length).toBe(2);
    expect(first.state).toBe('closed');
    pass(2000);
    expect(sound.status.getState()).toEqual({ state: 'on' });
    expect(ids()).toEqual(['a']);
  });

  test('keeps listening for gestures after the first one', async () => {
    const first = fakeAudio('suspended');
    const { sound, pass, touch } = player({ first });
    touch();
    await settle();
    first.setState('suspended');
    expect(sound.status.getState().state).toBe('locked');
    touch();
    await settle();
    pass(500);
    expect(sound.status.getState()).toEqual({ state: 'on' });
  });

  test('tells of an interruption, and sounds what came due in it when it is over', async () => {
    const first = fakeAudio('running');
    const { sound, pass, page, sounded } = player({ first });
    pass(500);
    sound.schedule([cue('a', 'now', 1000)]);
    first.mayResume = false;
    first.setState('interrupted');
    pass(5000);
    expect(sound.status.getState()).toEqual({ state: 'interrupted' });
    first.mayResume = true;
    page.wake();
    await settle();
    pass(1500);
    expect(sound.status.getState()).toEqual({ state: 'on' });
    expect(sounded).toMatchObject([{ id: 'a', kind: 'now' }]);
    expect(sounded[0]?.lateMs).toBeGreaterThanOrEqual(4000);
  });

  test('says so where there is no Web Audio, and where the device gives no context', () => {
    const time = fakeTime();
    const base = {
      gestures: new EventTarget(),
      audioSession: undefined,
      realNowMs: () => 0,
      timers: time.timers,
      visibility: fakeWake(),
    };
    const without = new SoundPlayer({ ...base, createContext: undefined });
    without.start();
    expect(without.status.getState()).toEqual({ state: 'off', reason: 'unsupported' });
    const failing = new SoundPlayer({
      ...base,
      createContext: () => {
        throw new Error('no device');
      },
    });
    failing.start();
    expect(failing.status.getState()).toEqual({ state: 'off', reason: 'failed' });
  });

  test('does not take a page that slept for a stall', () => {
    const { sound, pass, clock } = player({ first: fakeAudio('running') });
    pass(1000);
    clock.advance(9000);
    pass(500);
    expect(sound.status.getState()).toEqual({ state: 'on' });
  });

  test('is muted at once, and at volume 0', () => {
    const first = fakeAudio('running');
    const { sound, pass } = player({ first });
    pass(500);
    sound.setMuted({ isMuted: true });
    expect(sound.status.getState()).toEqual({ state: 'muted' });
    expect(first.levels.at(-1)).toBe(0);
    sound.setMuted({ isMuted: false });
    sound.setVolume(0);
    expect(sound.status.getState()).toEqual({ state: 'muted' });
    sound.setVolume(0.5);
    expect(sound.status.getState()).toEqual({ state: 'on' });
    expect(first.levels.at(-1)).toBeCloseTo(0.4);
  });
});

describe('scheduling', () => {
  const running = () => {
    const first = fakeAudio('running');
    const all = player({ first });
    all.pass(500);
    return { ...all, first };
  };

  test('sets a sound ahead on the audio clock, to the millisecond', () => {
    const { sound, first } = running();
    sound.schedule([cue('a', 'now', 20_000)]);
    expect(first.waiting()[0]?.startS).toBeCloseTo(0.5 + 20, 6);
  });

  test('leaves a sound alone that has not changed', () => {
    const { sound, first, pass } = running();
    sound.schedule([cue('a', 'now', 20_000)]);
    pass(1000);
    sound.schedule([cue('a', 'now', 19_000), cue('b', 'over', 40_000)]);
    expect(first.drawCount).toBe(2);
    expect(first.waiting().length).toBe(2);
  });

  test('moves a sound that was retimed and drops one that is not wanted any more', () => {
    const { sound, first, ids, pass } = running();
    sound.schedule([cue('a', 'now', 20_000), cue('b', 'over', 40_000)]);
    sound.schedule([cue('a', 'now', 15_000)]);
    expect(first.waiting().map(({ startS }) => startS)).toEqual([15.5]);
    pass(60_000);
    expect(ids()).toEqual(['a']);
  });

  test('drops a sound that would come too late to be true, and does not bring it after all', () => {
    const { sound, ids, pass } = running();
    const tone = { ...cue('tone', 'now', 500), lateMsMax: 900 };
    sound.schedule([cue('a', 'window-broken', 0), tone, cue('b', 'nearing', 600)]);
    pass(60_000);
    expect(ids()).toEqual(['a', 'b']);
  });

  test('does not bring one again that had to give way, once it is too late', () => {
    const { sound, ids, sounded, pass } = running();
    sound.schedule([{ ...cue('tone', 'now', 0), lateMsMax: 900 }]);
    pass(100);
    sound.schedule([cue('a', 'window-broken', 0)]);
    pass(20_000);
    sound.schedule([cue('b', 'nearing', 0)]);
    pass(2000);
    expect(ids()).toEqual(['a', 'b']);
    expect(sounded[1]?.lateMs).toBeLessThan(50);
  });

  test('lets a pattern end that has begun, although its cue is gone', () => {
    const { sound, ids, pass } = running();
    sound.schedule([cue('a', 'window-broken', 0)]);
    pass(1000);
    sound.schedule([]);
    pass(4000);
    expect(ids()).toEqual(['a']);
  });

  test('does not repeat what was heard, but sounds it again when it falls due anew', () => {
    const { sound, ids, pass } = running();
    sound.schedule([cue('a', 'now', 0)]);
    pass(2000);
    sound.schedule([cue('a', 'now', -2000)]);
    pass(2000);
    expect(ids()).toEqual(['a']);
    sound.schedule([cue('a', 'now', 3000)]);
    pass(5000);
    expect(ids()).toEqual(['a', 'a']);
  });

  test('repeats an unacknowledged alarm after its silence until it is acknowledged', () => {
    const { sound, first, pass } = running();
    const broken = { ...cue('a', 'window-broken', 0), isRepeated: true };
    sound.schedule([broken]);
    pass(31_000);
    const starts = first.played().map(({ startS }) => startS);
    expect(starts).toHaveLength(3);
    const stops = first.played().map(({ stopS }) => stopS);
    // IEC 60601-1-8 table 3: 2.5-15 s between two bursts of high priority.
    for (const [i, stopS] of stops.slice(0, -1).entries()) {
      expect((starts[i + 1] ?? 0) - stopS).toBeGreaterThanOrEqual(2.5);
      expect((starts[i + 1] ?? 0) - stopS).toBeLessThanOrEqual(15);
    }
    sound.schedule([{ ...cue('a', 'window-broken', -31_000) }]);
    pass(60_000);
    expect(first.played()).toHaveLength(3);
  });

  test('never repeats a pattern that is not an alarm', () => {
    const { sound, ids, pass } = running();
    sound.schedule([{ ...cue('a', 'now', 0), isRepeated: true }]);
    pass(120_000);
    expect(ids()).toEqual(['a']);
  });

  test('breaks off a gentle pattern for an urgent one, and gives it again afterwards', () => {
    const { sound, ids, pass } = running();
    sound.schedule([cue('low', 'tablet-fault', 0)]);
    pass(200);
    sound.schedule([cue('high', 'window-broken', 0)]);
    pass(10_000);
    expect(ids()).toEqual(['high', 'low']);
  });

  test('hush cuts what sounds and leaves what is to come', () => {
    const { sound, first, ids, pass } = running();
    sound.schedule([cue('a', 'window-broken', 0), cue('b', 'now', 30_000)]);
    pass(500);
    sound.hush();
    expect(first.played()[0]?.stopS).toBeLessThan(1.1);
    pass(40_000);
    expect(ids()).toEqual(['a', 'b']);
  });

  test('sets a sound of tomorrow only when it comes near', () => {
    const { sound, first, ids, pass } = running();
    sound.schedule([cue('a', 'now', 20 * 60_000)]);
    expect(first.drawCount).toBe(0);
    pass(11 * 60_000);
    expect(first.drawCount).toBe(1);
    pass(10 * 60_000);
    expect(ids()).toEqual(['a']);
  });

  test('a loudness test outlives the next list of cues', () => {
    const { sound, ids, pass } = running();
    const { id, lengthMs } = sound.loudnessTest('window-closing');
    expect(lengthMs).toBe(patternLengthMs(soundPattern('window-closing')));
    sound.schedule([]);
    pass(3000);
    expect(ids()).toEqual([id]);
  });

  test('waits for the first touch with everything that is wanted', async () => {
    const { sound, pass, touch, ids } = player({ first: fakeAudio('suspended') });
    sound.schedule([cue('a', 'now', 1000), cue('b', 'nearing', 1000)]);
    pass(3000);
    touch();
    await settle();
    pass(3000);
    expect(ids()).toEqual(['a', 'b']);
  });
});

test('comes back by itself when a clock that stood still goes on', () => {
  const first = fakeAudio('running');
  const { sound, pass } = player({ first });
  pass(1000);
  first.isStalled = true;
  pass(1000);
  expect(sound.status.getState().state).toBe('off');
  first.isStalled = false;
  pass(1000);
  expect(sound.status.getState()).toEqual({ state: 'on' });
});

test('whatever is asked and whenever: never two at once, none lost (property)', () => {
  const kinds = fc.constantFrom<SoundKind>(
    'nearing',
    'refused',
    'now',
    'over',
    'window-closing',
    'window-broken',
    'tablet-fault',
  );
  // Each turn adds a few cues, keeps all earlier ones, and lets some time pass.
  const turns = fc.array(
    fc.record({
      added: fc.array(fc.record({ kind: kinds, inMs: fc.integer({ min: -500, max: 8000 }) }), {
        maxLength: 4,
      }),
      passMs: fc.nat(3000),
    }),
    { minLength: 1, maxLength: 12 },
  );
  fc.assert(
    fc.property(turns, (script) => {
      const first = fakeAudio('running');
      const { sound, pass, clock, ids } = player({ first });
      pass(500);
      const wanted: { id: string; kind: SoundKind; dueMs: number }[] = [];
      for (const { added, passMs } of script) {
        const now = clock.stamp().monoMs;
        for (const { kind, inMs } of added) {
          wanted.push({ id: `cue-${wanted.length}`, kind, dueMs: now + inMs });
        }
        sound.schedule(wanted.map(({ id, kind, dueMs }) => ({ id, kind, inMs: dueMs - now })));
        pass(passMs);
      }
      pass(10_000 + wanted.length * 6000);
      expect([...ids()].sort()).toEqual(wanted.map(({ id }) => id).sort());
      const played = [...first.played()].sort((a, b) => a.startS - b.startS);
      for (const [i, tone] of played.entries()) {
        const next = played[i + 1];
        if (next !== undefined) expect(next.startS).toBeGreaterThanOrEqual(tone.stopS - 1e-9);
      }
    }),
    { numRuns: 150 },
  );
});
