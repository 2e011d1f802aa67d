/**
 * Who is taken together in a round, which units share a mix, and what light each surface is to
 * receive: as few rounds and mixes as keep their limits at the usual pace. Computed from the case
 * file, the protocol and the reference tables. Times in ms unless the name says seconds.
 */
import { MS_PER_SECOND } from '../base/units.ts';
import { mixesCalc, mixSizes } from '../calc/mixes.ts';
import { type RoundPace, roundSizes, roundsCalc } from '../calc/rounds.ts';
import { type SweptPace, sweptRoundSizes } from '../calc/swept-rounds.ts';
import type { SweepMs } from '../engine/pressing-types.ts';
import type { RunPlan } from '../engine/run-plan-types.ts';
import { isShort, sweepOf } from '../engine/sweep.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import { allHold, type Facts } from '../protocol/conditions.ts';
import { commonMaterial, ownStep, standingIn } from '../protocol/own-step.ts';
import { paceOf } from '../protocol/pace.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { buildSubjects, type Subjects } from '../protocol/subjects.ts';
import type { Protocol, Step, Window } from '../protocol/types.ts';
import { type Explained, type Explanation, explain, sourceOf } from './explanation.ts';
import { type CoverCache, exposurePlan, litSubjects } from './exposure-plan.ts';
import { explainChanges, explainPaces, type OwnPaces, ownChanges, ownPaces } from './own-paces.ts';
import type { PlanTables } from './plan-tables.ts';
import { restsOf } from './tooth-rest.ts';
import { mixWindows, workingLimits } from './working-time.ts';

/** What people chose instead of what would be computed. */
export interface PlanChoice {
  /** Unit ids in seating order, all of the case. */
  readonly order?: readonly string[];
  /** Units in each mix, first mix first. */
  readonly mixSizes?: readonly number[];
  /** Subjects in each round, by the step that leads the rounds. */
  readonly roundSizes?: Readonly<Record<string, readonly number[]>>;
}

export interface PlanInput {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  /** Null: the product's own times in one position each, since nothing can be looked up. */
  readonly tables: PlanTables | null;
  readonly choice?: PlanChoice;
}

/** Cuts a list into consecutive parts of the given sizes. */
export function cut<T>(items: readonly T[], sizes: readonly number[]): T[][] {
  const parts: T[][] = [];
  let at = 0;
  for (const size of sizes) {
    parts.push(items.slice(at, at + size));
    at += size;
  }
  if (at < items.length) parts.push(items.slice(at));
  return parts.filter((part) => part.length > 0);
}

/** Pace and limits of a step that is begun and ended subject by subject; null for all others. */
function roundPace(step: Step): RoundPace | null {
  const { action, hands } = step;
  if (action.kind !== 'dwell' || !hands) return null;
  // Without a minimum the hands come back at the target; without a maximum nothing limits a round.
  const minMs = action.minMs?.value ?? action.targetMs.value;
  const maxMs = action.maxMs?.value ?? Number.MAX_SAFE_INTEGER;
  return {
    applySeconds: hands.applyMs.value / MS_PER_SECOND,
    rinseSeconds: hands.rinseMs.value / MS_PER_SECOND,
    minSeconds: Math.max(minMs, Math.min(action.targetMs.value, maxMs)) / MS_PER_SECOND,
    maxSeconds: maxMs / MS_PER_SECOND,
  };
}

const inSeconds = (time: SweepMs | null) =>
  time && {
    shortest: time.shortestMs / MS_PER_SECOND,
    longest: time.longestMs / MS_PER_SECOND,
  };

/** The same where one press stands for the round at one of its edges; null for all others. */
function sweptPace(step: Step, pace: RoundPace, follower?: Step): SweptPace | null {
  const start = inSeconds(sweepOf(step, 'start', 2));
  const isPressed = follower !== undefined && isShort(follower.action);
  const end = isPressed ? null : inSeconds(sweepOf(step, 'end', 2));
  if (start === null && end === null) return null;
  return { ...pace, ...(start && { start }), ...(end && { end }) };
}

/**
 * Rounds of a step that is begun and ended subject by subject. When not even one subject fits the
 * bounds at the pace of the hands, each goes alone: the breach will be recorded, never hidden.
 */
