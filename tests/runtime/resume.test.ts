/**
 * A case that is taken up again after the app was closed, with the tablet's clock left alone, set
 * ahead or set back meanwhile: what its clocks know, at every speed and for patients too.
 */
import { describe, expect, test } from 'vitest';
import { isExact } from '../../src/engine/axis.ts';
import type { RehearsalSpeed } from '../../src/runtime/device/clock.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { dwell, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { fakeTime, settle } from './fake-time.ts';
import { quietSession } from './quiet-session.ts';

const etch = protocolOf([step('etch', 'tooth', dwell(15, 20, 30))]);
const { spec } = settingOf(etch, ['11']);
const entry = { protocol: etch, hash: 'h', origin: 'own' } as const;
const draft = { ...entry, approval: { hash: 'h', by: 'lead', onWallMs: 0 } };

/** One run of the app without its screens, its clock at `wallMs`. */
async function appAt(o: { readonly wallMs: number; readonly journal: Journal }) {
  const time = fakeTime({ wallMs: o.wallMs });
  const session = quietSession({
    journal: o.journal,
    protocols: [],
    cases: [],
    time,
    run: `${o.wallMs}-`,
  });
  await session.start();
  const running = () => {
    const found = session.store.getState().running;
    if (!found) throw new Error('no case runs');
    return found;
  };
  const pass = async (ms: number) => {
    time.pass(ms);
    await settle();
  };
  return { session, running, pass };
}

const OPENED_WALL_MS = Date.UTC(2026, 10, 27, 9);

/** An etch that has run for 12 real seconds when the app is closed; taken up at `wallMs`. */
async function takenUp(o: {
  readonly mode: 'patient' | 'rehearsal';
  readonly speed: RehearsalSpeed;
  readonly wallMs: number;
}) {
  const { mode, speed } = o;
  const journal = createMemoryJournal();
  const first = await appAt({ wallMs: OPENED_WALL_MS, journal });
  const opened = await first.session.openCase({ spec, mode, speed, draft });
  if (!opened.ok) throw new Error(JSON.stringify(opened.error));
  first.session.pressNext();
  await first.pass(12_000);
  expect(first.running().view.clocks.map((c) => c.elapsed.loMs)).toEqual([12_000 * speed]);
  const second = await appAt({ wallMs: o.wallMs, journal });
  const resumed = await second.session.resumeCase(opened.value);
  if (!resumed.ok) throw new Error(JSON.stringify(resumed.error));
  await settle();
  return second;
}

const ofEtch = ({ running }: Awaited<ReturnType<typeof takenUp>>) => {
  const [clock] = running().view.clocks;
  if (!clock) throw new Error('no clock runs');
  return clock;
};

describe.each([10, 60] as const)('a rehearsal at %s times the speed', (speed) => {
  test.each([
    ['an hour later', 3_600_000],
    ['with the clock set back by a day', -86_400_000],
  ])('stood still while the app was closed, and goes on; taken up %s', async (_, byMs) => {
    const app = await takenUp({ mode: 'rehearsal', speed, wallMs: OPENED_WALL_MS + byMs });
    const knownMs = 12_000 * speed;
    expect(ofEtch(app).elapsed).toEqual({ loMs: knownMs, hiMs: knownMs });
    expect(app.running().log.state.gaps.filter((g) => g.hiMs > 0)).toEqual([]);
    expect(app.running().speed).toBe(speed);
    await app.pass(1000);
    const laterMs = knownMs + 1000 * speed;
    expect(ofEtch(app).elapsed).toEqual({ loMs: laterMs, hiMs: laterMs });
  });
});

describe.each([
  { mode: 'patient', speed: 1 },
  { mode: 'rehearsal', speed: 1 },
] as const)('a case ($mode) taken up again', (kind) => {
  const knownMs = 12_000;

  test.each([
    ['an hour', -3_600_000],
    ['a second', 12_000 - 1000],
    ['a day', -86_400_000],
  ])('with the clock set back by %s has no upper end, until people say', async (_, byMs) => {
    const app = await takenUp({ ...kind, wallMs: OPENED_WALL_MS + byMs });
    expect(ofEtch(app).elapsed).toEqual({ loMs: knownMs, hiMs: Infinity });
    const { gaps } = app.running().log.state;
    expect(gaps).toMatchObject([{ cause: 'closed', untrusted: true, settled: false }]);
    const over = app.running().view.cues.find((c) => c.kind === 'over');
    expect(over?.dueInMs).toBe(-Infinity);
    await app.pass(1000);
    expect(ofEtch(app).elapsed).toEqual({ loMs: knownMs + 1000 * kind.speed, hiMs: Infinity });
    const gap = gaps[0]?.seq ?? -1;
    expect(app.session.do({ do: 'settle-gap', gap, lengthMs: 5000 })).toBeNull();
    await settle();
    expect(ofEtch(app).elapsed.loMs).toBe(knownMs + 1000 * kind.speed + 5000);
    expect(isExact(ofEtch(app).elapsed)).toBe(true);
  });

  test('with the clock right is an interval up to what the clock shows', async () => {
    const awayMs = 20 * 60_000;
    const app = await takenUp({ ...kind, wallMs: OPENED_WALL_MS + awayMs });
    const { loMs, hiMs } = ofEtch(app).elapsed;
    expect([loMs, hiMs]).toEqual([knownMs, awayMs]);
    expect(app.running().log.state.gaps).toMatchObject([{ untrusted: false }]);
  });
});

test('nothing infinite is stored', async () => {
  const journal = createMemoryJournal();
  const first = await appAt({ wallMs: OPENED_WALL_MS, journal });
  const opened = await first.session.openCase({ spec, mode: 'patient', speed: 1, draft });
  if (!opened.ok) throw new Error(JSON.stringify(opened.error));
  first.session.pressNext();
  await first.pass(3000);
  const second = await appAt({ wallMs: OPENED_WALL_MS - 60_000, journal });
  await second.session.resumeCase(opened.value);
  second.session.pressNext();
  await settle();
  const read = await journal.read(opened.value);
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  expect(read.value.verdict.firstBad).toBeNull();
  expect(read.value.entries.length).toBeGreaterThan(3);
  expect(JSON.parse(JSON.stringify(read.value.entries))).toEqual(read.value.entries);
});
