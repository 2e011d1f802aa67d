/**
 * Random small cases for the schedule: protocols of a few steps with both people, the light, dwells,
 * barriers and windows, on one to six units. Everything comes from the seed.
 */
import { type Dice, diceOf, uniform } from '../../src/plan/random.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import type { Protocol, Step, Window } from '../../src/protocol/types.ts';
import { caseOf, confirm, dwell, expose, protocolOf, step, window } from '../engine/fixture.ts';

const TEETH = ['11', '21', '12', '22', '13', '23'];
const ROLES: readonly Step['by'][] = ['dentist', 'assistant', 'dentist', 'assistant', 'either'];

export interface RandomCase {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
}

class Maker {
  readonly #dice: Dice;

  constructor(seed: number) {
    this.#dice = diceOf(seed);
  }

  upTo(n: number): number {
    return Math.floor(uniform(this.#dice) * n);
  }

  chance(share: number): boolean {
    return uniform(this.#dice) < share;
  }

  pick<T>(list: readonly T[]): T {
    const found = list[this.upTo(list.length)];
    if (found === undefined) throw new Error('nothing to pick from');
    return found;
  }

  /** A step on each unit: work by hand, something left to act, or the light. */
  unitStep(id: string, before: readonly string[]): Step {
    const after = before.length === 0 ? ['ready'] : [`${this.pick(before)}/same`];
    const by = this.pick(ROLES);
    const paceSeconds = 10 + 5 * this.upTo(12);
    if (this.chance(0.15)) {
      const seconds = 5 + 5 * this.upTo(4);
      const light = expose({ surfaces: ['facial'], seconds, walk: 'by-unit' });
      return step(id, 'unit', light, { after, by, usesLight: true, paceSeconds: seconds + 3 });
    }
    if (this.chance(0.2)) {
      const target = 60 + 10 * this.upTo(8);
      return step(id, 'unit', dwell(target - 10, target), { after, by, paceSeconds: 10 });
    }
    return step(id, 'unit', confirm, { after, by, paceSeconds });
  }
}

/** One case; the same for the same seed. */
export function randomCase(seed: number): RandomCase {
  const make = new Maker(seed);
  const steps: Step[] = [step('ready', 'case', confirm, { paceSeconds: 20 })];
  const units = 1 + make.upTo(TEETH.length);
  // Few steps on many units, more on few: the exact solver has to finish as well.
  const count = 2 + make.upTo(units > 4 ? 2 : 3);
  const names: string[] = [];
  for (let k = 0; k < count; k += 1) {
    // A second branch from an earlier step gives the two people something to choose from.
    const before = make.chance(0.7) ? names.slice(-1) : names;
    const name = `work-${k}`;
    steps.push(make.unitStep(name, before));
    names.push(name);
  }
  if (make.chance(0.5)) {
    const by = make.pick(ROLES);
    steps.push(step('meanwhile', 'case', confirm, { after: ['ready'], by, paceSeconds: 60 }));
  }
  const all = names.map((name) => `${name}/all`);
  steps.push(step('close', 'case', confirm, { after: [...all], by: 'dentist', paceSeconds: 30 }));
  const windows: Window[] = [];
  const [from, to] = [names.at(-2), names.at(-1)];
  if (from !== undefined && to !== undefined && make.chance(0.6)) {
    const maxS = 100 + 20 * make.upTo(20);
    windows.push(window('open', `${from}/end -> ${to}/end`, { maxS, severity: 'serious' }));
  }
  return {
    spec: caseOf(TEETH.slice(0, units)),
    protocol: protocolOf(steps, { windows }),
  };
}
