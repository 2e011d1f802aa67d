/**
 * One yearly review: the only place where a p is worked out. Each comparison whose gates are open is tested with the
 * patient as one; a factor that varies inside patients also by labels permuted within them. Holm over all of them. The draws are
 * made in portions, so that whoever waits is told how far it is and can stop. Pure.
 */
import { holm } from '../figures/holm.ts';
import { countPatients } from '../figures/patients.ts';
import { type Permutable, permutationP, permutePortion } from '../figures/permuted-within.ts';
import type { Compared } from '../review-types.ts';
import { type Made, permutableOf } from './comparisons.ts';
import { madeFor } from './outcomes-model.ts';
import type { OutcomesInput } from './outcomes-types.ts';

/** Draws for one comparison, and in one portion. */
export const DRAWS = 20_000;
const PORTION = 500;

interface Drawing {
  readonly of: Permutable;
  readonly at: number;
}

/** A review that is being worked out: portion by portion, to the same end whatever happens in between. */
export interface ReviewWork {
  readonly portions: number;
  /** Works out one portion, from 0. */
  readonly portion: (n: number) => void;
  /** After the last portion. */
  readonly compared: () => readonly Compared[];
}

const isWithin = ({ key }: Made): boolean => key.startsWith('limit');

/** `seed` is noted nowhere: with so many draws another one moves p by less than is shown. */
export function reviewWork(input: OutcomesInput, seed: number): ReviewWork {
  const made = madeFor(input);
  const drawings = made.flatMap((one, at): readonly Drawing[] => {
    if (!one.comparison.gates.isOpen || !isWithin(one)) return [];
    const of = permutableOf(one);
    return of === null ? [] : [{ of, at }];
  });
  const each = DRAWS / PORTION;
  const asFar = drawings.map(() => 0);
  return {
    portions: drawings.length * each,
    portion: (n) => {
      const at = Math.floor(n / each);
      const drawing = drawings[at];
      if (drawing === undefined) return;
      const found = permutePortion({ of: drawing.of, seed, portion: n, draws: PORTION });
      asFar[at] = (asFar[at] ?? 0) + found;
    },
    compared: () => {
      const permuted = new Map(
        drawings.map(({ at }, n) => [at, permutationP(asFar[n] ?? 0, DRAWS)] as const),
      );
      return comparedOf(made, permuted);
    },
  };
}

function comparedOf(
  made: readonly Made[],
  permuted: ReadonlyMap<number, number>,
): readonly Compared[] {
  const found = made.map(({ comparison }) => comparison.robust?.p ?? null);
  const told = found.filter((p) => p !== null);
  const adjusted = holm(told);
  let next = 0;
  return made.map(({ key, lives, comparison: { first, rest, gates } }, at): Compared => {
    const p = found[at] ?? null;
    const within = permuted.get(at);
    const compared = {
      grouping: key,
      lives: first.lives + rest.lives,
      patients: countPatients(lives),
      failures: first.failures + rest.failures,
      p,
      adjusted: p === null ? null : (adjusted[next++] ?? null),
      refused: gates.isOpen ? [] : [...new Set(gates.missing.map(({ gate }) => gate))],
    };
    return within === undefined ? compared : { ...compared, permuted: within };
  });
}
