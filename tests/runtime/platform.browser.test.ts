/** The pieces on a real browser: its worker, its loudspeaker clock, its keys, its channels. */
import { afterEach, describe, expect, test } from 'vitest';
import { userEvent } from 'vitest/browser';
import { ok } from '../../src/base/result.ts';
import { browserPlatform } from '../../src/runtime/device/browser-platform.ts';
import { realClock } from '../../src/runtime/device/clock.ts';
import { createStorageGuard } from '../../src/runtime/device/persist.ts';
import { createTimerHost, type TimerHost } from '../../src/runtime/device/timer-host.ts';
import { watchVisibility } from '../../src/runtime/device/visibility.ts';
import { DEFAULT_KEYS } from '../../src/runtime/keys/key-map.ts';
import { createKeys, PRESS_BAR_ATTRIBUTE } from '../../src/runtime/keys/keys.ts';
import { SoundPlayer } from '../../src/runtime/sound/audio.ts';
import { createSpeech } from '../../src/runtime/sound/speech.ts';
import { publishPicture, subscribePicture } from '../../src/runtime/windows/second-screen.ts';

const platform = browserPlatform(window);
const clock = realClock({ runId: 'test' });
const realNowMs = (): number => clock.stamp().monoMs;
const disposals: (() => void)[] = [];
afterEach(() => {
  for (const dispose of disposals.splice(0)) dispose();
  document.body.replaceChildren();
});

function realTimers(): TimerHost {
  const host = createTimerHost({ page: platform.pageTimers, spawn: platform.spawnTimerWorker });
  disposals.push(() => host.dispose());
  return host;
}

const wait = (timers: TimerHost, ms: number): Promise<void> =>
  new Promise((resolve) => void timers.after(ms, resolve));

async function until(holds: () => boolean, withinMs: number): Promise<void> {
  const endMs = performance.now() + withinMs;
  while (!holds()) {
    if (performance.now() > endMs) throw new Error(`not within ${withinMs} ms`);
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
}

describe('timer worker', () => {
  test('keeps time by itself: the page’s own timers are dead here', async () => {
    const host = createTimerHost({
      page: { set: () => 0, clear: () => undefined },
      spawn: platform.spawnTimerWorker,
    });
    disposals.push(() => host.dispose());
    await wait(host, 0);
    const lateMs: number[] = [];
    for (let i = 0; i < 20; i += 1) {
      const startMs = performance.now();
      await wait(host, 50);
      lateMs.push(performance.now() - startMs - 50);
    }
    lateMs.sort((a, b) => a - b);
    expect(host.route).toBe('worker');
    expect(lateMs[0]).toBeGreaterThan(-1);
    expect(lateMs[10]).toBeLessThan(20);
    expect(lateMs[19]).toBeLessThan(300);
  });

  test('cancels a timer', async () => {
    const host = realTimers();
    let fired = false;
    host.after(50, () => {
      fired = true;
    })();
    await wait(host, 150);
    expect(fired).toBe(false);
  });
});

describe('sound', () => {
  test('proves itself on, places patterns within 10 ms of their due instants, and notices a lost context', async () => {
    const timers = realTimers();
    const visibility = watchVisibility(platform.page);
    const contexts: AudioContext[] = [];
    const player = new SoundPlayer({
      createContext: () => {
        const context = new AudioContext();
        contexts.push(context);
        return context;
      },
      gestures: window,
      audioSession: platform.audioSession,
      realNowMs,
      timers,
      visibility,
    });
    disposals.push(() => player.dispose(), visibility.dispose);
    player.start();
    await userEvent.click(document.body);
    await until(() => player.status.getState().state === 'on', 5000);
    const heard: string[] = [];
    player.onSounded(({ id, lateMs }) => {
      expect(Math.abs(lateMs)).toBeLessThan(10);
      heard.push(id);
    });
    player.schedule([
      { id: 'a', kind: 'nearing', inMs: 100 },
      { id: 'b', kind: 'now', inMs: 900 },
    ]);
    await until(() => heard.length === 2, 5000);
    expect(heard).toEqual(['a', 'b']);
    // A context that is taken away is noticed.
    await contexts[0]?.suspend();
    await until(() => player.status.getState().state === 'locked', 2000);
    await userEvent.click(document.body);
    await until(() => player.status.getState().state === 'on', 5000);
  });
});

describe('keys', () => {
  test('a space bar presses once although a touched button has the focus', async () => {
    document.body.innerHTML = `<button id="undo">undo</button><button ${PRESS_BAR_ATTRIBUTE}>bar</button>`;
    const keys = createKeys({
      window,
      document,
      map: DEFAULT_KEYS,
    });
    disposals.push(keys.dispose);
    const heard: string[] = [];
    keys.onVerb((verb) => heard.push(verb));
    let clicks = 0;
    const undo = document.querySelector<HTMLButtonElement>('#undo');
    undo?.addEventListener('click', () => {
      clicks += 1;
    });
    if (undo === null) throw new Error('no button');
    await userEvent.click(undo);
    expect(clicks).toBe(1);
    await userEvent.keyboard(' ');
    expect(clicks).toBe(1);
    expect(heard).toEqual(['press']);

    await userEvent.keyboard('{Tab}{Shift>}{Tab}{/Shift}');
    expect(document.activeElement).toBe(undo);
    await userEvent.keyboard('{Enter}');
    expect(clicks).toBe(2);
    expect(heard).toEqual(['press']);
  });
});

describe('second screen', () => {
  test('goes stale within a second after the running window stops', async () => {
    const openChannel = platform.openChannel;
    if (openChannel === undefined) throw new Error('no channel');
    const running = realTimers();
    const publisher = publishPicture<string>({
      channel: openChannel('far-view-test'),
      timers: running,
      runId: 'r1',
    });
    const subscriber = subscribePicture({
      channel: openChannel('far-view-test'),
      timers: realTimers(),
      parse: (message) => ok(String(message)),
    });
    disposals.push(() => subscriber.close());
    publisher.publish('etch 12');
    await until(() => subscriber.screen.getState().state === 'live', 1000);
    await new Promise((resolve) => setTimeout(resolve, 1500));
    expect(subscriber.screen.getState().state).toBe('live');
    running.dispose();
    const stoppedMs = performance.now();
    await until(() => subscriber.screen.getState().state === 'stale', 2000);
    expect(performance.now() - stoppedMs).toBeLessThan(1000);
  });
});

describe('what the browser offers', () => {
  test('is found, or honestly missed', async () => {
    const guard = createStorageGuard(platform);
    await guard.refresh();
    expect(guard.status.getState().isInstalled).toBe(false);
    expect(guard.status.getState().quotaBytes).toBeGreaterThan(0);
    const speech = createSpeech({ ...platform, lang: 'en-GB' });
    expect(['ready', 'no-local-voice', 'unsupported']).toContain(speech.status.getState());
    expect(platform.hasServiceWorker).toBe(true);
    expect(platform.requestWakeLock).toBeDefined();
  });
});
