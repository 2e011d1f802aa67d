/** A case that runs on one tablet of the clinic, read along on another: both are whole apps without screens. */
import { describe, expect, test } from 'vitest';
import { Pictures } from '../../src/runtime/windows/pictures.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { LiveHub, type LiveSeal } from '../../src/sync/live-channel.ts';
import { pictureOf, pictureText } from '../../src/sync/live-sealing.ts';
import { MemoryHub } from '../../src/sync/memory-store.ts';
import { must } from '../backup/filled-journal.ts';
import { dwell, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { fakeTime } from '../runtime/fake-time.ts';
import { quietSession } from '../runtime/quiet-session.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';

const etch = protocolOf([
  step('etch', 'tooth', dwell(15, 20, 30)),
  step('rinse', 'tooth', dwell(5, 10, 20)),
]);
const { spec } = settingOf(etch, ['11', '21']);
const draft = {
  protocol: etch,
  hash: 'h',
  origin: 'own',
  approval: { hash: 'h', by: 'lead', onWallMs: 0 },
} as const;

/** Nothing is signed: signing takes real time, and here all time is the test's. */
const plain: LiveSeal = {
  seal: async ({ value }) => new Uint8Array(new TextEncoder().encode(pictureText(value))),
  open: async ({ subject, data }) => ({
    device: subject.split('.')[2] ?? '',
    value: pictureOf(new TextDecoder().decode(data)),
  }),
};

async function twoTablets() {
  const hub = new MemoryHub();
  const time = fakeTime({ wallMs: Date.UTC(2026, 10, 27, 9) });
  const tablet = async (device: string, isOff = false) => {
    const { timers } = time;
    // The wall clock of one of them is a day off: nothing that is shown may come of it.
    const own = fakeTime({ wallMs: time.clock.stamp().wallMs + (isOff ? 86_400_000 : 0) });
    time.onStep((ms) => own.pass(ms));
    const pictures = new Pictures({ timers, runId: `run ${device}`, open: null });
    const live = new LiveHub({
      live: hub.open(device).live,
      site: 'site',
      device,
      seal: plain,
      nowMs: () => time.clock.stamp().monoMs,
      newWord: () => crypto.randomUUID(),
    });
    const journal = createMemoryJournal();
    const session = quietSession({
      journal,
      protocols: [],
      cases: [],
      time: { ...own, timers },
      pictures,
      run: device,
    });
    await session.start();
    const leave = pictures.join(live);
    const join = () => pictures.join(live);
    return { session, journal, leave, join, running: () => session.store.getState().running };
  };
  const pass = async (ms: number) => {
    for (let left = ms; left > 0; left -= 250) {
      time.pass(Math.min(250, left));
      for (let n = 0; n < 4; n += 1) await new Promise(setImmediate);
    }
  };
  return { hub, pass, chair: await tablet('chair'), wall: await tablet('wall', true) };
}

/** What the engine of the store does: the entries of one tablet on the other. */
async function carry(from: Journal, to: Journal, caseId: string): Promise<void> {
  const { entries } = must(await from.read(caseId));
  must(await to.adopt({ caseId, epoch: 1, entries }));
}

describe('a case of another tablet', () => {
  test('is shown with its clocks as they stand there, and its presses as they come', async () => {
    const { hub, pass, chair, wall } = await twoTablets();
    const opened = must(await chair.session.openCase({ spec, mode: 'patient', speed: 1, draft }));
    expect(await wall.session.follow({ device: 'chair', caseId: opened })).toMatchObject({
      ok: false,
    });
    await carry(chair.journal, wall.journal, opened);
    must(await wall.session.follow({ device: 'chair', caseId: opened }));
    // Nothing was heard yet: the log is there, and no clock of it is said to be live.
    expect(wall.running()).toMatchObject({ isViewOnly: true, isStale: true });
    await pass(1000);
    expect(wall.running()).toMatchObject({ isStale: false });
    chair.session.pressNext();
    await pass(12_000);
    expect(wall.running()?.view.clocks).toEqual(chair.running()?.view.clocks);
    expect(wall.running()?.view.clocks[0]?.elapsed.loMs).toBeGreaterThanOrEqual(12_000);
    // The entries of the press came by the store meanwhile, and are read when a picture knows of them.
    expect(wall.running()?.log.records).toHaveLength(1);
    await carry(chair.journal, wall.journal, opened);
    await pass(1500);
    expect(wall.running()?.log.records).toHaveLength(chair.running()?.log.records.length ?? 0);
    hub.cut();
    await pass(1000);
    expect(wall.running()).toMatchObject({ isStale: true });
    expect(chair.running()?.log.state.closed).toBeNull();
    chair.session.pressNext();
    hub.mend();
    await pass(3000);
    expect(wall.running()).toMatchObject({ isStale: false });
    expect(wall.running()?.view.clocks).toEqual(chair.running()?.view.clocks);
    chair.session.leaveCase();
    await pass(250);
    expect(wall.running()).toMatchObject({ isStale: true });
    // Looking on wrote nothing, and pressed nothing.
    expect(must(await wall.journal.read(opened)).entries.length).toBeLessThanOrEqual(
      must(await chair.journal.read(opened)).entries.length,
    );
    expect(wall.session.pressNext()).toBeNull();
  });

  test('is not shown while one runs here, and one that is practised with is shown to nobody', async () => {
    const { pass, chair, wall } = await twoTablets();
    const own = must(await wall.session.openCase({ spec, mode: 'patient', speed: 1, draft }));
    const other = must(await chair.session.openCase({ spec, mode: 'patient', speed: 1, draft }));
    await carry(chair.journal, wall.journal, other);
    must(await wall.session.follow({ device: 'chair', caseId: other }));
    expect(wall.running()).toMatchObject({ caseId: own, isViewOnly: false });
    wall.session.leaveCase();
    chair.session.leaveCase();
    const shown = must(await chair.session.openCase({ spec, mode: 'rehearsal', speed: 1, draft }));
    await carry(chair.journal, wall.journal, shown);
    must(await wall.session.follow({ device: 'chair', caseId: shown }));
    await pass(3000);
    expect(wall.running()).toMatchObject({ caseId: shown, isStale: true });
  });

  test('is shown although either tablet took part only after it had begun', async () => {
    const { pass, chair, wall } = await twoTablets();
    chair.leave();
    wall.leave();
    const opened = must(await chair.session.openCase({ spec, mode: 'patient', speed: 1, draft }));
    await carry(chair.journal, wall.journal, opened);
    must(await wall.session.follow({ device: 'chair', caseId: opened }));
    await pass(3000);
    expect(wall.running()).toMatchObject({ isStale: true });
    chair.join();
    wall.join();
    // Nothing is pressed and no clock runs: there is no other picture than the one of before.
    await pass(3000);
    expect(wall.running()).toMatchObject({ isStale: false });
  });

  test('is let go when this tablet takes part no more', async () => {
    const { pass, chair, wall } = await twoTablets();
    const opened = must(await chair.session.openCase({ spec, mode: 'patient', speed: 1, draft }));
    await carry(chair.journal, wall.journal, opened);
    must(await wall.session.follow({ device: 'chair', caseId: opened }));
    await pass(1000);
    expect(wall.running()).toMatchObject({ isStale: false });
    chair.leave();
    await pass(1000);
    expect(wall.running()).toMatchObject({ isStale: true });
    expect(() => chair.session.pressNext()).not.toThrow();
  });
});
