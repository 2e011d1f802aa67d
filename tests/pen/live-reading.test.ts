/**
 * What a tablet knows of the clock of another at which it looked on: pictures that answer its own questions tell
 * how long ago the other clock was read, whatever the wall clocks say and however slow the line is.
 */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { Pictures } from '../../src/runtime/windows/pictures.ts';
import type { JournalNews } from '../../src/storage/journal-types.ts';
import { LiveHub, type LiveSeal } from '../../src/sync/live-channel.ts';
import { pictureOf, pictureText } from '../../src/sync/live-sealing.ts';
import { MemoryHub } from '../../src/sync/memory-store.ts';
import { must } from '../backup/filled-journal.ts';
import { type FakeTime, fakeTime } from '../runtime/fake-time.ts';
import { quietSession } from '../runtime/quiet-session.ts';
import { createMemoryDevice, createMemoryJournal } from '../storage/memory-journal.ts';
import { draft, spec } from './two-tablets.ts';

afterEach(() => vi.restoreAllMocks());

/** Two tablets, a line between them that takes `onWayMs`, and clocks that have nothing in common. */
async function twoTablets(onWayMs: number) {
  const hub = new MemoryHub();
  const time = fakeTime({ wallMs: Date.UTC(2026, 10, 27, 9) });
  /** Sealing is left out, since it takes real time; the way takes the test's. */
  const seal: LiveSeal = {
    seal: async ({ value }) => new Uint8Array(new TextEncoder().encode(pictureText(value))),
    open: async ({ subject, data }) => {
      await new Promise<void>((resolve) => time.timers.after(onWayMs, resolve));
      return {
        device: subject.split('.')[2] ?? '',
        value: pictureOf(new TextDecoder().decode(data)),
      };
    },
  };
  const tablet = async (
    run: string,
    o: { readonly wallAheadMs: number; readonly monoMs: number },
  ) => {
    const own: FakeTime = fakeTime({ wallMs: time.clock.stamp().wallMs + o.wallAheadMs });
    own.pass(o.monoMs);
    time.onStep((ms) => own.pass(ms));
    const { timers } = time;
    const pictures = new Pictures({ timers, runId: `run ${run}`, open: null });
    const store = createMemoryDevice();
    const journal = createMemoryJournal(store);
    const heard = new Set<(news: JournalNews) => void>();
    journal.subscribe = (listener) => {
      heard.add(listener);
      return () => heard.delete(listener);
    };
    const about = { journal, protocols: [], cases: [], pictures, run };
    const session = quietSession({ ...about, time: { ...own, timers } });
    await session.start();
    const device = session.store.getState().settings.tablet;
    const nowMs = () => own.clock.stamp().monoMs;
    const newWord = () => crypto.randomUUID();
    pictures.join(
      new LiveHub({ live: hub.open(device).live, site: 'site', device, seal, nowMs, newWord }),
    );
    const { epoch } = store;
    must(await journal.documents.put({ kind: 'fact-tablet', id: 'paired', value: {}, epoch }));
    const bring = (news: JournalNews) => {
      for (const listener of heard) listener(news);
    };
    return { session, journal, epoch, bring, device };
  };
  const pass = async (ms: number) => {
    for (let left = ms; left > 0; left -= 50) {
      time.pass(Math.min(50, left));
      for (let n = 0; n < 3; n += 1) await new Promise(setImmediate);
    }
  };
  const a = await tablet('a', { wallAheadMs: 0, monoMs: 0 });
  const b = await tablet('b', { wallAheadMs: -400 * 86_400_000, monoMs: 7_654_321 });
  const carry = async (caseId: string) => {
    const { entries } = must(await a.journal.read(caseId));
    const { added } = must(await b.journal.adopt({ caseId, epoch: b.epoch, entries }));
    if (added > 0) b.bring({ type: 'entries', caseId, entries: entries.slice(-added) });
  };
  return { a, b, pass, carry };
}

describe.each([0, 100, 700])('a line on which everything takes %d ms', (onWayMs) => {
  it('leaves the elapsed time of a running etch known to the way and the last question', async () => {
    const { a, b, pass, carry } = await twoTablets(onWayMs);
    const caseId = must(await a.session.openCase({ spec, mode: 'patient', speed: 1, draft }));
    await pass(100);
    a.session.pressNext();
    await pass(100);
    await carry(caseId);
    must(await b.session.resumeCase(caseId));
    await pass(6000);
    must(await a.session.pens.give({ tablet: b.device, name: 'B' }));
    await pass(onWayMs);
    await carry(caseId);
    await pass(3000);
    must(await b.session.pens.take({ caseId }));
    await pass(1000);
    // True: 100 + 6000 + the way of the entries + 3000 + 1000 since the etch was pressed.
    const trueMs = 10_100 + onWayMs;
    const clock = b.session.store.getState().running?.view.clocks.find((c) => c.of === 'etch');
    const { loMs, hiMs } = clock?.elapsed ?? { loMs: Number.NaN, hiMs: Number.NaN };
    expect(loMs).toBeLessThanOrEqual(trueMs);
    expect(hiMs).toBeGreaterThanOrEqual(trueMs);
    // A question is asked every two seconds, and its way there and that of the answer count in.
    expect(hiMs - loMs).toBeLessThanOrEqual(2000 + 2 * onWayMs + 300);
  });
});
