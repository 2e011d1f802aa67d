/** Paces learned from records that were made by playing a case at a known pace of the hands. */
import { describe, expect, test } from 'vitest';
import { oneByOne } from '../../.ci/vite/one-by-one.ts';
import type { CaseLog } from '../../src/engine/log.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { openingState } from '../../src/plan/opening-state.ts';
import { OWN_PACE_COUNT_MIN, ownPaces } from '../../src/plan/own-paces.ts';
import { parseScriptText } from '../../src/plan/parse-script.ts';
import { rehearse } from '../../src/plan/rehearsal.ts';
import { replan } from '../../src/plan/replan.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import type { CaseFile, RecordedPace } from '../../src/protocol/case-types.ts';
import { recordedCase, recordedPaces, withOwnPaces } from '../../src/runtime/cases/own-paces.ts';
import { tellReadBack } from '../../src/words/read-back-words.ts';
import { shippedCase, shippedProtocol, shippedTables } from './shipped.ts';

// One press for each: what a list or a later press says tells no pace of a step.
const protocol = oneByOne(shippedProtocol());
const tables = shippedTables();
const spec = shippedCase('two-veneers');
const risk = { samples: 200, seed: 5 };

/** The record of a case whose hands take `paceFactor` times as long as the protocol plans. */
function playedAt(paceFactor: number, of: CaseFile = spec): CaseLog {
  const script = parseScriptText(
    JSON.stringify({
      format: 'lutewatch-script',
      formatVersion: 1,
      title: 'followed',
      by: 'assistant-b',
      presses: [{ at: '0 s', follow: true, paceFactor }],
    }),
  );
  if (!script.ok) throw new Error(script.error[0]?.place);
  const plan = makeRunPlan(of, protocol, tables);
  const startWallMs = 1_780_000_000_000;
  const run = rehearse({
    tell: tellReadBack,
    spec: of,
    protocol,
    protocolHash: 'hash',
    plan,
    script: script.value,
    startWallMs,
  });
  if (!run.ok) throw new Error(run.error.place);
  return run.value.log;
}

const times = <T>(count: number, one: T): readonly T[] => Array.from({ length: count }, () => one);
const played = playedAt(2);
const slowLog = recordedCase(played);
const usualLog = recordedCase(playedAt(1));
const planned = (paces: readonly RecordedPace[]) =>
  makePlan({ spec: { ...spec, paces }, protocol, tables, risk });

describe('paces learned from records', () => {
  const slow = recordedPaces(spec, protocol, times(6, slowLog));
  const usual = recordedPaces(spec, protocol, times(6, usualLog));

  test('hands that take twice the planned time are found to take twice the planned time', () => {
    // By hand: the script presses at twice the median pace of each step, so the medians are twice.
    const once = protocol.steps.filter(
      (s) => s.per === 'case' && s.action.kind === 'confirm' && slow.some((p) => p.step === s.id),
    );
    expect(once.length).toBeGreaterThan(5);
    for (const step of once) {
      const pace = slow.find((p) => p.step === step.id);
      expect([step.id, pace?.medianMs]).toEqual([step.id, 2 * step.pace.medianMs.value]);
      expect(pace?.count).toBe(6);
    }
  });

  test('the plan of a slow person gets longer, and names the own records as its source', () => {
    const base = planned([]);
    const own = planned(slow);
    expect(own.timeline.chairMs).toBeGreaterThan(1.3 * base.timeline.chairMs);
    expect(own.risk.chair.p50Ms).toBeGreaterThan(1.3 * base.risk.chair.p50Ms);
    expect(base.explanations.some((e) => e.id.startsWith('pace/'))).toBe(false);
    const told = own.explanations.filter((e) => e.id.startsWith('pace/'));
    expect(told).toHaveLength(slow.length);
    for (const e of told) {
      const count = slow.find((p) => `pace/${p.step}` === e.id)?.count;
      expect(e).toMatchObject({ decidedBy: 'own-records', source: `own records, n = ${count}` });
    }
  });

  test('people at the usual pace keep the usual plan', () => {
    const ratio = planned(usual).timeline.chairMs / planned([]).timeline.chairMs;
    expect(ratio).toBeGreaterThan(0.9);
    expect(ratio).toBeLessThan(1.1);
  });

  test('a replan in the case works at the same paces', () => {
    const openedWith = (paces: readonly RecordedPace[]) => {
      const own = { ...spec, paces };
      const plan = makeRunPlan(own, protocol, tables);
      const state = openingState({ spec: own, protocol, plan });
      return replan({ state, nowMs: 0, openingEndMs: 0, risk }).timeline.chairMs;
    };
    expect(openedWith(slow)).toBe(planned(slow).timeline.chairMs);
    expect(openedWith([])).toBe(planned([]).timeline.chairMs);
  });

  test('slow hands fit fewer units into one mix', () => {
    const eight = shippedCase('eight-upper-veneers');
    const mixes = (paces: readonly RecordedPace[]) =>
      makeRunPlan({ ...eight, paces }, protocol, tables).mixes.length;
    expect(mixes(slow)).toBeGreaterThan(mixes([]));
  });
});

