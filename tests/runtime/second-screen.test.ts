import { describe, expect, test } from 'vitest';
import { problem } from '../../src/base/problem.ts';
import { err, ok } from '../../src/base/result.ts';
import {
  type ChannelLike,
  publishPicture,
  subscribePicture,
  UNWATCHED_AFTER_MS,
} from '../../src/runtime/windows/second-screen.ts';
import { fakeTime } from './fake-time.ts';

/** A broadcast channel: everyone but the sender hears, as structured clones. */
function fakeBroadcast(): () => ChannelLike {
  const members = new Map<object, (event: { readonly data: unknown }) => void>();
  return () => {
    const self = {};
    return {
      postMessage(message) {
        for (const [member, hear] of [...members]) {
          if (member !== self) hear({ data: structuredClone(message) });
        }
      },
      addEventListener: (_, listener) => members.set(self, listener),
      close: () => members.delete(self),
    };
  };
}

const parse = (message: unknown) =>
  typeof message === 'string' ? ok(message) : err(problem('picture', 'text', message));

function twoScreens() {
  const time = fakeTime();
  const join = fakeBroadcast();
  const { timers } = time;
  return {
    ...time,
    join,
    run: (runId: string) => publishPicture<unknown>({ channel: join(), timers, runId }),
    watch: () => subscribePicture({ channel: join(), timers, parse }),
  };
}

describe('second screen', () => {
  test('shows what the running screen shows, and stays live while that beats', () => {
    const { run, watch, pass } = twoScreens();
    const running = run('r1');
    const second = watch();
    expect(second.screen.getState()).toEqual({ state: 'waiting' });
    running.publish('etch 12');
    pass(60_000);
    expect(second.screen.getState()).toEqual({ state: 'live', picture: 'etch 12' });
  });

  test('shows the present picture at once when it is opened late', () => {
    const { run, watch } = twoScreens();
    run('r1').publish('etch 12');
    expect(watch().screen.getState()).toEqual({ state: 'live', picture: 'etch 12' });
  });

  test('says within a second that the running screen has stopped, without its good-bye', () => {
    const time = fakeTime();
    const death = fakeTime();
    const join = fakeBroadcast();
    const running = publishPicture({ channel: join(), timers: death.timers, runId: 'r1' });
    const second = subscribePicture({ channel: join(), timers: time.timers, parse });
    running.publish('etch 12');
    // Only the second screen's time goes on: the first is frozen.
    time.pass(999);
    expect(second.screen.getState()).toEqual({ state: 'stale', picture: 'etch 12' });
    death.pass(1000);
    expect(second.screen.getState()).toEqual({ state: 'live', picture: 'etch 12' });
  });

  test('says at once that the running screen was closed', () => {
    const { run, watch } = twoScreens();
    const running = run('r1');
    const second = watch();
    running.publish('etch 12');
    running.close();
    expect(second.screen.getState()).toEqual({ state: 'stale', picture: 'etch 12' });
  });

  test('follows one running screen at a time, and the next when that is gone', () => {
    const { run, watch, pass } = twoScreens();
    const first = run('r1');
    const second = watch();
    first.publish('from r1');
    const other = run('r2');
    other.publish('from r2');
    expect(second.screen.getState()).toEqual({ state: 'live', picture: 'from r1' });
    first.close();
    pass(500);
    expect(second.screen.getState()).toEqual({ state: 'live', picture: 'from r2' });
  });

  test('comes back to the running screen although other windows, its own too, have nothing to show', () => {
    const time = fakeTime();
    const hung = fakeTime();
    const join = fakeBroadcast();
    const running = publishPicture({ channel: join(), timers: hung.timers, runId: 'r1' });
    publishPicture({ channel: join(), timers: time.timers, runId: 'own' });
    const second = subscribePicture({ channel: join(), timers: time.timers, parse });
    running.publish('etch 12');
    time.pass(2000);
    expect(second.screen.getState()).toEqual({ state: 'stale', picture: 'etch 12' });
    running.publish('rinse 12');
    expect(second.screen.getState()).toEqual({ state: 'live', picture: 'rinse 12' });
  });

  test('does not vouch for the last picture once the case was left, and beats again with the next', () => {
    const { run, watch, pass } = twoScreens();
    const running = run('r1');
    const second = watch();
    running.publish('etch 12');
    running.rest();
    expect(second.screen.getState()).toEqual({ state: 'stale', picture: 'etch 12' });
    pass(5000);
    expect(second.screen.getState()).toEqual({ state: 'stale', picture: 'etch 12' });
    running.publish('rinse 12');
    pass(5000);
    expect(second.screen.getState()).toEqual({ state: 'live', picture: 'rinse 12' });
  });

  test('sends nothing while no window looks on, and begins again with the first that does', () => {
    const { run, watch, pass, join } = twoScreens();
    const heard: unknown[] = [];
    join().addEventListener('message', ({ data }) => heard.push(data));
    const running = run('r1');
    running.publish('etch 12');
    pass(60_000);
    expect(heard).toEqual([{ type: 'who' }]);
    const second = watch();
    running.publish('rinse 12');
    pass(60_000);
    expect(second.screen.getState()).toEqual({ state: 'live', picture: 'rinse 12' });
    second.close();
    pass(UNWATCHED_AFTER_MS + 1000);
    heard.length = 0;
    running.publish('dry 12');
    pass(60_000);
    expect(heard).toEqual([]);
    expect(watch().screen.getState()).toEqual({ state: 'live', picture: 'dry 12' });
  });

  test('passes over what it cannot read', () => {
    const { run, watch, join } = twoScreens();
    const second = watch();
    run('r1').publish({ no: 'text' });
    const stranger = join();
    for (const noise of [null, 7, 'x', { type: 'picture' }, { type: 'bye' }, { from: 'r1' }]) {
      stranger.postMessage(noise);
    }
    expect(second.screen.getState()).toEqual({ state: 'waiting' });
  });
});