export function stepRounds(
  step: Step,
  subjects: readonly SubjectId[],
  o: { readonly chosen?: readonly number[]; readonly follower?: Step } = {},
): SubjectId[][] {
  const { chosen, follower } = o;
  const pace = roundPace(step);
  if (chosen !== undefined) return cut(subjects, chosen);
  if (pace === null) return [[...subjects]];
  const swept = sweptPace(step, pace, follower);
  const sizes = swept === null ? null : sweptRoundSizes(subjects.length, swept);
  // Where no two fit, each goes alone and is pressed like any other.
  if (sizes !== null) return cut(subjects, sizes.ok ? sizes.value : subjects.map(() => 1));
  const found = roundSizes(subjects.length, pace);
  return cut(subjects, found.ok ? found.value : subjects.map(() => 1));
}

const SANE_SECONDS = 86_400;

interface Alike {
  readonly step: Step;
  readonly material: string | null;
  readonly subjects: readonly SubjectId[];
}

/** Subjects to whom a step is done for the same times: one hand cannot wait for two targets. */
export function alike(facts: Facts, subjects: Subjects, step: Step): readonly Alike[] {
  const groups = new Map<Step, Alike>();
  for (const subject of subjects.order[step.per]) {
    const standing = standingIn(facts.spec, subjects, subject);
    if (!allHold(step.where, facts, standing)) continue;
    const own = ownStep(step, facts, standing);
    const before = groups.get(own)?.subjects ?? [];
    const name = own === step ? null : commonMaterial(standing.units);
    groups.set(own, { step: own, material: name, subjects: [...before, subject] });
  }
  return [...groups.values()];
}

const sweptInputs = ({ start, end }: SweptPace) => ({
  ...(start && { startShortestSeconds: start.shortest, startLongestSeconds: start.longest }),
  ...(end && { endShortestSeconds: end.shortest, endLongestSeconds: end.longest }),
});

function explainRounds(
  step: Step,
  rounds: readonly SubjectId[][],
  o: { readonly isChosen: boolean; readonly material: string | null },
) {
  const { isChosen, material } = o;
  const pace = roundPace(step);
  if (pace === null) return [];
  const swept = sweptPace(step, pace);
  const sizes = rounds.map((round) => round.length);
  const count = sizes.reduce((sum, size) => sum + size, 0);
  const input = { count, ...pace, maxSeconds: Math.min(pace.maxSeconds, SANE_SECONDS) };
  return [
    explain({
      id: material === null ? `rounds/${step.id}` : `rounds/${step.id}/${material}`,
      value: sizes,
      unit: 'subjects',
      formula: 'subjects-per-round',
      inputs: swept === null ? input : { ...input, ...sweptInputs(swept) },
      source: sourceOf(roundsCalc, input),
      calc: swept === null ? { name: roundsCalc.name, input } : null,
      decidedBy: isChosen ? 'people' : 'hands',
    }),
  ];
}

/** Share of the working time that is kept in reserve. A design choice, common practice. */
const RESERVE_SHARE = 0.1;

/** Time that passes per unit, and before the first one, between the two ends of the window. */
function mixPaceMs(
  { protocol, paces }: Mixing,
  working: Window,
): { leadMs: number; perUnitMs: number } {
  const first = protocol.steps.findIndex((s) => s.id === working.from.step);
  const last = protocol.steps.findIndex((s) => s.id === working.to.step);
  const inside = protocol.steps.slice(first + 1, last + 1);
  let leadMs = 0;
  let perUnitMs = 0;
  for (const step of inside.filter(({ optional }) => !optional)) {
    const ms = handsMs(step, paces);
    if (step.per === 'mix' || step.per === 'case') leadMs += ms;
    if (step.per !== 'unit' && step.per !== 'tooth') continue;
    const each = step.together === true ? step.pace.perSubjectMs?.value : undefined;
    // A press for all takes its fixed part once, and the other part for each.
    const fixedMs = each === undefined || paces[step.id] !== undefined ? 0 : ms - each;
    leadMs += fixedMs;
    perUnitMs += ms - fixedMs;
  }
  return { leadMs, perUnitMs };
}

