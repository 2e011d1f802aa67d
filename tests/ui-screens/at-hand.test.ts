/** What is one tap away while cement is out. Probing once a minute: common practice, no source. */
import { describe, expect, it } from 'vitest';
import { atHand, PROBE_EVERY_MS } from '../../src/ui/chair/at-hand-model.ts';
import { moveEarlier } from '../../src/ui/chair/order-model.ts';
import { namingOf } from '../../src/ui/shared/arch-model.ts';
import { pressWords } from '../../src/words/offer-words.ts';
import { type Family, FamilyChair } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';

function playedTo(family: Family, step: string, subject: string): FamilyChair {
  const chair = FamilyChair.of(family);
  for (let i = 0; i < 300; i++) {
    const top = chair.view.offers[0];
    if (top?.step === step && top.subjects.includes(subject)) return chair;
    chair.next();
  }
  throw new Error(`never offered ${step} ${subject}`);
}

const at = (chair: FamilyChair) => atHand(runningOf(chair));

describe('at hand', () => {
  it('is what is likely to have gone wrong where neither bead nor order is wanted', () => {
    const named = (chair: FamilyChair) => {
      const { beads = [], mishaps = [], swap = null } = at(chair) ?? {};
      expect([beads, swap]).toEqual([[], null]);
      return mishaps.map((m) => [m.wayBack.mishap, ...m.subjects]);
    };
    expect(named(playedTo('veneers, universal', 'tack', 'tooth:11'))).toEqual([
      ['light-failed', 'case'],
      ['unit-will-not-seat', 'unit:11'],
    ]);
    const coats = playedTo('veneers, etch-and-rinse', 'coats', 'tooth:11');
    expect(named(coats).map(([mishap]) => mishap)).toEqual(['saliva', 'blood']);
  });

  it('has what may have befallen a unit or a tooth also while something for all is in hand', () => {
    const chair = playedTo('veneers, universal', 'adhesive-out', 'case');
    const named = (at(chair)?.mishaps ?? []).map(({ wayBack }) => wayBack.mishap);
    expect(named).toEqual(['saliva', 'blood']);
  });

  it('is nothing while nothing can have gone wrong', () => {
    expect(at(FamilyChair.of('veneers, universal'))).toBeNull();
  });

  it('says nothing of a bead that the bar still asks for', () => {
    const chair = playedTo('veneers, universal', 'sample-bead', 'mix:1');
    expect(at(chair)?.beads).toEqual([]);
    chair.next();
    expect(at(chair)?.beads).toHaveLength(1);
  });

  it('asks for the bead once a minute, and no more once it is firm', () => {
    const chair = playedTo('veneers, universal', 'load', 'unit:11');
    const bead = () => at(chair)?.beads[0];
    const made = bead()?.sinceMs ?? 0;
    chair.atMs += PROBE_EVERY_MS - made - 1;
    expect([bead()?.isDue, bead()?.isProbed]).toEqual([false, false]);
    chair.atMs += 1;
    expect(bead()?.isDue).toBe(true);
    expect(chair.do({ do: 'probe-bead', mix: 'mix:1', found: 'stringy' })).toBeNull();
    expect([bead()?.isDue, bead()?.isProbed, bead()?.sinceMs]).toEqual([false, true, 0]);
    chair.do({ do: 'probe-bead', mix: 'mix:1', found: 'firm' });
    expect(at(chair)?.beads).toEqual([]);
  });

  it('has the unit in hand that will not go down or fell, and its way back takes one command', () => {
    const chair = playedTo('veneers, universal', 'seat', 'unit:21');
    const mishaps = at(chair)?.mishaps ?? [];
    expect(mishaps.map((m) => [...m.subjects, m.wayBack.mishap])).toEqual([
      ['unit:21', 'unit-dropped'],
      ['unit:21', 'unit-will-not-seat'],
    ]);
    const high = mishaps[1]?.wayBack;
    const taken = { wayBack: high?.id ?? '', mishap: 'unit-will-not-seat' } as const;
    const reason = high?.title ?? '';
    expect(chair.do({ do: 'take-way-back', ...taken, subjects: ['unit:21'], reason })).toBeNull();
    expect(chair.log.state.runs['load@unit:21']).toBeUndefined();
    // Wiped out before it is primed and loaded again; meanwhile the others keep their cement.
    const ids = chair.view.offers.map(({ id }) => id);
    expect(ids).toContain('confirm wiped-out unit:21');
    expect(ids).not.toContain('start primer unit:21');
    expect(chair.view.offers[0]).toMatchObject({ step: 'load', subjects: ['unit:12'] });
    // Undo names the way back, not its plan.
    const { records } = chair.log;
    const last = records.filter((r) => r.press === records.at(-1)?.press).map((r) => r.event);
    expect(last.length).toBeGreaterThan(1);
    expect(pressWords(last, namingOf(runningOf(chair)))).toContain('21');
  });

  it('does not put a unit that is late before the others', () => {
    const chair = playedTo('veneers, etch-and-rinse', 'seat', 'unit:21');
    const high = at(chair)?.mishaps.find((m) => m.wayBack.mishap === 'unit-will-not-seat')?.wayBack;
    const id = high?.id ?? '';
    const taken = { wayBack: id, mishap: 'unit-will-not-seat', subjects: ['unit:21'] } as const;
    expect(chair.do({ do: 'take-way-back', ...taken, reason: 'high' })).toBeNull();
    const { order } = chair.log.state.plan;
    expect(order.indexOf('21')).toBeGreaterThan(order.indexOf('12'));
    expect(Object.values(at(chair)?.swap ?? {})).not.toContain('21');
  });

  it('swaps the next two units of a mix that are not loaded, with one command', () => {
    const chair = playedTo('veneers, universal', 'load', 'unit:21');
    expect(at(chair)?.swap).toEqual({ first: '21', second: '12' });
    const plan = moveEarlier(chair.log.state.plan, '12');
    expect(chair.do({ do: 'change-plan', plan, reason: 'swapped' })).toBeNull();
    expect(chair.view.offers[0]).toMatchObject({ step: 'load', subjects: ['unit:12'] });
    expect(at(playedTo('veneers, universal', 'load', 'unit:22'))?.swap).toBeNull();
  });
});
