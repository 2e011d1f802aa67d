/**
 * What a plan may take together otherwise: for the mixes and for each step that leads rounds, the
 * ways to split its subjects, from the fewest groups to each alone, and the limits that they decide.
 */
import { evenGroups } from '../calc/even-groups.ts';
import type { RunPlan } from '../engine/run-plan-types.ts';
import type { Facts } from '../protocol/conditions.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { buildSubjects, type Subjects } from '../protocol/subjects.ts';
import type { Protocol, Step } from '../protocol/types.ts';
import { alike, chosenMixes, chosenRounds, cut, type PlanInput } from './grouping.ts';
import { mixWindows } from './working-time.ts';

/** One way to split, as what it changes in the plan. */
interface GroupingWay {
  /** How many are taken together, group by group. */
  readonly sizes: readonly number[];
  readonly mixes?: RunPlan['mixes'];
  readonly rounds?: RunPlan['rounds'];
}

export interface OpenGrouping {
  readonly kind: 'mixes' | 'rounds';
  /** The step that leads the rounds; null for mixes. */
  readonly step: string | null;
  /** Ids of the windows, or of the dwells, that the way of splitting decides about. */
  readonly limits: readonly string[];
  /** The fewest groups first; one way at least. */
  readonly ways: readonly GroupingWay[];
}

const sizesOf = (parts: readonly (readonly unknown[])[]): number[] => parts.map((p) => p.length);

/** Each size of the largest group, from that of the fewest groups down to one. */
function largestSizes(fewest: readonly (readonly unknown[])[]): number[] {
  const largest = Math.max(1, ...sizesOf(fewest));
  return Array.from({ length: largest }, (_, i) => largest - i);
}

/** Ways that are the same for two sizes of the largest group are one. */
function distinct(ways: readonly GroupingWay[]): GroupingWay[] {
  const textOf = (way: GroupingWay) => JSON.stringify([way.mixes, way.rounds]);
  return ways.filter((way, i) => i === 0 || textOf(way) !== textOf(ways[i - 1] ?? way));
}

function openMixes(input: PlanInput, plan: RunPlan): OpenGrouping[] {
  const limits = mixWindows(input.protocol).map((w) => w.id);
  const isOpen = limits.length > 0 && plan.mixes.length > 0 && chosenMixes(input) === undefined;
  if (!isOpen || plan.order.length < 2) return [];
  const ways = largestSizes(plan.mixes).map((largest, i): GroupingWay => {
    const sizes = i === 0 ? sizesOf(plan.mixes) : evenGroups({ count: plan.order.length, largest });
    return { sizes, mixes: cut(plan.order, sizes) };
  });
  return [{ kind: 'mixes', step: null, limits, ways: distinct(ways) }];
}

/** Steps with rounds of their own whose clock begins with that of the leader, one after another. */
export function withFollowers(protocol: Protocol, leader: Step): readonly Step[] {
  const found = [leader];
  for (const step of protocol.steps) {
    const isNext = found.some(({ id }) => id === step.beginsWith);
    if (step.hands !== undefined && isNext) found.push(step);
  }
  return found;
}

const hasLimit = ({ action }: Step): boolean =>
  action.kind === 'dwell' && action.maxMs !== undefined;

interface Rounds {
  readonly facts: Facts;
  readonly subjects: Subjects;
  readonly plan: RunPlan;
}

/** Rounds of a step with no more than `largest` in one; those of the plan where they are no more. */
function roundsUpTo({ facts, subjects, plan }: Rounds, step: Step, largest: number): SubjectId[][] {
  const planned = plan.rounds[step.id] ?? [];
  return alike(facts, subjects, step).flatMap((same) => {
    const own = planned.filter(([first]) => first !== undefined && same.subjects.includes(first));
    if (own.every((round) => round.length <= largest)) return own.map((round) => [...round]);
    return cut(same.subjects, evenGroups({ count: same.subjects.length, largest }));
  });
}

function openRounds(input: PlanInput, plan: RunPlan): OpenGrouping[] {
  const { spec, protocol } = input;
  const facts: Facts = { spec, protocol };
  const site: Rounds = { facts, subjects: buildSubjects(spec, plan), plan };
  const led = protocol.steps.filter((step) => step.hands !== undefined);
  const isLeader = (step: Step) => !led.some(({ id }) => id === step.beginsWith);
  return led.filter(isLeader).flatMap((leader): OpenGrouping[] => {
    const steps = withFollowers(protocol, leader);
    const isChosen = steps.some((step) => {
      const count = (plan.rounds[step.id] ?? []).flat().length;
      return chosenRounds(input, step, count) !== undefined;
    });
    const isLimited = steps.some((step) =>
      alike(facts, site.subjects, step).some((same) => hasLimit(same.step)),
    );
    const planned = plan.rounds[leader.id] ?? [];
    if (isChosen || !isLimited || planned.flat().length < 2) return [];
    const ways = largestSizes(planned).map((largest): GroupingWay => {
      const rounds = steps.map((step) => [step.id, roundsUpTo(site, step, largest)] as const);
      return { sizes: sizesOf(rounds[0]?.[1] ?? []), rounds: Object.fromEntries(rounds) };
    });
    const limits = steps.map(({ id }) => id);
    return [{ kind: 'rounds', step: leader.id, limits, ways: distinct(ways) }];
  });
}

/** Everything that people have not chosen themselves and that decides about a limit. */
export function openGroupings(input: PlanInput, plan: RunPlan): readonly OpenGrouping[] {
  return [...openMixes(input, plan), ...openRounds(input, plan)];
}