function handsMs(step: Step, paces: OwnPaces): number {
  const paceMs = paces[step.id]?.medianMs ?? paceOf(step).medianMs;
  if (step.action.kind !== 'expose') return paceMs;
  return Math.max(paceMs, (step.action.perSurfaceMs?.value ?? 0) * step.action.surfaces.length);
}

interface Mixing {
  readonly protocol: Protocol;
  readonly order: readonly string[];
  /** Working time in this room by window id; the protocol's own where it is not named. */
  readonly limits: Readonly<Record<string, number>>;
  readonly paces: OwnPaces;
  readonly chosen?: readonly number[] | undefined;
}

/** Unit ids of each mix: as few mixes as the working time allows, as even as possible. */
function mixesOf(mixing: Mixing): Explained<string[][]> {
  const { protocol, order, limits, chosen } = mixing;
  if (!protocol.steps.some((s) => s.per === 'mix')) return { value: [], why: [] };
  const maxMs = (w: Window): number => limits[w.id] ?? w.maxMs?.value ?? Number.MAX_SAFE_INTEGER;
  const working = mixWindows(protocol).toSorted((a, b) => maxMs(a) - maxMs(b))[0];
  if (working === undefined) {
    return { value: chosen === undefined ? [[...order]] : cut(order, chosen), why: [] };
  }
  const { leadMs, perUnitMs } = mixPaceMs(mixing, working);
  const input = {
    units: order.length,
    workingSeconds: maxMs(working) / MS_PER_SECOND,
    reserveSeconds: (maxMs(working) * RESERVE_SHARE) / MS_PER_SECOND,
    leadSeconds: leadMs / MS_PER_SECOND,
    perUnitSeconds: perUnitMs / MS_PER_SECOND,
  };
  const found = mixSizes(order.length, input);
  const sizes = chosen ?? (found.ok ? found.value : order.map(() => 1));
  const why = explain({
    id: 'mixes',
    value: sizes,
    unit: 'units',
    formula: 'units-per-mix',
    inputs: { ...input, window: working.id },
    source: sourceOf(mixesCalc, input),
    calc: { name: mixesCalc.name, input },
    decidedBy: chosen === undefined ? 'hands' : 'people',
  });
  return { value: cut(order, sizes), why: [why] };
}

/** Keeps the limits that differ from the protocol's own. */
function shortened(protocol: Protocol, limits: Readonly<Record<string, number>>) {
  const changed = protocol.windows.flatMap((w) => {
    const limitMs = limits[w.id];
    return limitMs !== undefined && limitMs < (w.maxMs?.value ?? 0)
      ? [[w.id, limitMs] as const]
      : [];
  });
  return changed.length === 0 ? {} : { windowMaxMs: Object.fromEntries(changed) };
}

/**
 * Rounds of subjects that are alike. Where the same touch ends one step and begins the next, the
 * rounds are as small as the tighter of the two asks for.
 */
function roundsAlike(o: {
  readonly same: Alike;
  readonly next: readonly Alike[];
}): readonly SubjectId[][] {
  const { same, next } = o;
  const follower = next.find(({ subjects }) => subjects.includes(same.subjects[0] ?? ''));
  if (follower === undefined) return stepRounds(same.step, same.subjects);
  const found = stepRounds(same.step, same.subjects, { follower: follower.step });
  const tighter = stepRounds(follower.step, same.subjects);
  return tighter.length > found.length ? tighter : found;
}

/** Sizes of the mixes that people chose. */
export const chosenMixes = ({ spec, choice }: PlanInput): readonly number[] | undefined =>
  choice?.mixSizes ?? spec.groups?.mixes;

/** Sizes of the rounds of a step that people chose for so many subjects. */
export function chosenRounds(
  { spec, choice }: PlanInput,
  step: Step,
  count: number,
): readonly number[] | undefined {
  const kept = spec.groups?.rounds?.[step.id];
  // Sizes of another protocol or other teeth say nothing here: it is computed again.
  const isFit = kept?.reduce((sum, size) => sum + size, 0) === count;
  return choice?.roundSizes?.[step.id] ?? (isFit ? kept : undefined);
}

