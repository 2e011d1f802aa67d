/**
 * The `temporal` figure: whether bounds between moments can be kept together, and what they imply
 * for every two moments. It stands here because it joins two parts that do not know each other.
 */
import * as v from 'valibot';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type Calc, defineCalc } from '../calc/calc.ts';
import { readList, readNumber, readObject, readOptional, readText } from '../calc/reading.ts';
import { type MinimalNetwork, minimalNetwork } from '../temporal/minimal-network.ts';

const CONSTRAINTS_MAX = 2000;
/** All pairs take cubic time and square space, so a huge network is refused rather than endured. */
const MOMENTS_MAX = 300;
const BOUND_MAX = 1e12;

interface Bound {
  readonly from: string;
  readonly to: string;
  readonly min: number | null;
  readonly max: number | null;
}

const readName = readText(100);
const readBound = readOptional(v.nullable(readNumber({ min: -BOUND_MAX, max: BOUND_MAX })));

function boundsAnswer({ nodes, bounds }: MinimalNetwork & { readonly consistent: true }) {
  const row = (from: string) =>
    Object.fromEntries(
      nodes.map((to) => {
        const { min, max } = bounds({ from, to });
        return [to, [min, max]];
      }),
    );
  return Object.fromEntries(nodes.map((from) => [from, row(from)]));
}

function compute({
  constraints,
}: {
  readonly constraints: readonly Bound[];
}): Result<object, Problem> {
  const moments = new Set(constraints.flatMap(({ from, to }) => [from, to]));
  if (moments.size > MOMENTS_MAX) {
    const words = `at most ${MOMENTS_MAX} different moments`;
    return err(problem('calc.temporal.constraints', words, moments.size));
  }
  const network = minimalNetwork(
    constraints.map(({ from, to, min, max }) => ({
      from,
      to,
      ...(min === null ? {} : { minMs: min }),
      ...(max === null ? {} : { maxMs: max }),
    })),
  );
  return network.consistent
    ? ok({ consistent: true, bounds: boundsAnswer(network) })
    : ok({ consistent: false, conflict: network.conflict });
}

/** `temporal`: the minimal network of some bounds, or the constraints of one negative cycle. */
export const temporalCalc: Calc = defineCalc(
  {
    name: 'temporal',
    about: 'what bounds between moments imply, or which of them contradict each other',
    source:
      'Dechter, Meiri & Pearl, Temporal constraint networks, Artificial Intelligence 1991;49:61-95',
  },
  readObject({
    constraints: readList(
      readObject({ from: readName, to: readName, min: readBound, max: readBound }),
      { min: 0, max: CONSTRAINTS_MAX },
    ),
  }),
  compute,
);
