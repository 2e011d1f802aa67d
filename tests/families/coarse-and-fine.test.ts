/**
 * The same simulated appointment pressed as it ships and pressed one by one: the two records never
 * contradict each other, and what the first says of a limit is true of the instants at which everything
 * really happened. Measured by interval arithmetic; the true instants are drawn, so they are known.
 */
import { afterAll, describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { earliestMs, latestMs } from '../../src/engine/axis.ts';
import { type CaseLog, replay } from '../../src/engine/log.ts';
import type { Breach, CaseEvent, CaseInstant, CaseState } from '../../src/engine/types.ts';
import { runSeed, runSize } from '../tools/run-size.ts';
import { FAMILIES, type Family } from './family-chair.ts';
import { Appointment } from './simulated.ts';

const APPOINTMENTS = runSize({ long: 10_000, part: 70 });

const limitOf = ({ of, what, subject, kind }: Breach): string => `${kind} ${what} ${of} ${subject}`;

/** Light is credited by the press in one and by its confirmation in the other; its limits are compared apart. */
const limitsOf = (breaches: readonly Breach[]) =>
  new Map(breaches.map((breach) => [limitOf(breach), breach]));

/** What the coarse record says of a limit that is not true. */
function lies(coarse: CaseState, fine: CaseState): string[] {
  const said = limitsOf(coarse.breaches);
  const real = limitsOf(fine.breaches);
  const broken = [...said]
    .filter(([limit, { perhaps }]) => perhaps !== true && !real.has(limit))
    .map(([limit]) => `said broken, was kept: ${limit}`);
  const kept = [...real.keys()]
    .filter((limit) => !said.has(limit))
    .map((limit) => `said kept, was broken: ${limit}`);
  return [...broken, ...kept];
}

/** Instants of the coarse record that leave out when it really was. */
function contradictions(coarse: CaseState, fine: CaseState): string[] {
  const outside = (at: CaseInstant | null, real: CaseInstant | null | undefined): boolean =>
    at !== null && real != null && (real.loMs < earliestMs(at) || real.hiMs > latestMs(at));
  return Object.entries(coarse.runs).flatMap(([key, run]) => {
    const real = fine.runs[key];
    const found =
      real === undefined || real.status !== run.status ? [`${key} ${real?.status}`] : [];
    if (outside(run.startedAt, real?.startedAt)) found.push(`${key} start`);
    if (outside(run.endedAt, real?.endedAt)) found.push(`${key} end`);
    const given = run.exposures.reduce((ms, e) => ms + e.given.loMs, 0);
    const lit = real?.exposures.reduce((ms, e) => ms + e.given.loMs, 0);
    if (given !== lit) found.push(`${key} light ${given} ${lit}`);
    return found;
  });
}

const told = { appointments: 0, perhaps: 0, broken: 0 };
afterAll(() => console.info(JSON.stringify(told)));

describe('a simulated appointment', () => {
  const families = Object.keys(FAMILIES) as Family[];
  it.each(families)(
    'is told truly by few presses: %s',
    (family) => {
      const seed = runSeed();
      for (let i = 0; i < APPOINTMENTS / families.length; i += 1) {
        const appointment = new Appointment(family, seed * 100_000 + i).play();
        const coarse = appointment.coarse.log.state;
        const fine = appointment.fine().state;
        expect(contradictions(coarse, fine), `${family} ${seed * 100_000 + i}`).toEqual([]);
        expect(lies(coarse, fine), `${family} ${seed * 100_000 + i}`).toEqual([]);
        told.appointments += 1;
        told.perhaps += coarse.breaches.filter((b) => b.perhaps).length;
        told.broken += fine.breaches.length;
      }
    },
    3_600_000,
  );
});

/** The same log in which the presses claim to know every instant. */
function claimed(log: CaseLog, field: 'sweep' | 'impliedBy' | 'list'): CaseState {
  const records = log.records.map((recorded) => {
    const { [field]: _, ...event } = recorded.event as CaseEvent & Partial<Record<string, unknown>>;
    return { ...recorded, event: event as CaseEvent };
  });
  return replay(records).state;
}

describe('the comparison', () => {
  const drawn = [1, 2, 3, 4, 5, 6, 7, 8].map((seed) =>
    new Appointment('veneers, etch-and-rinse', seed).play(),
  );
  const appointment = present(
    drawn.find((each) => each.fine().state.breaches.length > 0),
    'an appointment that broke a limit',
  );
  const fine = appointment.fine().state;

  it.each(['sweep', 'impliedBy', 'list'] as const)(
    'notices an instant that is made up: %s',
    (field) => {
      const { log } = appointment.coarse;
      expect(contradictions(log.state, fine)).toEqual([]);
      expect(contradictions(claimed(log, field), fine)).not.toEqual([]);
    },
  );

  it('notices a limit that is told otherwise than it was', () => {
    const { state } = appointment.coarse.log;
    const [first] = fine.breaches;
    expect(first).toBeDefined();
    expect(lies({ ...state, breaches: [] }, fine)).not.toEqual([]);
    const other = { ...present(first, 'a broken limit'), subject: 'tooth:48' };
    expect(lies({ ...state, breaches: [...state.breaches, other] }, fine)).not.toEqual([]);
  });
});
