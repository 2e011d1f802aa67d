/** A drill from its beginning to what is kept of it, in a session without screens. Times are those of the drawn cards. */
import { beforeEach, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { nowOn } from '../../src/drill/course.ts';
import { drillPlan } from '../../src/drill/draw.ts';
import { notExported } from '../../src/runtime/cases/cases-list.ts';
import { withOwnPaces } from '../../src/runtime/cases/own-paces.ts';
import { DRILL } from '../../src/runtime/drills/drill-document.ts';
import { settle } from '../runtime/fake-time.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { isLong } from '../tools/run-size.ts';
import { FIRST_KINDS } from './drawn.ts';
import {
  begun,
  drawSeed,
  drillApp,
  ended,
  NOW_WALL_MS,
  patientCase,
  runningOf,
  salivaDrill,
  standing,
  takeRight,
} from './drilled-app.ts';

const DAY_MS = 86_400_000;
const { two, seed, card, comesMs } = salivaDrill();

beforeEach(() => drawSeed(seed));

test('begins where its seed says, now, at 1x; answered nine seconds after its card it is right and in time', async () => {
  const own = await drillApp(two);
  const caseId = await begun(own, two);
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
  expect((await standing(own)).shown).toEqual([]);
  await own.pass(1000);
  expect((await standing(own)).shown.map((s) => s.card.id)).toEqual([card.id]);
  await own.pass(9000);
  takeRight(own, card);
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
  const own = await drillApp(two, { journal });
  const caseId = await begun(own, two);
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
  expect(await standing(own)).toMatchObject({ shown: [], nextInMs: 20_000 });
  await own.pass(20_000);
  expect((await standing(own)).shown.map((s) => s.card.id)).toEqual([card.id]);
  await own.pass(4000);
  takeRight(own, card);
  await own.pass(1000);
  // It is over 15 s after it was answered.
  const { now, log } = runningOf(own);
  expect((await standing(own)).endsAtMs - nowOn(log.state, now)).toBe(14_000);
  const right = await ended(own);
  expect(right.account.score.cards).toMatchObject([
    { firstRightMs: 4000, isRightFirst: true, isInTime: true },
  ]);
  expect(right.again).toEqual([]);
  // What was expected is no practice of the unexpected: readiness knows the first one only.
  const saliva = (await own.drills.standings()).find((s) => s.mishap === 'saliva');
  expect(saliva).toMatchObject({ times: 1, state: 'practising' });

  const soon = await drillApp(two, { journal, wallMs: NOW_WALL_MS + 364 * DAY_MS });
  await soon.drills.prune(soon.session.casesList);
  expect((await soon.session.readCase(caseId)).ok).toBe(true);
  const later = await drillApp(two, { journal, wallMs: NOW_WALL_MS + 366 * DAY_MS });
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
    const own = await drillApp(two);
    await begun(own, two);
    await own.pass(comesMs + 2000);
    const { kept } = await ended(own);
    expect(kept?.kinds).toEqual([]);
  },
);

test('it begins beside no open case of a patient', async () => {
  const own = await drillApp(two);
  const { spec } = two;
  expect(await own.session.openCase(patientCase(two))).toMatchObject({ ok: true });
  expect(await own.drills.begin(spec)).toMatchObject({ error: { code: 'patient-runs' } });
  own.session.leaveCase();
  await settle();
  expect(await own.drills.begin(spec)).toMatchObject({ error: { code: 'patient-open' } });
});
