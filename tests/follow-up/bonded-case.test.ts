/**
 * What a case bonded, of every family that ships, played press by press. Windows are held against those of
 * the record, which finds its units by their teeth.
 */
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { type CaseLog, replay } from '../../src/engine/log.ts';
import { bondedCase } from '../../src/export/bonded-case.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import type { BondedCase } from '../../src/outcomes/follow-up-types.ts';
import {
  caseIn,
  FAMILIES,
  type Family,
  FamilyChair,
  protocolNamed,
  SEATING,
} from '../families/family-chair.ts';
import { isLong } from '../tools/run-size.ts';

/** The same case as one on a patient: a chair of the tests rehearses. */
function asPatient({ records }: CaseLog, zone?: string): CaseLog {
  return replay(
    records.map((recorded) => {
      const { event } = recorded;
      if (event.type !== 'case-opened') return recorded;
      const opened = {
        ...event,
        mode: 'patient' as const,
        ...(zone === undefined ? {} : { zone }),
      };
      return { ...recorded, event: opened };
    }),
  );
}

const bonded = (chair: FamilyChair, zone?: string): BondedCase | null =>
  bondedCase(asPatient(chair.log, zone), {});

const closed = (chair: FamilyChair): FamilyChair => {
  expect(chair.toTheEnd().close()).toBeNull();
  return chair;
};

/** Plays until a step is offered next. */
function until(chair: FamilyChair, step: string): FamilyChair {
  for (let n = 0; n < 1500 && chair.view.offers[0]?.step !== step; n += 1) {
    if (chair.next() === null) throw new Error(`never offered: ${step}`);
  }
  return chair;
}

const SINGLE: Family = 'veneers, universal';

/** The long run plays all of them. */
const PLAYED: readonly Family[] = isLong ? SEATING : [SINGLE, 'zirconia'];

describe.each(PLAYED)('%s', (family) => {
  const chair = closed(FamilyChair.of(family, undefined, 'as-shipped'));
  const { spec, protocol } = chair.log.state.opened;
  const found = present(bonded(chair), 'what it bonded');

  it('bonds every unit of the case, on the teeth that carry it', () => {
    expect(found.units.map(({ unit }) => unit)).toEqual(spec.units.map(({ id }) => id));
    const pontics = spec.units.flatMap((unit) => unit.pontics ?? []);
    const teeth = found.units.flatMap((unit) => unit.teeth);
    expect(teeth.filter((tooth) => pontics.includes(tooth))).toEqual([]);
    expect(teeth).toEqual(
      spec.units.flatMap((unit) => unit.teeth).filter((tooth) => !pontics.includes(tooth)),
    );
    expect(found).toMatchObject({
      patient: spec.chartRef,
      bondedOn: '2026-11-30',
      protocol: { id: protocol.id, revision: protocol.revision, hash: 'hash' },
      people: spec.people.map(({ role, label }) => ({ role, label })),
    });
  });

  it('tells every limit of its record for the unit, and no better than that', () => {
    const verification = { goodCount: 0, firstBad: null };
    const facts = recordFacts({ log: asPatient(chair.log), entries: [], verification });
    for (const { unit, teeth, limits } of found.units) {
      const own = facts.windows.filter((w) => w.teeth.some((tooth) => teeth.includes(tooth)));
      const told = limits.filter(({ limit }) => limit.startsWith('window/'));
      expect(told.map(({ limit }) => limit).toSorted(), unit).toEqual(
        [...new Set(own.map((w) => `window/${w.window}`))].toSorted(),
      );
      for (const { limit, state } of told) {
        const states = new Set(
          own.filter((w) => `window/${w.window}` === limit).map((w) => w.state),
        );
        const isOpen = states.has('open') || states.has('may-be-broken');
        const want = states.has('broken') ? 'broken' : isOpen ? 'cannot-tell' : 'kept';
        expect(`${unit} ${limit} ${state}`).toBe(`${unit} ${limit} ${want}`);
      }
      const dwells = facts.steps.filter(
        (s) =>
          s.action === 'dwell' &&
          (s.asked.minMs !== null || s.asked.maxMs !== null) &&
          s.teeth.some((tooth) => teeth.includes(tooth)),
      );
      expect(new Set(limits.map(({ limit }) => limit))).toEqual(
        new Set([...limits.map(({ limit }) => limit), ...dwells.map((s) => `step/${s.step}`)]),
      );
    }
  });

  it('is the same again from the same log', () => {
    expect(bonded(chair)).toEqual(found);
  });
});