describe('whose paces they are', () => {
  test('records of other people say nothing about these', () => {
    const people = spec.people.map((p) => ({ ...p, label: `${p.label} of elsewhere` }));
    expect(recordedPaces({ ...spec, people }, protocol, times(6, slowLog))).toEqual([]);
  });

  test('a step of the dentist counts as the dentist’s, though the assistant pressed', () => {
    const people = spec.people.map((p) =>
      p.role === 'assistant' ? { ...p, label: 'Assistant new' } : p,
    );
    const paces = recordedPaces({ ...spec, people }, protocol, times(6, slowLog));
    const roles = new Set(paces.map((p) => protocol.steps.find((s) => s.id === p.step)?.by));
    expect(roles).toEqual(new Set(['dentist']));
  });

  test('another protocol says nothing about this one', () => {
    expect(recordedPaces(spec, { ...protocol, id: 'another' }, times(6, slowLog))).toEqual([]);
  });
});

describe('how many are enough', () => {
  const onlyOnce = protocol.steps.findLast((s) => s.per === 'case' && s.action.kind === 'confirm');

  test('fewer times than five decide nothing', () => {
    const found = (count: number) =>
      recordedPaces(spec, protocol, times(count, slowLog)).some((p) => p.step === onlyOnce?.id);
    expect(found(OWN_PACE_COUNT_MIN - 1)).toBe(false);
    expect(found(OWN_PACE_COUNT_MIN)).toBe(true);
  });

  test('a file that claims too few, or a step that is not there, changes nothing', () => {
    const step = onlyOnce?.id ?? '';
    const few = { step, medianMs: 999_000, p90Ms: 999_000, count: OWN_PACE_COUNT_MIN - 1 };
    const stray = { ...few, step: 'no-such-step', count: 50 };
    expect(ownPaces({ ...spec, paces: [few, stray] }, protocol)).toEqual({});
    expect(planned([few, stray]).timeline).toEqual(planned([]).timeline);
  });
});

describe('before a case is planned', () => {
  const entry = { protocol, hash: 'hash', approval: null, origin: 'own' } as const;

  /** A tablet with so many records of the slow case, of one mode, closed or not. */
  function tabletWith(o: {
    readonly records: number;
    readonly mode?: 'patient' | 'rehearsal';
    readonly isClosed?: boolean;
  }) {
    const { mode = 'patient', isClosed = true } = o;
    let reads = 0;
    const cases = Array.from({ length: o.records }, (_, i) => ({
      caseId: `${mode} ${isClosed} ${i}`,
      head: `head ${i}`,
      mode,
      openedWallMs: i,
      closedByPress: isClosed ? 9 : null,
    }));
    // Only what is looked at: a whole session would need a journal and clocks.
    const session = {
      store: { getState: () => ({ cases, protocols: [entry] }) },
      readCase: async () => {
        reads += 1;
        return { ok: true, value: { log: played } };
      },
    } as unknown as Parameters<typeof withOwnPaces>[0];
    return { session, reads: () => reads };
  }

  test('closed patient cases give it their paces; each is read once in a window', async () => {
    const { session, reads } = tabletWith({ records: 6 });
    const own = await withOwnPaces(session, spec);
    expect(own.paces).toEqual(recordedPaces(spec, protocol, times(6, slowLog)));
    expect(await withOwnPaces(session, own)).toBe(own);
    expect(reads()).toBe(6);
  });

  test.each([
    { records: 0 },
    { records: 6, mode: 'rehearsal' as const },
    { records: 6, isClosed: false },
  ])('nothing is taken from %o', async (tablet) => {
    expect(await withOwnPaces(tabletWith(tablet).session, spec)).toBe(spec);
  });
});
