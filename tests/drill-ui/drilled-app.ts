/** A session without screens that drills one case, and what a person does in it. */
import { expect, vi } from 'vitest';
import blueLight from '../../shared/tables/blue-light-hazard.json' with { type: 'json' };
import crowns from '../../shared/tables/crown-dimensions.json' with { type: 'json' };
import ceramics from '../../shared/tables/transmittances.json' with { type: 'json' };
import { present } from '../../src/base/assert.ts';
import { DrillWatch, nowOn } from '../../src/drill/course.ts';
import type { MishapCard } from '../../src/drill/drill-types.ts';
import type { DrillCase } from '../../src/drill/hands.ts';
import { parsePlanTables } from '../../src/plan/plan-tables.ts';
import type { Drills } from '../../src/runtime/drills/drills.ts';
import type { Session } from '../../src/runtime/session.ts';
import type { CaseOpening, SessionParts } from '../../src/runtime/session-parts.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { drillCaseOf } from '../drill/drill-case.ts';
import { type FakeTime, fakeTime, settle } from '../runtime/fake-time.ts';
import { quietSession } from '../runtime/quiet-session.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { seedFor } from './drawn.ts';

export const NOW_WALL_MS = Date.UTC(2026, 10, 27, 9);

export interface DrillApp {
  readonly session: Session;
  readonly drills: Drills;
  readonly time: FakeTime;
  readonly pass: (ms: number) => Promise<void>;
}

/** The case, and a seed that draws saliva and nothing else. */
export function salivaDrill(): {
  readonly two: DrillCase;
  readonly seed: number;
  readonly card: MishapCard;
  readonly comesMs: number;
} {
  const two = drillCaseOf('two-veneers');
  const { seed, card, comesMs } = seedFor(
    two,
    (first, cards) => cards === 1 && first.kind === 'mishap' && first.mishap === 'saliva',
  );
  if (card.kind !== 'mishap') throw new Error(card.kind);
  return { two, seed, card, comesMs };
}

/** The next drill is drawn from this seed. */
export function drawSeed(seed: number): void {
  vi.spyOn(globalThis.crypto, 'getRandomValues').mockImplementation((array) => {
    if (array instanceof Uint32Array) array[0] = seed * 2;
    return array;
  });
}

export async function drillApp(
  of: DrillCase,
  o: {
    readonly wallMs?: number;
    readonly journal?: Journal;
    readonly planner?: NonNullable<SessionParts['planner']>;
  } = {},
): Promise<DrillApp> {
  const { wallMs = NOW_WALL_MS, journal = createMemoryJournal() } = o;
  const tables = parsePlanTables({ blueLight, crowns, ceramics });
  if (!tables.ok) throw new Error('tables');
  const time = fakeTime({ wallMs });
  const session = quietSession({
    journal,
    protocols: [of.protocol],
    cases: [],
    tables: tables.value,
    time,
    run: `${wallMs}-`,
    ...(o.planner === undefined ? {} : { planner: o.planner }),
  });
  await session.start();
  const pass = async (ms: number): Promise<void> => {
    time.pass(ms);
    await settle();
  };
  return { session, drills: await session.drills(), time, pass };
}

/** A patient's case on the same case file, whatever the lead has not answered. */
export function patientCase({ spec, protocol, protocolHash }: DrillCase): CaseOpening {
  const approval = { hash: protocolHash, by: 'lead', onWallMs: 0 };
  const draft = { protocol, hash: protocolHash, origin: 'own', approval } as const;
  return { spec, mode: 'patient', speed: 1, draft, allTheSame: true };
}

export const runningOf = ({ session }: DrillApp) =>
  present(session.store.getState().running, 'a case');

export async function begun(own: DrillApp, of: DrillCase): Promise<string> {
  const done = await own.drills.begin(of.spec);
  if (!done.ok) throw new Error(JSON.stringify(done.error));
  await settle();
  return done.value;
}

/** The cards of the drill at this instant, as a screen works them out. */
export async function standing(own: DrillApp) {
  const { caseId, log, now, madeAtRealMs } = runningOf(own);
  const course = await own.drills.course(caseId, log);
  if (!course.ok) throw new Error(JSON.stringify(course.error));
  const watch = new DrillWatch(present(course.value, 'a course'));
  watch.take(log);
  const sinceMs = own.time.clock.stamp().monoMs - (madeAtRealMs ?? 0);
  return watch.at(nowOn(log.state, now) + sinceMs);
}

export const takeRight = ({ session }: DrillApp, card: MishapCard): void => {
  const { mishap, wayBack, subjects } = card;
  expect(session.do({ do: 'take-way-back', wayBack, mishap, subjects, reason: 'seen' })).toBeNull();
};

export async function ended(own: DrillApp) {
  const { caseId } = runningOf(own);
  expect((await own.drills.end()).ok).toBe(true);
  const told = await own.drills.told(caseId);
  if (!told.ok) throw new Error(JSON.stringify(told.error));
  return { caseId, ...told.value };
}