describe('a visit that seats nothing', () => {
  it.each(['preparation', 'finishing'] as const)('bonds nothing: %s', (family) => {
    const chair = closed(FamilyChair.of(family, undefined, 'as-shipped'));
    expect(bonded(chair)).toBeNull();
    expect(Object.keys(FAMILIES)).toEqual([...SEATING, 'preparation', 'finishing']);
  });
});

describe('a case that bonds for nobody', () => {
  it('is a rehearsal, or is not signed', () => {
    const chair = FamilyChair.of(SINGLE, 1, 'as-shipped').toTheEnd();
    expect(bonded(chair)).toBeNull();
    expect(chair.close()).toBeNull();
    expect(bondedCase(chair.log, {})).toBeNull();
    expect(bonded(chair)).not.toBeNull();
  });
});

describe('a unit that is set aside', () => {
  it.each(isLong ? ['load', 'excess'] : ['excess'])(
    'before %s is not bonded; the others are',
    (step) => {
      const chair = until(FamilyChair.of(SINGLE, 2), step);
      const unit = present(chair.log.state.plan.order[0], 'unit');
      expect(chair.do({ do: 'set-aside', unit, reason: 'cracked' })).toBeNull();
      const found = present(bonded(closed(chair)), 'what it bonded');
      expect(found.units.map((u) => u.unit)).toEqual([chair.log.state.plan.order[1]]);
    },
  );

  it('is not one of which a step is skipped by itself', () => {
    const chair = until(FamilyChair.of(SINGLE, 1), 'flash-off');
    const unit = present(chair.log.state.plan.order[0], 'unit');
    const skip = {
      do: 'skip',
      step: 'flash-off',
      subjects: [`unit:${unit}`],
      reason: 'none',
    } as const;
    expect(chair.do(skip)).toBeNull();
    expect(bonded(closed(chair))?.units).toHaveLength(1);
  });
});

describe('a visit that was stopped', () => {
  const stops = [
    ['excess', 0],
    ['glycerine', 2],
    ['seat', 0],
  ] as const;
  it.each(stops.slice(0, isLong ? 3 : 2))(
    'before %s has bonded what light fell on',
    (step, count) => {
      const chair = until(FamilyChair.of(SINGLE, 2), step);
      expect(chair.do({ do: 'stop-visit', reason: 'unwell' })).toBeNull();
      const found = bonded(closed(chair));
      expect(found?.units.length ?? 0).toBe(count);
    },
  );
});

describe('limits of a unit', () => {
  const stateOf = (chair: FamilyChair, limit: string): string | undefined =>
    bonded(closed(chair))?.units[0]?.limits.find((each) => each.limit === limit)?.state;

  it('kept, broken by a wait, and not to be told after a time in which no clock was watched', () => {
    const limit = 'window/cement-open';
    const begin = () => until(FamilyChair.of(SINGLE, 1), 'seat');
    expect(stateOf(begin(), limit)).toBe('kept');
    const late = begin();
    late.atMs += 3_600_000;
    expect(stateOf(late, limit)).toBe('broken');
    const slept = begin();
    slept.sleep(3_600_000);
    expect(stateOf(slept, limit)).toBe('cannot-tell');
  });

  it('of a dwell that went on for too long, or for nobody knows how long', () => {
    const limit = 'step/etch';
    const begin = () => {
      const chair = until(FamilyChair.of(SINGLE, 1), 'etch');
      chair.next();
      return chair;
    };
    expect(stateOf(begin(), limit)).toBe('kept');
    const late = begin();
    late.atMs += 600_000;
    expect(stateOf(late, limit)).toBe('broken');
    const slept = begin();
    slept.sleep(600_000);
    expect(stateOf(slept, limit)).toBe('cannot-tell');
  });
});

describe('the day of the bonding', () => {
  it('is the one in the zone of the case', () => {
    const whole = caseIn('demo-data/cases', 'two-veneers');
    const protocol = protocolNamed(whole.protocol);
    const chair = closed(new FamilyChair({ spec: whole, protocol }, Date.UTC(2026, 10, 30, 20)));
    expect(bonded(chair, 'Europe/Lisbon')?.bondedOn).toBe('2026-11-30');
    expect(bonded(chair, 'Asia/Tokyo')?.bondedOn).toBe('2026-12-01');
    expect(bondedCase(asPatient(chair.log), { clinicZone: 'Asia/Tokyo' })?.bondedOn).toBe(
      '2026-12-01',
    );
  });
});
