/** A visit that ends early: one press leaves everything that is unfinished, then the case is signed. */
import { describe, expect, it } from 'vitest';
import { signingStep, unfinished } from '../../src/engine/stop-visit.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { recordText } from '../../src/export/record-text.ts';
import { sourceOf } from '../export/journals.ts';
import { FAMILIES, type Family, FamilyChair } from '../families/family-chair.ts';

const all = Object.keys(FAMILIES) as Family[];

/** The family after so many presses; where the light is on, after the press that ends it. */
function played(family: Family, presses: number): FamilyChair {
  const chair = FamilyChair.of(family, 1);
  for (let i = 0; i < presses; i += 1) chair.next();
  while (Object.values(chair.log.state.runs).some((run) => run.lit)) chair.next();
  return chair;
}

describe.each(all)('%s, stopped early', (family) => {
  it.each([1, 12, 25])('after %i presses leaves the signature alone, then closes', (presses) => {
    const chair = played(family, presses);
    if (unfinished(chair.log.state).length === 0) return;
    const before = chair.log.state.runs;
    expect(chair.do({ do: 'stop-visit', reason: 'the patient is unwell' })).toBeNull();
    expect(unfinished(chair.log.state)).toEqual([]);
    const signing = signingStep(chair.log.state.opened.protocol);
    expect(chair.view.offers.map((o) => o.step)).toEqual(signing ? [signing.id] : []);
    for (const [key, run] of Object.entries(before)) {
      if (run.status !== 'running') expect(chair.log.state.runs[key]).toEqual(run);
    }
    const kept = chair.log;
    chair.do({ do: 'undo' });
    expect(chair.log.state.runs).toEqual(before);
    chair.log = kept;
    chair.toTheEnd();
    expect(chair.close()).toBeNull();
  });
});

describe('the record of a visit that was stopped', () => {
  const chair = played('veneers, etch-and-rinse', 25);
  chair.do({ do: 'stop-visit', reason: 'the patient is unwell' });
  const facts = recordFacts(sourceOf(chair.log));

  it('has the reason, what was left, and what the protocol proposes where the work stands', () => {
    expect(facts.stopped?.reason).toBe('the patient is unwell');
    expect(facts.stopped?.left.length).toBeGreaterThan(3);
    expect(facts.stopped?.proposals[0]?.words.length).toBeGreaterThan(10);
    const text = recordText(facts);
    expect(text).toContain('Stopped early');
    expect(text).toContain(`the protocol proposes: `);
    expect(text).toContain(facts.stopped?.proposals[0]?.words ?? 'nothing');
  });

  it('needs a reason, and light that is off', () => {
    const other = played('veneers, etch-and-rinse', 3);
    expect(other.do({ do: 'stop-visit', reason: ' ' })?.code).toBe('reason-missing');
    while (!Object.values(other.log.state.runs).some((run) => run.lit)) other.next();
    expect(other.do({ do: 'stop-visit', reason: 'late' })?.code).toBe('light-is-on');
  });
});
