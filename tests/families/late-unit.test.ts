/**
 * A unit that falls or will not go down while cement is out does not hold the others back: they go on
 * with that cement and keep its working time. Common practice, no source.
 */
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { waysBackNow } from '../../src/engine/ways-back.ts';
import { caseNamed, FamilyChair, protocolNamed } from './family-chair.ts';

function chairOf(id: string): FamilyChair {
  const spec = caseNamed(id);
  return new FamilyChair({ spec, protocol: protocolNamed(spec.protocol) });
}

function until(chair: FamilyChair, id: string): FamilyChair {
  for (let i = 0; i < 1500 && chair.view.offers[0]?.id !== id; i++) {
    if (chair.next() === null) throw new Error(`never offered: ${id}`);
  }
  return chair;
}

function take(chair: FamilyChair, mishap: string, unit: string): void {
  const offer = waysBackNow(chair.log.state, layoutOf(chair.log.state)).find(
    ({ wayBack, subjects }) =>
      wayBack.mishap === mishap && wayBack.per === 'unit' && subjects.includes(unit),
  );
  if (!offer) throw new Error(`no way back for ${mishap} of ${unit}`);
  const { id, mishap: kind } = offer.wayBack;
  const no = chair.do({
    do: 'take-way-back',
    wayBack: id,
    mishap: kind,
    subjects: [unit],
    reason: 'it fell on the bib',
  });
  expect(no).toBeNull();
}

/** Which unit is seated next, and with which portion. */
function seatedFrom(chair: FamilyChair): string[] {
  const seen: string[] = [];
  for (let i = 0; i < 600 && seen.length < 4; i++) {
    const id = chair.next()?.id ?? '';
    if (/ (load|seat|cement-started) /.test(id)) seen.push(id);
  }
  return seen;
}

const lateClocks = (chair: FamilyChair): string[] =>
  chair.log.state.breaches
    .filter(({ of, kind }) => of === 'cement-open' && kind === 'late')
    .map(({ subject }) => subject);

describe('eight veneers, one of a mix of four falls', () => {
  const chair = chairOf('eight-upper-veneers');
  const { plan } = chair.log.state;
  const mixes = [plan.order.slice(0, 4), plan.order.slice(4)];
  chair.do({ do: 'change-plan', plan: { ...plan, mixes }, reason: 'a slower paste' });
  const clock = (c: FamilyChair) => c.view.clocks.find(({ of }) => of === 'cement-open');
  const kept = until(chair, 'confirm seat unit:12');
  const at = { log: kept.log, atMs: kept.atMs };

  it('lets the fourth be loaded from the same cement, whose clock is kept', () => {
    const fell = FamilyChair.from(at);
    const before = clock(fell);
    take(fell, 'unit-dropped', 'unit:12');
    // A loose unit can be swallowed: it is looked for before anything else.
    expect(fell.next()?.id).toBe('confirm unit-found unit:12');
    expect(fell.view.offers[0]?.id).toBe('confirm load unit:22');
    expect(clock(fell)?.elapsed.loMs).toBeGreaterThan(before?.elapsed.loMs ?? 0);
    expect(fell.log.state.plan.mixes[0]).toEqual(['11', '21', '22']);
    expect(seatedFrom(fell).slice(0, 2)).toEqual(['confirm load unit:22', 'confirm seat unit:22']);
    expect(lateClocks(fell)).toEqual([]);
  });

  it('seats the late one after them with a portion of its own', () => {
    const fell = FamilyChair.from(at);
    take(fell, 'unit-dropped', 'unit:12');
    const later = seatedFrom(fell).slice(2);
    expect(later).toEqual(['confirm cement-started mix:3', 'confirm load unit:12']);
  });

  it('says why in the log and takes all of it back with one undo', () => {
    const fell = FamilyChair.from(at);
    const before = fell.log.state;
    take(fell, 'unit-will-not-seat', 'unit:12');
    expect(fell.log.records.at(-1)?.event).toMatchObject({
      type: 'mix-added',
      units: ['12'],
      reason: 'it fell on the bib',
    });
    expect(fell.do({ do: 'undo' })).toBeNull();
    expect(fell.log.state.plan).toEqual(before.plan);
    expect(fell.log.state.runs).toEqual(before.runs);
  });

  it('gives the last of a mix its own where the working time is too short for it', () => {
    const last = chairOf('eight-upper-veneers');
    last.do({ do: 'change-plan', plan: { ...plan, mixes }, reason: 'a slower paste' });
    until(last, 'confirm seat unit:22');
    take(last, 'unit-will-not-seat', 'unit:22');
    expect(last.log.state.plan.mixes).toEqual([['11', '21', '12'], plan.order.slice(4), ['22']]);
    expect(last.toTheEnd().close()).toBeNull();
    expect(lateClocks(last)).toEqual([]);
  });

  it('changes no plan for the last unit, when nobody waits for the cement', () => {
    const alone = chairOf('onlay-and-crown');
    until(alone, 'confirm seat unit:36');
    take(alone, 'unit-dropped', 'unit:36');
    expect(alone.log.state.plan.mixes).toEqual([['36'], ['35']]);
  });
});

describe('cement that stays in the unit', () => {
  it('stays with its portion, whose working time is watched on', () => {
    const chair = chairOf('two-veneers');
    until(chair, 'confirm seat unit:11');
    const { mixes } = chair.log.state.plan;
    const offer = waysBackNow(chair.log.state, layoutOf(chair.log.state)).find(
      ({ wayBack, subjects }) =>
        wayBack.per === 'tooth' && wayBack.mishap === 'blood' && subjects.includes('tooth:11'),
    );
    const { id, mishap } = present(offer, 'blood on the adhesive').wayBack;
    const taken = { wayBack: id, mishap, subjects: ['tooth:11'], reason: 'blood' } as const;
    expect(chair.do({ do: 'take-way-back', ...taken })).toBeNull();
    expect(chair.log.state.runs['load@unit:11']).toBeDefined();
    expect(chair.log.state.plan.mixes).toEqual(mixes);
    expect(chair.view.attention.working?.subjects).toContain('tooth:11');
  });
});

describe('two veneers of one portion', () => {
  it('parts them: the other goes on, the late one comes after it with its own', () => {
    const chair = chairOf('two-veneers');
    until(chair, 'confirm seat unit:11');
    take(chair, 'unit-will-not-seat', 'unit:11');
    expect(chair.log.state.plan).toMatchObject({ order: ['21', '11'], mixes: [['21'], ['11']] });
    chair.toTheEnd();
    expect(lateClocks(chair)).toEqual([]);
  });
});