function roundsOf(input: PlanInput, subjects: Subjects): Explained<Record<string, SubjectId[][]>> {
  const { spec, protocol } = input;
  const facts: Facts = { spec, protocol };
  const value: Record<string, SubjectId[][]> = {};
  const why: Explanation[] = [];
  const led = protocol.steps.filter((step) => step.hands !== undefined);
  for (const step of led) {
    const groups = alike(facts, subjects, step);
    const own = groups.flatMap((same) => same.subjects);
    const chosen = chosenRounds(input, step, own.length);
    if (chosen !== undefined) {
      const rounds = stepRounds(step, own, { chosen });
      value[step.id] = rounds;
      why.push(...explainRounds(step, rounds, { isChosen: true, material: null }));
      continue;
    }
    const next = led
      .filter((other) => other.beginsWith === step.id)
      .flatMap((other) => alike(facts, subjects, other));
    value[step.id] = groups.flatMap((same) => {
      const found = roundsAlike({ same, next });
      why.push(...explainRounds(same.step, found, { isChosen: false, material: same.material }));
      return found;
    });
  }
  return { value, why };
}

/** Who is taken together, and how the numbers came about. */
type Grouped = Pick<RunPlan, 'order' | 'mixes' | 'rounds'>;

function groupsOf(input: PlanInput, limits: Readonly<Record<string, number>>): Explained<Grouped> {
  const { spec, protocol, choice } = input;
  const order = choice?.order ?? spec.units.map((u) => u.id);
  const mixes = mixesOf({
    protocol,
    order,
    limits,
    paces: ownPaces(spec, protocol),
    chosen: chosenMixes(input),
  });
  const bare: RunPlan = { order, mixes: mixes.value, rounds: {}, exposures: {} };
  const rounds = roundsOf(input, buildSubjects(spec, bare));
  return {
    value: { order, mixes: mixes.value, rounds: rounds.value },
    why: [...mixes.why, ...rounds.why],
  };
}

/** The same plan with other people's choices: the light stays what it is. */
export function regrouped(input: PlanInput, plan: RunPlan): RunPlan {
  const limits = workingLimits(input.spec, input.protocol).value;
  return { ...plan, ...groupsOf(input, limits).value };
}

/**
 * The plan with the fewest rounds and mixes that keep their limits at the usual pace, or what people
 * chose, with how each of its numbers came about. The careful plan goes on from it.
 */
export function explainFewest(input: PlanInput): Explained<RunPlan> {
  const { spec, protocol, tables } = input;
  const limits = workingLimits(spec, protocol);
  const groups = groupsOf(input, limits.value);
  const covers: CoverCache = new Map();
  const why: Explanation[] = [
    ...explainPaces(spec, protocol),
    ...explainChanges(spec, protocol),
    ...limits.why,
    ...groups.why,
  ];
  const exposures: Record<string, RunPlan['exposures'][string]> = {};
  for (const step of protocol.steps) {
    if (step.action.kind !== 'expose') continue;
    const lit = litSubjects({ spec, protocol }, step).map(({ subject, ...on }) => {
      const found = exposurePlan({ spec, step, subject, ...on, tables, covers });
      why.push(...found.why);
      return [subject, found.value] as const;
    });
    exposures[step.id] = Object.fromEntries(lit);
  }
  const restMs = restsOf({ spec, protocol, exposures });
  const changeMs = ownChanges(spec, protocol);
  const value = {
    ...groups.value,
    exposures,
    ...(Object.keys(restMs).length === 0 ? {} : { restMs }),
    ...(Object.keys(changeMs).length === 0 ? {} : { changeMs }),
    ...shortened(protocol, limits.value),
  };
  // Surfaces of one unit share what is known about its ceramic: told once.
  return { value, why: [...new Map(why.map((each) => [each.id, each])).values()] };
}

/** The plan with the fewest rounds and mixes; see {@link explainFewest}. */
export function fewestPlan(
  spec: CaseFile,
  protocol: Protocol,
  tables: PlanTables | null = null,
): RunPlan {
  return explainFewest({ spec, protocol, tables }).value;
}
