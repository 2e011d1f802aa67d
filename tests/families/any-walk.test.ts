/**
 * Whatever people do in whatever kind of case, with mishaps, undos, skips, swaps, hours of waiting
 * and restarts: no unit is lost, nothing is skipped or taken back without its reason, what was taken
 * back is asked for again, and the case can be closed by pressing what is offered. fast-check prints
 * seed and path of a failing walk. PROPERTY_SCALE=20 walks twenty times as often.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Command } from '../../src/engine/commands.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { type CaseLog, replay } from '../../src/engine/log.ts';
import { StatusReader } from '../../src/engine/status.ts';
import type { CaseState } from '../../src/engine/types.ts';
import type { Chair } from '../engine/chair.ts';
import { follow, startsOf, strides, walk } from '../engine/walks.ts';
import { SHAPES, settingOf } from './any-case.ts';

const SCALE = Number(process.env['PROPERTY_SCALE'] ?? 1);
const HOUR_MS = 3_600_000;

/** The order of seating is turned round, or a unit is set aside: the walks do the rest. */
function alsoDone(chair: Chair, pick: number): Command | null {
  const { plan } = chair.log.state;
  const unit = plan.order[pick % plan.order.length] ?? '';
  if (pick % 5 === 0) return { do: 'set-aside', unit, reason: 'cracked' };
  const order = plan.order.toReversed();
  const mixes = plan.mixes.map((mix) => mix.toReversed());
  return pick % 5 === 1
    ? { do: 'change-plan', plan: { ...plan, order, mixes }, reason: 'so' }
    : null;
}

function unitsOf({ opened, plan }: CaseState) {
  const wanted = opened.spec.units.map((u) => u.id).toSorted();
  expect([...plan.order].toSorted()).toEqual(wanted);
  if (plan.mixes.length > 0) expect(plan.mixes.flat().toSorted()).toEqual(wanted);
}

function reasonsOf({ records, state }: CaseLog) {
  const skipped = Object.values(state.runs).filter((run) => run.status === 'skipped');
  expect(skipped.filter((run) => !run.reason?.trim())).toEqual([]);
  expect(state.voided.filter((v) => v.reason.trim() === '')).toEqual([]);
  const holds = state.opened.protocol.windows.filter((w) => w.protects === 'hold').map((w) => w.id);
  const early = state.breaches.filter((b) => b.kind === 'early' && holds.includes(b.of));
  const said = records.filter((r) => r.event.type === 'note-added').map((r) => r.press);
  expect(early.filter((b) => !said.includes(b.press))).toEqual([]);
}

/** What a way back took is open or waits, and nothing else is gone. */
function takenBack(before: CaseLog, { records, state }: CaseLog) {
  const event = records.at(-1)?.event;
  if (event?.type !== 'way-back-taken') return;
  const layout = layoutOf(state);
  const statuses = new StatusReader(state, layout);
  const asked = event.voided.map((key) => {
    const instance = layout.byKey.get(key);
    return instance ? statuses.of(instance) : 'unknown';
  });
  expect(asked.filter((s) => !['open', 'blocked', 'not-applicable'].includes(s))).toEqual([]);
  const gone = Object.keys(before.state.runs).filter((key) => !(key in state.runs));
  expect(gone.toSorted()).toEqual([...event.voided].toSorted());
}

describe.each(SHAPES)('%s', (_, family, units) => {
  const start = startsOf(settingOf(family, units));

  it(
    'keeps units, reasons and what is to be done again on every walk, and can be closed',
    () => {
      const walks = fc.record({
        presses: fc.nat(150),
        list: strides(25),
        more: fc.array(fc.nat(999), { maxLength: 3 }),
        hours: fc.nat(30),
      });
      fc.assert(
        fc.property(walks, ({ presses, list, more, hours }) => {
          const chair = start(presses);
          for (const pick of more) {
            const command = alsoDone(chair, pick);
            if (command) chair.do(command);
          }
          chair.at(chair.trueMs + hours * HOUR_MS);
          walk(chair, list, ({ log }, before) => {
            unitsOf(log.state);
            reasonsOf(log);
            takenBack(before, log);
          });
          if (chair.log.state.closed) return;
          follow(chair, 600);
          expect(chair.view.offers.map((o) => o.id)).toEqual([]);
          expect(chair.do({ do: 'close', by: 'dentist-a', role: 'dentist' })).toBeNull();
          const stored = JSON.parse(JSON.stringify(chair.log.records)) as typeof chair.log.records;
          expect(replay(stored).state).toEqual(chair.log.state);
        }),
        { numRuns: 12 * SCALE },
      );
    },
    60_000 * SCALE,
  );
});
