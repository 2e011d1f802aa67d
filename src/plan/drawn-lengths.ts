/**
 * Lengths of tasks, drawn anew for each run. The hands' share of a task is log-normal, given by its
 * median and 90th percentile (ln-times are what Moscovich, Kreulen, Creugers & Dansen, J Dent 1998,
 * found to be normal for ceramic inlays). A slow day slows everything one person does, so the draws
 * of a person share a factor:
 * ln(length / median) = sigma * (sqrt(share) * day + sqrt(1 - share) * step).
 * Every step on every subject has draws of its own, found by its name and the seed: two plans of one
 * case are compared on the same days and the same hands, whatever else differs between them.
 */
import { realAt } from '../temporal/typed-array.ts';
import { type Activity, expectedMs } from './activity.ts';
import type { DrawnRuns } from './drawn-runs.ts';
import type { Execution } from './execution.ts';
import { portableExp } from './portable-math.ts';
import { diceOf, normal } from './random.ts';
import { DENTIST } from './solve-activities.ts';
import { isByHand } from './timeline.ts';

export interface RiskOptions {
  readonly seed: number;
  readonly samples: number;
  /** 0: every step for itself. 1: one slow day slows all alike. */
  readonly sharedShare: number;
}

/** A whole number from a text: FNV-1a (Fowler, Noll & Vo, public domain), 32 bits. */
function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i += 1) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash;
}

/** Draws of one name from the standard normal distribution. */
function normalsOf(name: string, { seed, samples }: RiskOptions): Float64Array {
  const dice = diceOf(Math.imul(seed, 0x9e3779b1) ^ hashOf(name));
  return Float64Array.from({ length: samples }, () => normal(dice));
}

/** More than a case of 28 units and its other ways need, and no more than a tablet can spare. */
const KEPT_MAX = 3000;

/**
 * What was drawn, by name, for one set of options. It is kept because drawing costs more than all that
 * is done with it, and because the other ways to do a case need nearly the same.
 */
class Kept {
  readonly options: RiskOptions;
  readonly #arrays = new Map<string, Float64Array>();

  constructor(options: RiskOptions) {
    this.options = options;
  }

  #remembered(key: string, make: () => Float64Array): Float64Array {
    const known = this.#arrays.get(key);
    if (known !== undefined) return known;
    if (this.#arrays.size >= KEPT_MAX) this.#arrays.clear();
    const made = make();
    this.#arrays.set(key, made);
    return made;
  }

  #normals(name: string): Float64Array {
    return this.#remembered(name, () => normalsOf(name, this.options));
  }

  /** By how much the hands are slower than in the middle, in each draw. */
  factors(o: { readonly key: string; readonly sigma: number; readonly by: string }): Float64Array {
    return this.#remembered(`${o.key} ${o.by} ${o.sigma}`, () => {
      const { sharedShare, samples } = this.options;
      const day = this.#normals(`day ${o.by}`);
      const own = normalsOf(o.key, this.options);
      const ofDay = Math.sqrt(sharedShare);
      const ofStep = Math.sqrt(1 - sharedShare);
      const factors = new Float64Array(samples);
      for (let i = 0; i < samples; i += 1) {
        factors[i] = portableExp(o.sigma * (ofDay * realAt(day, i) + ofStep * realAt(own, i)));
      }
      return factors;
    });
  }
}

let kept: Kept | null = null;

function keptFor(options: RiskOptions): Kept {
  const { seed, samples, sharedShare } = options;
  const before = kept?.options;
  // The first draws of many are the same as few draws.
  const isSame =
    before?.seed === seed && before.samples >= samples && before.sharedShare === sharedShare;
  if (kept === null || !isSame) kept = new Kept(options);
  return kept;
}

/** A task whose length differs from day to day, with its factor in every draw. */
interface DrawnTask {
  readonly task: Activity;
  readonly lengthMs: Float64Array;
  readonly factors: Float64Array;
}

/** Draws lengths; one step on one subject keeps its factor through all of its tasks. */
export class DrawnLengths {
  readonly #drawn: readonly DrawnTask[];

  constructor({ activities, staff }: Execution, runs: DrawnRuns, options: RiskOptions) {
    const draws = keptFor(options);
    const byKey = new Map<string, Float64Array>();
    this.#drawn = activities.tasks.flatMap((task, i) => {
      const lengthMs = runs.lengthMs[i];
      lengthMs?.fill(expectedMs(task));
      if (lengthMs === undefined || !isByHand(task) || task.sigma === 0) return [];
      const key = `${task.step} ${task.subjects.join(' ')}`;
      const by = ((staff[i] ?? 0) & DENTIST) === 0 ? 'assistant' : 'dentist';
      const factors = byKey.get(key) ?? draws.factors({ key, by, sigma: task.sigma });
      byKey.set(key, factors);
      return [{ task, lengthMs, factors }];
    });
  }

  /** Fills the lengths of a block of runs, from this draw on. */
  draw(first: number): void {
    for (const { task, lengthMs, factors } of this.#drawn) {
      const { fixed, fixedMs, handsMs } = task;
      const count = Math.min(lengthMs.length, factors.length - first);
      for (let r = 0; r < count; r += 1) {
        const ownMs = handsMs * (factors[first + r] ?? 1);
        lengthMs[r] = fixed === 'after' ? ownMs + fixedMs : Math.max(ownMs, fixedMs);
      }
    }
  }
}
