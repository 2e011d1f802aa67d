/**
 * Other ways to do the same case, side by side: fewer or more mixes, smaller or larger rounds,
 * another seating order. Each is planned and drawn with the same seed, so that differences come
 * from the plan and not from the draws. One at a time, so that a worker can tell its progress.
 */
import { unreachable } from '../base/assert.ts';
import { evenGroups } from '../calc/even-groups.ts';
import type { RunPlan } from '../engine/types.ts';
import { archOf } from '../protocol/subjects.ts';
import type { CaseFile, Unit } from '../protocol/types.ts';
import { type FullPlan, type FullPlanInput, makePlan } from './make-plan.ts';
import type { PlanChoice } from './run-plan.ts';
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
  /** Ids of the windows and dwells that this choice bears on, and the greatest risk among them. */
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

/** Ids of the windows, or of the dwell, that a choice bears on. */
function judgedBy(input: FullPlanInput, choice: AlternativeChoice, full: FullPlan): string[] {
  switch (choice.kind) {
    case 'mixes':
      return mixWindows(input.protocol).map((w) => w.id);
    case 'rounds':
      return choice.step === null ? [] : [choice.step];
    default:
      return [...new Set(full.timeline.bands.map((b) => b.of))];
  }
}

/** Plans and draws one alternative. `planned` is the plan it is compared with. */
export function judgeAlternative(
  input: FullPlanInput,
  choice: AlternativeChoice,
  planned: FullPlan,
): Alternative {
  const full = choice.isPlanned ? planned : makePlan({ ...input, choice: choice.choice });
  const ids = judgedBy(input, choice, full);
  const shares = ids.map((id) => full.risk.pBrokenByWindow[id] ?? 0);
  const bands = full.timeline.bands.filter((b) => ids.includes(b.of));
  return {
    ...choice,
    chairMs: full.timeline.chairMs,
    chairDeltaMs: full.timeline.chairMs - planned.timeline.chairMs,
    chairP90Ms: full.risk.chair.p90Ms,
    judgedBy: ids,
    pBroken: choice.kind === 'order' ? full.risk.pAnyBroken : Math.max(0, ...shares),
    pAnyBroken: full.risk.pAnyBroken,
    canBeKept: bands.every((b) => b.canBeKept),
  };
}

/** All alternatives of a case in one go. */
export function compareAlternatives(input: FullPlanInput, planned: FullPlan): Alternative[] {
  return alternativeChoices(input, planned.plan).map((c) => judgeAlternative(input, c, planned));
}
