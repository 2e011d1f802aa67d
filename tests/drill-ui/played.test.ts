/** A drill from its beginning to what is kept of it, in a session without screens. Times are those of the drawn cards. */
import { beforeAll, beforeEach, expect, test, vi } from 'vitest';
import blueLight from '../../shared/tables/blue-light-hazard.json' with { type: 'json' };
import crowns from '../../shared/tables/crown-dimensions.json' with { type: 'json' };
import ceramics from '../../shared/tables/transmittances.json' with { type: 'json' };
import { present } from '../../src/base/assert.ts';
import { DrillWatch, nowOn } from '../../src/drill/course.ts';
import { drillPlan } from '../../src/drill/draw.ts';
import type { MishapCard } from '../../src/drill/drill-types.ts';
import type { DrillCase } from '../../src/drill/hands.ts';
import { parsePlanTables } from '../../src/plan/plan-tables.ts';
import { notExported } from '../../src/runtime/cases/cases-list.ts';
import { withOwnPaces } from '../../src/runtime/cases/own-paces.ts';
import { DRILL } from '../../src/runtime/drills/drill-document.ts';
import type { Drills } from '../../src/runtime/drills/drills.ts';
import type { Session } from '../../src/runtime/session.ts';
import { drillCaseOf } from '../drill/drill-case.ts';
import { type FakeTime, fakeTime, settle } from '../runtime/fake-time.ts';
import { quietSession } from '../runtime/quiet-session.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { isLong } from '../tools/run-size.ts';
import { FIRST_KINDS, seedFor } from './drawn.ts';

const NOW_WALL_MS = Date.UTC(2026, 10, 27, 9);
const DAY_MS = 86_400_000;
let two: DrillCase;
let seed: number;
let card: MishapCard;
let comesMs: number;

beforeAll(() => {
  two = drillCaseOf('two-veneers');
  const found = seedFor(
    two,
    (first, cards) => cards === 1 && first.kind === 'mishap' && first.mishap === 'saliva',
  );
  seed = found.seed;
  comesMs = found.comesMs;
  if (found.card.kind !== 'mishap') throw new Error(found.card.kind);
  card = found.card;
});

interface App {
  readonly session: Session;
  readonly drills: Drills;
  readonly time: FakeTime;
  readonly pass: (ms: number) => Promise<void>;
}

async function app(wallMs = NOW_WALL_MS, journal = createMemoryJournal()): Promise<App> {
  const tables = parsePlanTables({ blueLight, crowns, ceramics });
  if (!tables.ok) throw new Error('tables');
  const time = fakeTime({ wallMs });
  const session = quietSession({
    journal,
    protocols: [two.protocol],
    cases: [],
    tables: tables.value,
    time,
    run: `${wallMs}-`,
  });
  await session.start();
  const pass = async (ms: number): Promise<void> => {
    time.pass(ms);
    await settle();
  };
  return { session, drills: await session.drills(), time, pass };
}

beforeEach(() => {
  vi.spyOn(globalThis.crypto, 'getRandomValues').mockImplementation((array) => {
    if (array instanceof Uint32Array) array[0] = seed * 2;
    return array;
  });
});

const runningOf = ({ session }: App) => present(session.store.getState().running, 'a case');

async function begun(own: App): Promise<string> {
  const done = await own.drills.begin(two.spec);
  if (!done.ok) throw new Error(JSON.stringify(done.error));
  await settle();
  return done.value;
}

/** The cards of the drill at this instant, as a screen works them out. */
function standing(own: App) {
  const { caseId, log, now, madeAtRealMs } = runningOf(own);
  const watch = new DrillWatch(present(own.drills.course(caseId, log), 'a course'));
  watch.take(log);
  const sinceMs = own.time.clock.stamp().monoMs - (madeAtRealMs ?? 0);
  return watch.at(nowOn(log.state, now) + sinceMs);
}

const takeRight = ({ session }: App): void => {
  const { mishap, wayBack, subjects } = card;
  expect(session.do({ do: 'take-way-back', wayBack, mishap, subjects, reason: 'seen' })).toBeNull();
};

async function ended(own: App) {
  const { caseId } = runningOf(own);
  expect((await own.drills.end()).ok).toBe(true);
  const told = await own.drills.told(caseId);
  if (!told.ok) throw new Error(JSON.stringify(told.error));
  return { caseId, ...told.value };
}

test('begins where its seed says, now, at 1x; answered nine seconds after its card it is right and in time', async () => {
  const own = await app();
  const caseId = await begun(own);
  const { log, now, speed } = runningOf(own);
  const { drill, mode } = log.state.opened;
  const plan = drillPlan({ ...two, seed, toward: FIRST_KINDS });
  expect({ drill, mode, speed }).toEqual({
    drill: { seed, toward: FIRST_KINDS, beginsAtMs: plan.beginsAtMs },
    mode: 'rehearsal',
    speed: 1,
  });
  expect(nowOn(log.state, now)).toBe(plan.beginsAtMs);
  // Named while it runs: the tap that begins it asks for nobody.
  expect(own.drills.name({ lead: 'RS', assists: 'TK' })).toMatchObject({ ok: true });
  expect(now.wallMs).toBe(NOW_WALL_MS);
  const last = present(log.records.at(-1), 'an entry').stamp;
  expect(last.runId).toBe(now.runId);
  expect(now.wallMs - last.wallMs).toBe(now.monoMs - last.monoMs);
  expect(log.state.gaps).toEqual([]);
  own.session.setSpeed(60);
  expect(runningOf(own).speed).toBe(1);
  // The journal alone tells it.
  const read = await own.session.readCase(caseId);
  expect(read.ok && read.value.log.state).toEqual(log.state);

  await own.pass(comesMs - 1000);
  expect(standing(own).shown).toEqual([]);
  await own.pass(1000);
  expect(standing(own).shown.map((s) => s.card.id)).toEqual([card.id]);
  await own.pass(9000);
  takeRight(own);
  await own.pass(60_000);
  const { account, again, kept } = await ended(own);
  expect(own.session.store.getState().running).toBeNull();
  expect(account.score.cards).toMatchObject([
    { firstRightMs: 9000, isRightFirst: true, isInTime: true },
  ]);
  expect(again).toEqual([]);
  expect(kept).toMatchObject({
    caseId,
    seed,
    protocolHash: two.protocolHash,
    pair: { lead: 'RS', assists: 'TK' },
    kinds: [{ mishap: 'saliva', isRightFirst: true, isInTime: true }],
  });
  const ofPair = await own.drills.standings({ lead: 'tk', assists: 'rs' });
  expect(ofPair.find((s) => s.mishap === 'saliva')).toMatchObject({ state: 'practising' });
  const saliva = (await own.drills.standings()).find((s) => s.mishap === 'saliva');
  expect(saliva).toMatchObject({ state: 'practising', times: 1 });
});

