/** From the first coat to the last surface, the clocks and the amber screen go with the resin. */
import { describe, expect, it } from 'vitest';
import { layoutOf } from '../../src/engine/layout.ts';
import { type Family, FamilyChair, SEATING } from './family-chair.ts';

/** Steps with uncured resin in the mouth or under the lamp; common practice, no source. */
const FROM: Readonly<Record<string, string>> = { 'veneers, etch-and-rinse': 'coats' };
const UNTIL = 'gel-rinsed';

function whileAmber(family: Family) {
  const chair = FamilyChair.of(family, 2);
  const seen: (readonly [step: string, amber: boolean])[] = [];
  do {
    const { offers, amber } = chair.view;
    seen.push([offers[0]?.step ?? '', amber]);
  } while (chair.next() !== null);
  return seen;
}

describe.each(SEATING)('the screen on %s', (family) => {
  it('is amber without a break while resin is exposed, and not before or after', () => {
    const seen = whileAmber(family);
    const steps = seen.map(([step]) => step);
    const first = steps.indexOf(FROM[family] ?? 'bond');
    const last = steps.indexOf(UNTIL);
    expect(first).toBeGreaterThan(0);
    expect(seen.slice(first, last).filter(([, amber]) => !amber)).toEqual([]);
    expect(seen.slice(last).filter(([, amber]) => amber)).toEqual([]);
    expect(seen.slice(0, steps.indexOf('etch')).filter(([, amber]) => amber)).toEqual([]);
  });

  it('keeps the working time of the cement also when nobody lays a bead', () => {
    const chair = FamilyChair.of(family, 2);
    while (chair.view.offers[0]?.step !== 'sample-bead') chair.next();
    const mix = layoutOf(chair.log.state).subjects.order.mix.slice(0, 1);
    const skip = { do: 'skip', step: 'sample-bead', subjects: mix } as const;
    expect(chair.do({ ...skip, reason: 'no pad on the tray' })).toBeNull();
    const clock = chair.view.clocks.find((c) => c.of === 'cement-open');
    expect(clock?.elapsed.hiMs).toBe(0);
    chair.atMs += 3_600_000;
    chair.toTheEnd();
    const late = chair.log.state.breaches.filter((b) => b.of === 'cement-open');
    expect(late.map((b) => b.kind)).toContain('late');
  });
});
