/** A drill and a case of a patient in one window: one ends where the other is opened, and no press goes astray. */
import { beforeEach, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { answerDrill } from '../../src/runtime/drills/answer-drill.ts';
import { DRILL } from '../../src/runtime/drills/drill-document.ts';
import type { DrillAnswer, DrillQuestion } from '../../src/runtime/planner/plan-messages.ts';
import { settle } from '../runtime/fake-time.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import {
  begun,
  type DrillApp,
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

const { two, seed, card, comesMs } = salivaDrill();

beforeEach(() => drawSeed(seed));

let drawn: DrillAnswer | null = null;
/** Every drill of this file is drawn alike, so it is drawn once. */
const planner = {
  drill: async (question: DrillQuestion): Promise<DrillAnswer> => {
    if (question.ask !== 'draw') return answerDrill(question);
    drawn ??= answerDrill(question);
    return structuredClone(drawn);
  },
};

async function entriesOf({ session }: DrillApp, caseId: string) {
  const read = await session.readCase(caseId);
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return read.value.log.records.map(({ event }) => event.type);
}

test('a case of a patient ends the drill: it is said, and what it came to can be read', async () => {
  const own = await drillApp(two, { planner });
  const drill = await begun(own, two);
  await own.pass(comesMs + 9000);
  takeRight(own, card);
  await own.pass(1000);
  const opened = await own.session.openCase(patientCase(two));
  if (!opened.ok) throw new Error(JSON.stringify(opened.error));
  expect(own.session.store.getState().drillEnded).toEqual({ caseId: drill, isKept: true });
  expect(runningOf(own).caseId).toBe(opened.value);
  const told = await own.drills.told(drill);
  expect(told).toMatchObject({ ok: true, value: { kept: { caseId: drill } } });
  const [kept] = await own.drills.kept();
  expect(kept?.kinds).toEqual([{ mishap: 'saliva', isRightFirst: true, isInTime: true }]);
  expect(runningOf(own).caseId).toBe(opened.value);
});

test('presses while one takes the place of the other stay where they were meant', async () => {
  const own = await drillApp(two, { planner });
  const drill = await begun(own, two);
  const before = await entriesOf(own, drill);
  const opening = own.session.openCase(patientCase(two));
  const landed: string[] = [];
  let isOpen = false;
  void opening.then(() => {
    isOpen = true;
  });
  // Whoever presses sees the case that the last picture showed.
  for (let turn = 0; turn < 2000 && !isOpen; turn += 1) {
    const shown = own.session.store.getState().running?.caseId;
    const at = runningAt(own);
    if (shown !== undefined && own.session.pressNext() === null) landed.push(shown);
    expect(runningAt(own)).toBe(at);
    await Promise.resolve();
    if (turn % 20 === 0) await new Promise((done) => setTimeout(done));
  }
  const opened = await opening;
  if (!opened.ok) throw new Error(JSON.stringify(opened.error));
  await settle();
  const patient = await entriesOf(own, opened.value);
  expect(patient.filter((type) => type !== 'tones-heard')).toHaveLength(
    1 + landed.filter((caseId) => caseId === opened.value).length,
  );
  const after = await entriesOf(own, drill);
  expect(after.slice(0, before.length)).toEqual(before);
  // It was closed, and nothing came after that.
  expect(after.filter((type) => type === 'case-closed')).toHaveLength(1);
  expect(after.at(-1)).toBe('case-closed');
});

const runningAt = ({ session }: DrillApp) => session.store.getState().running?.caseId;

test('a drill that is still being drawn begins beside no case that was opened meanwhile', async () => {
  let answer: (drawn: DrillAnswer) => void = () => undefined;
  const asked: DrillQuestion[] = [];
  const slow = {
    drill: (question: DrillQuestion) => {
      asked.push(question);
      return new Promise<DrillAnswer>((resolve) => {
        answer = resolve;
      });
    },
  };
  const own = await drillApp(two, { planner: slow });
  const beginning = own.drills.begin(two.spec);
  await settle();
  const opened = await own.session.openCase(patientCase(two));
  expect(opened.ok).toBe(true);
  answer(await planner.drill(present(asked[0], 'a question')));
  expect(await beginning).toMatchObject({ ok: false, error: { code: 'patient-runs' } });
  expect(runningAt(own)).toBe(opened.ok && opened.value);
});

test('ending a drill does not put down the case that was opened in its place', async () => {
  const memory = createMemoryJournal();
  let opened: Awaited<ReturnType<DrillApp['session']['openCase']>> | null = null;
  const { put } = memory.documents;
  // What is kept of the drill comes into the journal only when the other case is open.
  memory.documents.put = async (document) => {
    const { spec } = two;
    if (document.kind === DRILL) {
      opened ??= await own.session.openCase({ spec, mode: 'rehearsal', speed: 1 });
    }
    return put.call(memory.documents, document);
  };
  const own = await drillApp(two, { journal: memory, planner });
  await begun(own, two);
  expect((await own.drills.end()).ok).toBe(true);
  await settle();
  expect(opened).toEqual({ ok: true, value: runningAt(own) });
});

test('a thread that breaks begins nothing, says so, and is asked anew', async () => {
  let fails = 1;
  const broken = {
    drill: async (question: DrillQuestion) => {
      fails -= 1;
      if (fails >= 0) throw new Error('not loaded');
      return planner.drill(question);
    },
  };
  const own = await drillApp(two, { planner: broken });
  expect(await own.drills.begin(two.spec)).toEqual({
    ok: false,
    error: {
      code: 'drill-not-answered',
      place: 'planning thread',
      expected: 'what a drill holds',
      came: '"not loaded"',
    },
  });
  expect(runningAt(own)).toBeUndefined();
  expect((await own.drills.begin(two.spec)).ok).toBe(true);
});

test('taken up again after the page was loaded anew in the midst of the drill', async () => {
  const journal = createMemoryJournal();
  const first = await drillApp(two, { journal, planner });
  const caseId = await begun(first, two);
  await first.pass(10_000);
  expect(first.session.pressNext()).toBeNull();
  await settle();
  first.session.leaveCase();
  // Half a minute in which nobody watched: of it nothing is known.
  const own = await drillApp(two, { journal, planner, wallMs: NOW_WALL_MS + 40_000 });
  expect((await own.session.resumeCase(caseId)).ok).toBe(true);
  await own.pass(comesMs + 130_000);
  expect(runningOf(own).log.state.gaps).toHaveLength(1);
  const shown = present((await standing(own)).shown[0], 'the card');
  const missed = await ended(own);
  expect(missed.again).toEqual([shown.card.id]);

  const later = await drillApp(two, { journal, planner, wallMs: NOW_WALL_MS + 3_600_000 });
  expect((await later.drills.again(caseId, shown.card.id)).ok).toBe(true);
  await settle();
  const { log, now } = runningOf(later);
  expect(log.state.gaps).toEqual([]);
  expect(new Set(log.records.map(({ stamp }) => stamp.runId))).toEqual(new Set([now.runId]));
  expect(await standing(later)).toMatchObject({ shown: [], nextInMs: 20_000 });
  await later.pass(24_000);
  takeRight(later, card);
  const { account } = await ended(later);
  expect(account.score.cards).toMatchObject([{ firstRightMs: 4000, isRightFirst: true }]);
});
