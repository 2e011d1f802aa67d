/**
 * Other ways to do the same case, side by side: fewer or more mixes, smaller or larger rounds,
 * another seating order. Each is planned and drawn with the same seed, so that differences come
 * from the plan and not from the draws. One at a time, so that a worker can tell its progress.
 */
import { present, unreachable } from '../base/assert.ts';
import { evenGroups } from '../calc/even-groups.ts';
import type { RunPlan } from '../engine/run-plan-types.ts';
import type { CaseFile, Unit } from '../protocol/case-types.ts';
import { archOf } from '../protocol/subjects.ts';
import { type PlanChoice, regrouped } from './grouping.ts';
import type { FullPlan, FullPlanInput } from './make-plan.ts';
import { withFollowers } from './open-groupings.ts';
import { openingState } from './opening-state.ts';
import { type Projected, projectCase } from './project-case.ts';
import { drawSets, isDefaultRisk } from './risk.ts';
import { decidePlan } from './run-plan.ts';
import { mixWindows } from './working-time.ts';

type AlternativeKind = 'mixes' | 'rounds' | 'order';

/** What could be chosen instead. */
interface AlternativeChoice {
  readonly kind: AlternativeKind;
  /** `mixes/4+4`, `rounds/etch/8`, `order/midline-first`. */
  readonly id: string;
  /** The step that leads the rounds; null for mixes and orders. */
  readonly step: string | null;
  /** Units of each mix or subjects of each round; empty for orders. */
  readonly sizes: readonly number[];
  /** Unit ids in seating order; empty unless an order is what differs. */
  readonly order: readonly string[];
  readonly choice: PlanChoice;
  /** True for what the plan does already. */
  readonly isPlanned: boolean;
}

export interface Alternative extends AlternativeChoice {
  /** Expected chair time, and how much longer than planned (negative: shorter). */
  readonly chairMs: number;
  readonly chairDeltaMs: number;
  readonly chairP90Ms: number;
  /** Ids of the windows and dwells that this choice bears on, and the chance that any is broken. */
  readonly judgedBy: readonly string[];
  readonly pBroken: number;
  readonly pAnyBroken: number;
  /** False when the windows it bears on cannot be kept even if all goes as expected. */
  readonly canBeKept: boolean;
}

const sizesOf = (parts: readonly (readonly unknown[])[]): number[] => parts.map((p) => p.length);
const sameList = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((each, i) => each === b[i]);

/** Even splits of a count into one group, and into one fewer or more than planned. */
function splits(planned: readonly number[]): (readonly number[])[] {
  const count = planned.reduce((sum, size) => sum + size, 0);
  const groups = [1, planned.length - 1, planned.length + 1].filter((n) => n >= 1 && n <= count);
  const even = [...new Set(groups)].map((n) =>
    evenGroups({ count, largest: Math.ceil(count / n) }),
  );
  const all = [planned, ...even];
  return all.filter((sizes, i) => all.findIndex((other) => sameList(other, sizes)) === i);
}

/** How far a unit stands from the midline, in teeth; the patient's right side first. */
function fromMidline(unit: Unit): number {
  const places = unit.teeth.map((tooth) => archOf(tooth).indexOf(tooth) - 7.5);
  const nearest = Math.min(...places.map(Math.abs));
  return nearest + (places.some((p) => p < 0) ? 0 : 0.25);
}

function alongArch(unit: Unit): number {
  return Math.min(...unit.teeth.map((tooth) => archOf(tooth).indexOf(tooth)));
}

function orderChoices(units: readonly Unit[], planned: readonly string[]): AlternativeChoice[] {
  const sorted = (by: (unit: Unit) => number): string[] =>
    units.toSorted((a, b) => by(a) - by(b)).map((u) => u.id);
  const orders: readonly (readonly [string, readonly string[]])[] = [
    ['planned', planned],
    ['midline-first', sorted(fromMidline)],
    ['along-the-arch', sorted(alongArch)],
  ];
  return orders
    .filter(([, order], i) => orders.findIndex(([, other]) => sameList(other, order)) === i)
    .map(([name, order]) => ({
      kind: 'order',
      id: `order/${name}`,
      step: null,
      sizes: [],
      order,
      choice: { order },
      isPlanned: name === 'planned',
    }));
}

/** Everything worth comparing for a case, what is planned first in each kind. */
export function alternativeChoices(input: FullPlanInput, plan: RunPlan): AlternativeChoice[] {
  const { spec, protocol } = input;
  const base = { order: [], step: null };
  const mixes = plan.mixes.length === 0 ? [] : splits(sizesOf(plan.mixes));
  const ofMixes = mixes.map((sizes, i) => ({
    ...base,
    kind: 'mixes' as const,
    id: `mixes/${sizes.join('+')}`,
    sizes,
    choice: { ...input.choice, mixSizes: sizes },
    isPlanned: i === 0,
  }));
  const ofRounds = protocol.steps.flatMap((step) => {
    const rounds = plan.rounds[step.id];
    const isLimited = step.action.kind === 'dwell' && step.action.maxMs !== undefined;
    if (rounds === undefined || !isLimited || rounds.flat().length < 2) return [];
    return splits(sizesOf(rounds)).map((sizes, i) => ({
      ...base,
      kind: 'rounds' as const,
      id: `rounds/${step.id}/${sizes.join('+')}`,
      step: step.id,
      sizes,
      choice: {
        ...input.choice,
        roundSizes: { ...input.choice?.roundSizes, [step.id]: sizes },
      },
      isPlanned: i === 0,
    }));
  });
  const ofOrder = orderChoices(spec.units, plan.order).map((each) => ({
    ...each,
    choice: { ...input.choice, ...each.choice },
  }));
  const isReal = (list: readonly AlternativeChoice[]) => (list.length > 1 ? list : []);
  return [...isReal(ofMixes), ...ofRounds, ...isReal(ofOrder)];
}

