/** Pictures of a running case from one tablet to another: over what is sent and not kept, sealed by a stand-in. */
import { describe, expect, test } from 'vitest';
import { ok } from '../../src/base/result.ts';
import {
  publishPicture,
  subscribePicture,
  UNWATCHED_AFTER_MS,
} from '../../src/runtime/windows/second-screen.ts';
import { LiveHub, type LiveSeal, WORD_COUNTS_MS } from '../../src/sync/live-channel.ts';
import { MemoryHub } from '../../src/sync/memory-store.ts';
import type { Bytes } from '../../src/sync/store-types.ts';
import { fakeTime } from '../runtime/fake-time.ts';

const utf8 = new TextEncoder();
const plain: LiveSeal = {
  seal: async ({ value }) => new Uint8Array(utf8.encode(JSON.stringify(value))),
  open: async ({ subject, data }) => ({
    device: subject.split('.')[2] ?? '',
    value: JSON.parse(new TextDecoder().decode(data)),
  }),
};

const parse = (value: unknown) => ok(String(value));
const ready = async () => {
  for (let n = 0; n < 60; n += 1) await Promise.resolve();
};

/** A clinic whose time passes when the test says so, and what went over the line. */
function clinic(seal: LiveSeal = plain) {
  const time = fakeTime();
  const hub = new MemoryHub();
  const sent: { readonly subject: string; readonly data: Bytes }[] = [];
  hub.open('ear').live.subscribe('live.>', (subject, data) => sent.push({ subject, data }));
  let count = 0;
  const tablet = (device: string) => {
    const live = hub.open(device).live;
    const nowMs = () => time.clock.stamp().monoMs;
    const newWord = () => {
      count += 1;
      return `word ${device} ${count}`;
    };
    const channels = new LiveHub({ live, site: 'site', device, seal, nowMs, newWord });
    return {
      live,
      run: (runId = `run ${device}`) =>
        publishPicture<string>({ channel: channels.publishing(), timers: time.timers, runId }),
      watch: (at: string) =>
        subscribePicture({ channel: channels.following(at), timers: time.timers, parse }),
    };
  };
  /** In steps, so that what is sealed and sent meanwhile arrives. */
  const pass = async (ms: number) => {
    await ready();
    for (let left = ms; left > 0; left -= 50) {
      time.pass(Math.min(50, left));
      await ready();
    }
  };
  return { hub, sent, tablet, pass };
}

describe('what another tablet runs', () => {
  test('is shown there, and stays live while it beats', async () => {
    const { tablet, pass } = clinic();
    const running = tablet('chair-1').run();
    running.publish('etch 12');
    const { screen } = tablet('wall').watch('chair-1');
    await pass(0);
    expect(screen.getState()).toEqual({ state: 'live', picture: 'etch 12' });
    running.publish('rinse 12');
    await pass(0);
    expect(screen.getState()).toMatchObject({ state: 'live', picture: 'rinse 12' });
    await pass(60_000);
    expect(screen.getState()).toMatchObject({ state: 'live', picture: 'rinse 12' });
  });

  test('is that of the tablet which was chosen, also while both run and look on', async () => {
    const { tablet, pass } = clinic();
    const [one, two] = [tablet('chair-1'), tablet('chair-2')];
    one.run().publish('etch 12');
    two.run().publish('light 21');
    const seen = [two.watch('chair-1'), one.watch('chair-2')];
    await pass(5000);
    expect(seen.map(({ screen }) => screen.getState())).toEqual([
      { state: 'live', picture: 'etch 12' },
      { state: 'live', picture: 'light 21' },
    ]);
  });

  test('sends nothing while nobody looks on', async () => {
    const { tablet, pass, sent } = clinic();
    const running = tablet('chair-1').run();
    running.publish('etch 12');
    await pass(60_000);
    expect(sent.map(({ subject }) => subject)).toEqual(['live.site.chair-1.beat']);
    const wall = tablet('wall').watch('chair-1');
    await pass(1000);
    wall.close();
    await pass(UNWATCHED_AFTER_MS + 1000);
    sent.length = 0;
    running.publish('rinse 12');
    await pass(60_000);
    expect(sent).toEqual([]);
  });

  test('who looks on at another tablet wakes nobody else', async () => {
    const { tablet, pass, sent } = clinic();
    tablet('chair-1').run().publish('etch 12');
    tablet('wall').watch('chair-2');
    await pass(10_000);
    const own = sent.filter(({ subject }) => subject.includes('chair-1'));
    expect(own).toHaveLength(1);
  });
});

