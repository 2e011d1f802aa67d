/**
 * Labels permuted within each patient, for a factor that varies inside patients (a limit kept for one
 * unit and broken for another). The statistic is |observed - expected|; a draw costs one sum, since
 * it is linear in the labels. Whole patients are never permuted: that is not valid where follow-up
 * differs (Biostatistics 2010;11:676). Labels change places only within a stratum.
 *
 * Draws are made in portions, each with dice of its own, so a worker can report how far it is, stop
 * and go on; the result is the same for one seed, whatever happened in between.
 */
import { assert, present } from '../../base/assert.ts';
import { diceOf, uniform } from '../../plan/random.ts';
import { placesBy } from './group-risk.ts';
import { lifeScores, type TwoGroups } from './robust-log-rank.ts';

/** What all portions share. It holds numbers only, so it can be sent to a worker. */
export interface Permutable {
  /** For every patient (and stratum) whose units differ: residual and label of each unit. */
  readonly blocks: readonly {
    readonly residuals: readonly number[];
    readonly labels: readonly boolean[];
  }[];
  /** Observed less expected of the patients whose labels cannot change. */
  readonly fixed: number;
  readonly observedMinusExpected: number;
  /** Patients whose units differ: with none there is nothing to permute. */
  readonly patientsThatDiffer: number;
}

export function permutable(o: TwoGroups): Permutable {
  const scores = lifeScores(o);
  const keys = o.lives.map((life, at) => JSON.stringify([life.patient, o.strata?.[at] ?? '']));
  const all = [...placesBy(keys).values()].map((places) => ({
    patient: present(o.lives[present(places[0], 'a unit')], 'a life').patient,
    residuals: places.map((at) => present(scores[at], 'a score').residual),
    labels: places.map((at) => o.isFirst[at] === true),
  }));
  const differ = all.filter(({ labels }) => labels.includes(true) && labels.includes(false));
  const sum = (blocks: typeof all): number => blocks.reduce((u, block) => u + score(block), 0);
  const differing = new Set(differ);
  return {
    blocks: differ.map(({ residuals, labels }) => ({ residuals, labels })),
    fixed: sum(all.filter((block) => !differing.has(block))),
    observedMinusExpected: sum(all),
    patientsThatDiffer: new Set(differ.map((block) => block.patient)).size,
  };
}

const score = (block: Permutable['blocks'][number]): number =>
  block.residuals.reduce((u, residual, at) => u + (block.labels[at] === true ? residual : 0), 0);

const ROUNDING = 1e-9;

/** Draws of one portion that are at least as far from 0 as what was observed. */
export function permutePortion(o: {
  readonly of: Permutable;
  readonly seed: number;
  /** Number of the portion, from 0. */
  readonly portion: number;
  readonly draws: number;
}): number {
  const dice = diceOf((o.seed ^ Math.imul(o.portion + 1, 0x9e3779b1)) | 0);
  const reached = Math.abs(o.of.observedMinusExpected) - ROUNDING;
  const blocks = o.of.blocks.map(({ residuals, labels }) => ({
    residuals: Float64Array.from(residuals),
    first: labels.filter((label) => label).length,
  }));
  let asFar = 0;
  for (let draw = 0; draw < o.draws; draw += 1) {
    let u = o.of.fixed;
    for (const { residuals, first } of blocks) {
      // The first places of a partial shuffle are the units that get the label.
      for (let place = 0; place < first; place += 1) {
        const other = place + Math.floor(uniform(dice) * (residuals.length - place));
        const drawn = residuals[other] ?? 0;
        residuals[other] = residuals[place] ?? 0;
        residuals[place] = drawn;
        u += drawn;
      }
    }
    if (Math.abs(u) >= reached) asFar += 1;
  }
  return asFar;
}

/** Two-sided p from `asFar` of `draws`, the observed labels counted as one draw more. */
export function permutationP(asFar: number, draws: number): number {
  assert(draws >= asFar && asFar >= 0, 'no more draws are far than were made');
  return (asFar + 1) / (draws + 1);
}
