/**
 * Planning a case from 2 to 28 units: deciding the careful plan and drawing its risk, a replan in the
 * middle of the case, all other ways to do it, and what `plan` does in the terminal. The shipped
 * protocol, tables and light. `cpuMs` is the processor time of a middle round: it says more than the
 * clock where other programs run. Aims on one core: 100 ms for the plan of eight units, 500 ms for
 * all other ways of ten, 3 s for everything of 28.
 */
import { pathToFileURL } from 'node:url';
import { compareAlternatives } from '../../src/plan/alternatives.ts';
import type { PlanInput } from '../../src/plan/grouping.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { openingState } from '../../src/plan/opening-state.ts';
import { replan } from '../../src/plan/replan.ts';
import { makeExplainedPlan } from '../../src/plan/run-plan.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { Chair } from '../engine/chair.ts';
import { shippedCase, shippedProtocol, shippedTables } from '../plan/shipped.ts';

interface Measured {
  readonly name: string;
  readonly unit: 'ms';
  readonly p50: number;
  readonly p95: number;
  readonly cpuMs: number;
  readonly n: number;
}

const TEETH = ['11', '21', '12', '22', '13', '23', '14', '24', '15', '25', '16', '26', '17', '27'];
const ALL_TEETH = [...TEETH, ...TEETH.map((t) => String(Number(t) + (Number(t) < 20 ? 30 : 10)))];

function measure(name: string, times: number, work: () => unknown): Measured {
  for (let warm = 0; warm < 3; warm += 1) work();
  const samplesMs: number[] = [];
  const cpuMs: number[] = [];
  for (let round = 0; round < times; round += 1) {
    const startMs = performance.now();
    const before = process.cpuUsage();
    work();
    const used = process.cpuUsage(before);
    cpuMs.push((used.user + used.system) / 1000);
    samplesMs.push(performance.now() - startMs);
  }
  const sorted = samplesMs.sort((a, b) => a - b);
  const at = (share: number): number =>
    sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;
  const middleCpuMs = cpuMs.sort((a, b) => a - b)[Math.floor(times / 2)] ?? Number.NaN;
  return { name, unit: 'ms', p50: at(0.5), p95: at(0.95), cpuMs: middleCpuMs, n: sorted.length };
}

function inputOf(units: number): PlanInput {
  const spec = shippedCase('eight-upper-veneers');
  const [pattern] = spec.units;
  if (pattern === undefined) throw new Error('the shipped case has no unit');
  const teeth = ALL_TEETH.slice(0, units);
  return {
    spec: { ...spec, units: teeth.map((tooth) => ({ ...pattern, id: tooth, teeth: [tooth] })) },
    protocol: shippedProtocol(),
    tables: shippedTables(),
  };
}

/** A case whose first half of steps is done, each at its usual pace. */
function halfDone(input: PlanInput): Chair {
  const plan = makeExplainedPlan(input).value;
  const chair = new Chair({ spec: input.spec, protocol: input.protocol, plan });
  for (let press = 0; press < 400; press += 1) {
    const { view } = chair;
    const [offer] = view.offers;
    if (offer === undefined || view.done * 2 >= view.total) break;
    const step = input.protocol.steps.find((s) => s.id === offer.step);
    const isWork = offer.kind === 'confirm' || offer.kind === 'choose';
    const workMs = isWork ? (step?.pace.medianMs.value ?? 0) : 0;
    chair.at(chair.trueMs + Math.max(offer.dueInMs, workMs));
    chair.do({ do: 'press', offer });
  }
  return chair;
}

/** A plan is remembered with its case file: a copy is planned from the beginning. */
const afresh = (input: PlanInput): PlanInput => ({ ...input, spec: { ...input.spec } });

/** The case with what is planned as people's own choice, so that nothing is left to decide. */
function withGroups(input: PlanInput): CaseFile {
  const { mixes, rounds } = makeExplainedPlan(input).value;
  const sizes = (parts: readonly (readonly unknown[])[]) => parts.map((part) => part.length);
  const own = Object.entries(rounds).map(([id, list]) => [id, sizes(list)] as const);
  return { ...input.spec, groups: { mixes: sizes(mixes), rounds: Object.fromEntries(own) } };
}

function benchUnits(units: number): Measured[] {
  const input = inputOf(units);
  const title = (what: string): string => `plan ${units} units: ${what}`;
  const chair = halfDone(input);
  const { state } = chair.log;
  const openingEndMs = makePlan({ ...input, risk: { samples: 1 } }).timeline.endMs;
  const times = units > 12 ? 7 : 15;
  const chosen = { ...input, spec: withGroups(input) };
  const rows = [
    measure(title('careful plan with risk, 2000 draws'), times, () => makePlan(afresh(input))),
    measure(title('people chose all, 2000 draws'), times, () => makePlan(afresh(chosen))),
    measure(title('replan in mid-case, 400 draws'), times * 2, () =>
      replan({ state, nowMs: chair.trueMs, openingEndMs }),
    ),
    measure(title('replan at the opening, 400 draws'), times * 2, () =>
      replan({ state: openingState({ ...input, plan: state.plan }), nowMs: 0, openingEndMs }),
    ),
  ];
  if (units !== 10 && units !== 28) return rows;
  const planned = makePlan(input);
  return [
    ...rows,
    measure(title('all other ways to do it'), 3, () => compareAlternatives(input, planned)),
  ];
}

/** Runs all of it, about half a minute. */
export default function planBench(): Measured[] {
  return [2, 4, 6, 8, 10, 14, 20, 28].flatMap(benchUnits);
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  for (const row of planBench()) console.log(JSON.stringify(row));
}