/**
 * The case with an alternative taken over: what is taken together stands in its file from then on,
 * and so does the order of its units.
 */
export function adopted(
  spec: CaseFile,
  a: Pick<Alternative, 'kind' | 'step' | 'sizes' | 'order'>,
): CaseFile {
  const { groups } = spec;
  switch (a.kind) {
    case 'mixes':
      return { ...spec, groups: { ...groups, mixes: a.sizes } };
    case 'rounds': {
      if (a.step === null) return spec;
      return { ...spec, groups: { ...groups, rounds: { ...groups?.rounds, [a.step]: a.sizes } } };
    }
    case 'order': {
      const places = new Map(a.order.map((id, place) => [id, place]));
      const placeOf = (unit: Unit): number => places.get(unit.id) ?? places.size;
      return { ...spec, units: spec.units.toSorted((x, y) => placeOf(x) - placeOf(y)) };
    }
    default:
      return unreachable(a.kind);
  }
}

/** The case as its numbers were computed, whatever people had chosen to take together. */
export function computedAgain({ groups: _, ...spec }: CaseFile): CaseFile {
  return spec;
}

/** Ids of the windows, or of the dwells, that a choice bears on. */
function judgedBy(
  input: FullPlanInput,
  choice: AlternativeChoice,
  { timeline }: Pick<Projected, 'timeline'>,
) {
  const { protocol } = input;
  switch (choice.kind) {
    case 'mixes':
      return mixWindows(protocol).map((w) => w.id);
    case 'rounds': {
      const leader = protocol.steps.find(({ id }) => id === choice.step);
      return leader === undefined ? [] : withFollowers(protocol, leader).map(({ id }) => id);
    }
    case 'order':
      return [...new Set(timeline.bands.map((b) => b.of))];
    default:
      return unreachable(choice.kind);
  }
}

/**
 * The plan with one thing done otherwise and everything else as it is planned. Another order is
 * decided anew: who is alike, and so who may be taken together, comes in another order too.
 */
function planOf(input: FullPlanInput, a: AlternativeChoice, { plan }: FullPlan): RunPlan {
  const { choice } = a;
  if (a.kind === 'order') return decidePlan({ ...input, choice }).plan;
  const rounds = Object.entries(plan.rounds).map(([step, list]) => [step, sizesOf(list)] as const);
  const held: PlanChoice = {
    order: choice.order ?? plan.order,
    mixSizes: choice.mixSizes ?? sizesOf(plan.mixes),
    roundSizes: { ...Object.fromEntries(rounds), ...choice.roundSizes },
  };
  return regrouped({ ...input, choice: held }, plan);
}

/** What the plan itself risks by this choice, where that is known from deciding it. */
function knownOf(input: FullPlanInput, choice: AlternativeChoice, planned: FullPlan) {
  const { timeline, risk, careful } = planned;
  const ids = judgedBy(input, choice, planned);
  const own = careful.groups.find(({ kind, step }) => kind === choice.kind && step === choice.step);
  const isDrawn = own !== undefined && isDefaultRisk(input.risk);
  const [only, ...others] = ids;
  const one = others.length === 0 ? risk.pBrokenByWindow[only ?? ''] : undefined;
  const pBroken = isDrawn ? own.pBroken : choice.kind === 'order' ? risk.pAnyBroken : one;
  return pBroken === undefined ? null : { timeline, ids, pBroken, risk };
}

function drawnOf(input: FullPlanInput, choice: AlternativeChoice, planned: FullPlan) {
  const { spec, protocol } = input;
  const known = choice.isPlanned ? knownOf(input, choice, planned) : null;
  if (known !== null) return known;
  const plan = choice.isPlanned ? planned.plan : planOf(input, choice, planned);
  const projected = projectCase({ state: openingState({ spec, protocol, plan }), nowMs: 0 });
  const ids = judgedBy(input, choice, projected);
  const options = input.risk ?? {};
  const { brokenOf, risk } = drawSets(projected, { sets: [ids], options });
  const { timeline } = projected;
  const share = (brokenOf[0] ?? 0) / Math.max(1, risk?.options.samples ?? 1);
  return { timeline, ids, pBroken: share, risk: present(risk, 'risk') };
}

/** Plans and draws one alternative. `planned` is the plan it is compared with. */
export function judgeAlternative(
  input: FullPlanInput,
  choice: AlternativeChoice,
  planned: FullPlan,
): Alternative {
  const { timeline, ids, pBroken, risk } = drawnOf(input, choice, planned);
  const bands = timeline.bands.filter((b) => ids.includes(b.of));
  return {
    ...choice,
    chairMs: timeline.chairMs,
    chairDeltaMs: timeline.chairMs - planned.timeline.chairMs,
    chairP90Ms: risk.chair.p90Ms,
    judgedBy: ids,
    pBroken,
    pAnyBroken: risk.pAnyBroken,
    canBeKept: bands.every((b) => b.canBeKept),
  };
}

/** All alternatives of a case in one go. */
export function compareAlternatives(input: FullPlanInput, planned: FullPlan): Alternative[] {
  return alternativeChoices(input, planned.plan).map((c) => judgeAlternative(input, c, planned));
}
