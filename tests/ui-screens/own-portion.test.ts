/** A portion of cement of its own for a unit that is late: common practice, no source. */
import { describe, expect, it } from 'vitest';
import { sharesMix } from '../../src/ui/chair/at-hand-model.ts';
import { FamilyChair } from '../families/family-chair.ts';

describe('the seating order', () => {
  it('gives a unit that fell a portion of its own, so that the others go on', () => {
    const chair = FamilyChair.of('veneers, universal');
    while (chair.view.offers[0]?.id !== 'confirm seat unit:21') chair.next();
    const [shared = []] = chair.log.state.plan.mixes;
    expect(shared).toContain('21');
    expect(['11', '21'].map((unit) => sharesMix(chair, unit))).toEqual([false, false]);
    const fell = { wayBack: 'unit-dropped', mishap: 'unit-dropped' } as const;
    const reason = 'it fell on the bib';
    expect(chair.do({ do: 'take-way-back', ...fell, subjects: ['unit:21'], reason })).toBeNull();
    // The same press gives it the portion, so there is none left to ask for.
    expect(chair.log.state.plan.mixes).toContainEqual(['21']);
    expect(['11', '21'].map((unit) => sharesMix(chair, unit))).toEqual([false, false]);
    // The others of the mix are loaded, seated and tacked before the unit is ready again.
    expect(chair.view.offers.map((o) => o.id)).toContain('confirm load unit:12');
  });

  it('can be asked for by hand before anything went wrong', () => {
    const chair = FamilyChair.of('veneers, universal');
    while (chair.view.offers[0]?.id !== 'confirm load unit:21') chair.next();
    expect(sharesMix(chair, '21')).toBe(true);
    expect(chair.do({ do: 'add-mix', units: ['21'], reason: 'a slow hand' })).toBeNull();
    expect(sharesMix(chair, '21')).toBe(false);
  });
});
