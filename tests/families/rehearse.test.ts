/** Each family played from opening to close by pressing what is offered, at its own pace. */
import { afterAll, describe, expect, it } from 'vitest';
import { FAMILIES, type Family, FamilyChair } from './family-chair.ts';

/** Presses that people make at most; a family that grows beyond asks for a look. */
const PRESSES_MAX: Readonly<Record<Family, number>> = {
  // Unit by unit: excess, lifted gel and each contact are a press of their own.
  'veneers, etch-and-rinse': 95,
  'veneers, universal': 130,
  // Provisionals, two clocks on dentine, adhesive exposed, excess and each contact unit by unit.
  'glass-ceramic': 100,
  zirconia: 100,
  composite: 100,
  preparation: 35,
  finishing: 40,
};

const counted: string[] = [];
afterAll(() => console.info(counted.join('\n')));

describe.each(Object.keys(FAMILIES) as Family[])('%s', (family) => {
  const chair = FamilyChair.of(family, undefined, 'as-shipped').toTheEnd();
  const { state } = chair.log;

  it('ends finished and can be closed', () => {
    expect(chair.view.finished).toBe(true);
    expect(chair.close()).toBeNull();
  });

  it('breaks no bound when it is kept at its pace', () => {
    expect(state.breaches).toEqual([]);
    expect(state.voided).toEqual([]);
  });

  it('asks for a number of presses that people can make', () => {
    const units = state.opened.spec.units.length;
    const minutes = Math.round(chair.atMs / 60_000);
    counted.push(`${family}: ${units} units, ${chair.presses} presses, ${minutes} min`);
    expect(chair.presses).toBeLessThanOrEqual(PRESSES_MAX[family]);
  });

  it('records a value, not a tick, for everything that is read back', () => {
    const read = state.opened.protocol.steps.filter(
      (s) => s.action.kind === 'confirm' && s.action.evidence?.kind === 'read-back',
    );
    expect(read.length).toBeGreaterThan(0);
    const runs = Object.entries(state.runs);
    const silent = read.filter((s) =>
      // What a later press says was read with the portion that it belongs to.
      runs.some(
        ([key, run]) => key.startsWith(`${s.id}@`) && !run.evidence && run.pressed !== 'implied',
      ),
    );
    expect(silent.map((s) => s.id)).toEqual([]);
  });
});

describe('a wing bridge', () => {
  const chair = FamilyChair.of('zirconia');

  it('is bonded to its abutment only, and has no contact inside itself', () => {
    // 13 carries the wing, 12 is the pontic: the outer contacts are 14-13 and 12-11.
    chair.toTheEnd();
    const { runs } = chair.log.state;
    expect(runs['etch@tooth:13']?.status).toBe('done');
    expect(runs['etch@tooth:12']).toBeUndefined();
    const flossed = Object.keys(runs).filter((key) => key.startsWith('contacts-flossed@'));
    expect(flossed.toSorted()).toEqual([
      'contacts-flossed@contact:12-11',
      'contacts-flossed@contact:14-13',
      'contacts-flossed@contact:15-14',
      'contacts-flossed@contact:16-15',
    ]);
  });
});