test('left alone: none of a patient, noted, taken up again 20 s before, and gone after twelve months', async () => {
  const journal = createMemoryJournal();
  const own = await app(NOW_WALL_MS, journal);
  const caseId = await begun(own);
  await own.pass(comesMs + 130_000);
  const missed = await ended(own);
  expect(missed.account.score.cards).toMatchObject([{ firstRightMs: null, isInTime: false }]);
  expect(missed.again).toEqual([card.id]);
  expect(missed.kept).not.toHaveProperty('pair');

  // Nothing of a patient is to be exported, and the backup has what is kept of it.
  await own.session.casesList.refresh();
  const list = own.session.casesList.state.getState();
  expect(list.facts.map((f) => [f.caseId, f.mode])).toEqual([[caseId, 'rehearsal']]);
  expect(notExported(list)).toEqual([]);
  const all = await journal.documents.listAll();
  expect(all.ok && all.value.filter(({ kind }) => kind === DRILL)).toHaveLength(1);
  expect(await withOwnPaces(own.session, two.spec)).toBe(two.spec);

  // What would make it easier is in the log of the desk, once.
  const notes = { seen: 'a wet tooth', thought: '', easier: 'A longer tone' };
  expect((await own.drills.note(caseId, notes)).ok).toBe(true);
  expect((await own.drills.note(caseId, notes)).ok).toBe(true);
  const told = await own.drills.told(caseId);
  expect(told.ok && told.value.kept?.notes).toEqual(notes);
  const { log: desk } = (await own.session.lead()).state.getState();
  expect(desk.entries.filter((e) => e.deed === 'drill-note').map((e) => e.values)).toEqual([
    { protocol: two.protocol.title, seed, words: 'A longer tone' },
  ]);

  const again = await own.drills.again(caseId, card.id);
  if (!again.ok) throw new Error(JSON.stringify(again.error));
  await settle();
  expect(runningOf(own).log.state.opened.drill).toMatchObject({ seed, again: card.id });
  expect(standing(own)).toMatchObject({ shown: [], nextInMs: 20_000 });
  await own.pass(20_000);
  expect(standing(own).shown.map((s) => s.card.id)).toEqual([card.id]);
  await own.pass(4000);
  takeRight(own);
  await own.pass(1000);
  // It is over 15 s after it was answered.
  const { now, log } = runningOf(own);
  expect(standing(own).endsAtMs - nowOn(log.state, now)).toBe(14_000);
  const right = await ended(own);
  expect(right.account.score.cards).toMatchObject([
    { firstRightMs: 4000, isRightFirst: true, isInTime: true },
  ]);
  expect(right.again).toEqual([]);
  // What was expected is no practice of the unexpected: readiness knows the first one only.
  const saliva = (await own.drills.standings()).find((s) => s.mishap === 'saliva');
  expect(saliva).toMatchObject({ times: 1, state: 'practising' });

  const soon = await app(NOW_WALL_MS + 364 * DAY_MS, journal);
  await soon.drills.prune(soon.session.casesList);
  expect((await soon.session.readCase(caseId)).ok).toBe(true);
  const later = await app(NOW_WALL_MS + 366 * DAY_MS, journal);
  await later.drills.prune(later.session.casesList);
  expect((await later.session.readCase(caseId)).ok).toBe(false);
  const [kept] = await later.drills.kept();
  expect(kept).toMatchObject({
    kinds: [{ mishap: 'saliva', isRightFirst: false, isInTime: false }],
    notes: { seen: '', thought: '', easier: '' },
  });
  const lapsed = (await later.drills.standings()).find((s) => s.mishap === 'saliva');
  expect(lapsed?.state).toBe('lapsed');
});

test.runIf(isLong)(
  'ended before anything could be answered, no kind is kept as missed',
  async () => {
    const own = await app();
    await begun(own);
    await own.pass(comesMs + 2000);
    const { kept } = await ended(own);
    expect(kept?.kinds).toEqual([]);
  },
);

test('it begins beside no open case of a patient', async () => {
  const own = await app();
  const { protocol, spec, protocolHash } = two;
  const approval = { hash: protocolHash, by: 'lead', onWallMs: 0 };
  const draft = { protocol, hash: protocolHash, origin: 'own', approval } as const;
  const open = { spec, mode: 'patient', speed: 1, draft, allTheSame: true } as const;
  expect(await own.session.openCase(open)).toMatchObject({ ok: true });
  expect(await own.drills.begin(spec)).toMatchObject({ error: { code: 'patient-runs' } });
  own.session.leaveCase();
  await settle();
  expect(await own.drills.begin(spec)).toMatchObject({ error: { code: 'patient-open' } });
});
