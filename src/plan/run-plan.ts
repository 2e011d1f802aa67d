/**
 * The plan a case is opened with: what people chose, and for the rest the careful way: see
 * `careful.ts`. The same case gives the same plan on every device; people may change it meanwhile.
 */
import { isSameJson } from '../base/json.ts';
import type { RunPlan } from '../engine/run-plan-types.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { Protocol } from '../protocol/types.ts';
import { type Careful, type CarefulGroups, carefulPlan } from './careful.ts';
import { type Explained, type Explanation, explain } from './explanation.ts';
import { explainFewest, type PlanInput } from './grouping.ts';
import { openGroupings } from './open-groupings.ts';
import type { PlanTables } from './plan-tables.ts';
import type { Projected } from './project-case.ts';
import type { Risk } from './risk.ts';

/** The plan, and what was found out while it was decided. */
export interface Decided {
  readonly plan: RunPlan;
  readonly why: readonly Explanation[];
  readonly careful: Careful;
  /** The plan on the time axis and its risk on the usual draws, where it had to be drawn. */
  readonly drawn: { readonly projected: Projected; readonly risk: Risk | null } | null;
}

const DRAWN =
  'the fewest groups whose chance is under the share, else the least risky; draws as for the chair time';

function explainGroups(careful: Careful, groups: CarefulGroups): Explanation {
  const { kind, step, sizes, fewest, pBroken, isUnder } = groups;
  const { riskMax, samples: draws, seed } = careful;
  return explain({
    id: kind === 'mixes' ? 'mixes' : `rounds/${step}`,
    value: sizes,
    unit: kind === 'mixes' ? 'units' : 'subjects',
    formula: isUnder ? 'fewest-under-the-risk' : 'least-risky-groups',
    inputs: { fewest, riskMax, chance: pBroken, draws, seed },
    source: DRAWN,
    calc: null,
    decidedBy: 'draws',
  });
}

/** What was decided by the draws is told in the place of what the hands alone would have decided. */
function explained(why: readonly Explanation[], careful: Careful): readonly Explanation[] {
  const changed = careful.groups.filter(({ sizes, fewest }) => !isSameJson(sizes, fewest));
  return changed.reduce<readonly Explanation[]>((list, groups) => {
    const told = explainGroups(careful, groups);
    const isOld = ({ id }: Explanation) => id === told.id || id.startsWith(`${told.id}/`);
    const at = list.findIndex(isOld);
    const others = list.filter((each) => !isOld(each));
    return at < 0 ? [...others, told] : [...others.slice(0, at), told, ...others.slice(at)];
  }, why);
}

const known = new WeakMap<CaseFile, { readonly input: PlanInput; readonly decided: Decided }>();

/** Decides what a case does together; remembered for as long as its file is the same object. */
export function decidePlan(input: PlanInput): Decided {
  const { spec, protocol, tables, choice } = input;
  const hit = choice === undefined ? known.get(spec) : undefined;
  const isKnown = hit?.input.protocol === protocol && hit.input.tables === tables;
  if (isKnown) return hit.decided;
  const { value: fewest, why } = explainFewest(input);
  const open = openGroupings(input, fewest);
  const { careful, drawn } = carefulPlan({ spec, protocol, fewest, open });
  const plan = drawn?.plan ?? fewest;
  const decided = { plan, why: explained(why, careful), careful, drawn };
  if (choice === undefined) known.set(spec, { input, decided });
  return decided;
}

/** The plan for a case, with how each of its numbers came about. */
export function makeExplainedPlan(input: PlanInput): Explained<RunPlan> {
  const { plan, why } = decidePlan(input);
  return { value: plan, why };
}

/** The plan for a case as its file stands. Without tables, every light time is the product's. */
export function makeRunPlan(
  spec: CaseFile,
  protocol: Protocol,
  tables: PlanTables | null = null,
): RunPlan {
  return decidePlan({ spec, protocol, tables }).plan;
}