describe('NOT LIVE', () => {
  const cases = {
    'the line of the chair is cut': (c: ReturnType<typeof clinic>) => c.hub.cut('chair-1'),
    'the own line is cut': (c: ReturnType<typeof clinic>) => c.hub.cut('wall'),
    'the store is gone': (c: ReturnType<typeof clinic>) => c.hub.cut(),
    'the tablet of the chair is put out': (c: ReturnType<typeof clinic>) => c.hub.putOut('chair-1'),
    'this tablet is put out': (c: ReturnType<typeof clinic>) => c.hub.putOut('wall'),
  };
  test.each(Object.entries(cases))('within a second when %s', async (_, break_) => {
    const all = clinic();
    const running = all.tablet('chair-1').run();
    running.publish('etch 12');
    const { screen } = all.tablet('wall').watch('chair-1');
    await all.pass(3000);
    expect(screen.getState().state).toBe('live');
    break_(all);
    await all.pass(999);
    expect(screen.getState()).toEqual({ state: 'stale', picture: 'etch 12' });
    // Pressing goes on: it throws nothing and waits for nothing.
    running.publish('rinse 12');
    await all.pass(30_000);
    expect(screen.getState().state).toBe('stale');
  });

  test('ends by itself once there is a line again, with what is there then', async () => {
    const { hub, tablet, pass } = clinic();
    const running = tablet('chair-1').run();
    running.publish('etch 12');
    const { screen } = tablet('wall').watch('chair-1');
    await pass(1000);
    hub.cut();
    await pass(20_000);
    running.publish('rinse 12');
    hub.mend();
    await pass(2500);
    expect(screen.getState()).toMatchObject({ state: 'live', picture: 'rinse 12' });
  });

  test('although a store that was frozen, or that lies, sends again what it heard', async () => {
    const { hub, sent, tablet, pass } = clinic();
    const running = tablet('chair-1').run();
    running.publish('etch 12');
    const watching = tablet('wall').watch('chair-1');
    await pass(3000);
    expect(watching.screen.getState().state).toBe('live');
    const recorded = sent.filter(({ subject }) => subject.startsWith('live.site.chair-1.'));
    running.close();
    await pass(WORD_COUNTS_MS + 1000);
    const late = tablet('other').watch('chair-1');
    await pass(0);
    // Whoever holds the server can send under any name.
    const liar = hub.open('chair-1');
    for (const { subject, data } of recorded) {
      liar.live.publish(subject, data);
      await pass(0);
    }
    expect(watching.screen.getState().state).toBe('stale');
    expect(late.screen.getState().state).toBe('waiting');
  });
});

test('what cannot be sealed, opened or read is passed over', async () => {
  let isBroken = true;
  const { tablet, pass } = clinic({
    seal: async (o) => {
      if (isBroken) throw new Error('no key');
      return plain.seal(o);
    },
    open: async (o) => (o.data.length < 4 ? null : plain.open(o)),
  });
  const chair = tablet('chair-1');
  const running = chair.run();
  running.publish('etch 12');
  const { screen } = tablet('wall').watch('chair-1');
  await pass(3000);
  expect(screen.getState().state).toBe('waiting');
  isBroken = false;
  for (const noise of ['{}', '1', 'null', '{"message":7}', '{"words":[]}']) {
    chair.live.publish('live.site.chair-1.picture', new Uint8Array(utf8.encode(noise)));
  }
  await pass(3000);
  expect(screen.getState()).toEqual({ state: 'live', picture: 'etch 12' });
});
