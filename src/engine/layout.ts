/**
 * The shape of a case: every step on every subject it is done to, what each waits for, which
 * windows run between which of them, and who goes together in a round. Depends on the case file,
 * the protocol and the plan only, so it is made once and shared until the plan changes.
 */
import { present } from '../base/assert.ts';
import { type Asked, allHold, type Facts, type Standing } from '../protocol/conditions.ts';
import { beginningWith, ownStep, standingIn } from '../protocol/own-step.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { bareId, buildSubjects, type Subjects } from '../protocol/subjects.ts';
import type { Edge, Protocol, Step, Window } from '../protocol/types.ts';
import type { RunPlan, SurfacePlan } from './run-plan-types.ts';
import type { CaseState, InstanceKey } from './types.ts';

export interface Need {
  readonly key: InstanceKey;
  readonly edge: Edge;
}

/** One step on one subject. */
export interface Instance {
  readonly key: InstanceKey;
  /** Its place among the instances of the case. */
  readonly index: number;
  readonly step: Step;
  readonly stepIndex: number;
  readonly subject: SubjectId;
  readonly subjectIndex: number;
  readonly round: number;
  readonly needs: readonly Need[];
}

/** One window between two moments of two linked subjects. */
export interface WindowPair {
  readonly window: Window;
  readonly from: InstanceKey;
  readonly to: InstanceKey;
  readonly subject: SubjectId;
}

export interface Layout {
  readonly protocol: Protocol;
  readonly plan: RunPlan;
  readonly subjects: Subjects;
  readonly instances: readonly Instance[];
  readonly byKey: ReadonlyMap<InstanceKey, Instance>;
  readonly byStep: ReadonlyMap<string, readonly Instance[]>;
  /** For each step: its instances by round, in order. */
  readonly rounds: ReadonlyMap<string, readonly (readonly Instance[])[]>;
  readonly windows: readonly WindowPair[];
  readonly windowsTo: ReadonlyMap<InstanceKey, readonly WindowPair[]>;
  /** Whose clocks start with the end of this one. */
  readonly beginners: ReadonlyMap<InstanceKey, readonly Instance[]>;
  /** Steps that do not belong to a subject by its conditions, with what they would wait for. */
  readonly absent: ReadonlyMap<InstanceKey, readonly Need[]>;
}

export const instanceKey = (step: string, subject: SubjectId): InstanceKey => `${step}@${subject}`;

/** The documents that a layout is made of. */
interface LaidOut {
  readonly spec: Asked;
  readonly protocol: Protocol;
}

/** What is the same for every step of a case that is laid out. */
interface Site {
  readonly facts: Facts;
  readonly subjects: Subjects;
  readonly steps: ReadonlyMap<string, Step>;
  readonly plan: RunPlan;
  readonly known: Map<SubjectId, Standing>;
  /** Steps that later units wait for. */
  readonly waitedFor: ReadonlySet<string>;
  /** Each key once, by step and subject: the same text is found faster than an equal one. */
  readonly keys: Map<string, Map<SubjectId, InstanceKey>>;
}

function keyIn({ keys }: Site, step: string, subject: SubjectId): InstanceKey {
  const own = keys.get(step) ?? new Map<SubjectId, InstanceKey>();
  keys.set(step, own);
  const key = own.get(subject) ?? instanceKey(step, subject);
  own.set(subject, key);
  return key;
}

function standing({ facts, subjects, known }: Site, subject: SubjectId): Standing {
  const before = known.get(subject);
  if (before) return before;
  const found = standingIn(facts.spec, subjects, subject);
  known.set(subject, found);
  return found;
}

/** Steps on subjects to which they do not belong, with what they would wait for. */
type Absent = Map<InstanceKey, readonly Need[]>;

function needsOf(site: Site, step: Step, subject: SubjectId): Need[] {
  return step.after.flatMap(({ step: id, link, edge = 'end', where }) => {
    if (where !== undefined && !allHold(where, site.facts, standing(site, subject))) return [];
    const { per } = present(site.steps.get(id), `step ${id}`);
    return site.subjects
      .follow(subject, { link, scope: per })
      .map((other) => ({ key: keyIn(site, id, other), edge }));
  });
}

/** A step that does not belong to a subject hands the waiting on to what it would wait for itself. */
function handedOn(
  needs: readonly Need[],
  absent: ReadonlyMap<InstanceKey, readonly Need[]>,
): readonly Need[] {
  const [first] = needs;
  // Most steps wait for one other, which is there.
  if (first === undefined || (needs.length === 1 && !absent.has(first.key))) return needs;
  const found: Need[] = [];
  const known = { start: new Set<InstanceKey>(), end: new Set<InstanceKey>() };
  const seen = new Set<InstanceKey>();
  const add = (list: readonly Need[]): void => {
    for (const need of list) {
      const { key, edge } = need;
      const through = absent.get(key);
      if (through === undefined) {
        if (!known[edge].has(key)) found.push(need);
        known[edge].add(key);
      } else if (!seen.has(key)) {
        seen.add(key);
        add(through);
      }
    }
  };
  add(needs);
  return found;
}

/** The step whose end begins this one on the subject, past those that do not belong to it. */
function beginsAfter(site: Site, step: Step, o: { subject: SubjectId; absent: Absent }) {
  let id = step.beginsWith;
  if (id === undefined) return undefined;
  const seen = new Set<string>();
  while (id !== undefined && !seen.has(id)) {
    seen.add(id);
    const other = site.steps.get(id);
    if (other === undefined || other.per !== step.per) return id;
    if (!o.absent.has(keyIn(site, id, o.subject))) return id;
    id = other.beginsWith;
  }
  return undefined;
}

/** Round of a subject: that of the step it is taken with, or of the one its clock begins with. */
function roundOf({ plan }: Site, step: Step, subject: SubjectId): number {
  const led = plan.rounds[step.roundOf ?? step.id] ?? [];
  const own = led.findIndex((round) => round.includes(subject));
  if (own >= 0) return own;
  const others = step.beginsWith === undefined ? [] : (plan.rounds[step.beginsWith] ?? []);
  const other = others.findIndex((round) => round.includes(subject));
  return other < 0 ? 0 : led.length + other;
}

/**
 * Subjects in the order in which they come up. What is waited for by later units, such as the contacts
 * between those that are seated, comes up with the last unit that it belongs to.
 */
function comingUp({ subjects, waitedFor }: Site, step: Step): readonly SubjectId[] {
  const own = subjects.order[step.per];
  if (!waitedFor.has(step.id)) return own;
  const last = (subject: SubjectId): number =>
    Math.max(
      -1,
      ...subjects.linked(subject, 'unit').map((unit) => subjects.order.unit.indexOf(unit)),
    );
  return own.toSorted((a, b) => last(a) - last(b));
}

function instancesOf(site: Site, protocol: Protocol): { instances: Instance[]; absent: Absent } {
  const absent: Absent = new Map();
  const kept = protocol.steps.flatMap((step, stepIndex) =>
    comingUp(site, step).flatMap((subject, subjectIndex) => {
      const stands = standing(site, subject);
      if (allHold(step.where, site.facts, stands))
        return [{ step, stepIndex, subject, subjectIndex, stands }];
      absent.set(keyIn(site, step.id, subject), needsOf(site, step, subject));
      return [];
    }),
  );
  const instances = kept.map((each, index): Instance => {
    const { step, stepIndex, stands, subject, subjectIndex } = each;
    const beginsWith = beginsAfter(site, step, { subject, absent });
    const own = beginningWith(ownStep(step, site.facts, stands), beginsWith);
    return {
      stepIndex,
      subjectIndex,
      index,
      key: keyIn(site, step.id, subject),
      step: own,
      subject,
      round: roundOf(site, own, subject),
      needs: handedOn(needsOf(site, step, subject), absent),
    };
  });
  return { instances, absent };
}

function windowPairs(
  protocol: Protocol,
  subjects: Subjects,
  absent: ReadonlyMap<InstanceKey, unknown>,
): WindowPair[] {
  const per = new Map(protocol.steps.map((s) => [s.id, s.per]));
  const pairs = protocol.windows.flatMap((window) => {
    const toScope = present(per.get(window.to.step), window.to.step);
    const fromScope = present(per.get(window.from.step), window.from.step);
    const isMeant = (from: SubjectId, to: SubjectId) =>
      window.match !== 'last' || subjects.linked(to, fromScope).at(-1) === from;
    return subjects.order[fromScope].flatMap((from) =>
      subjects
        .linked(from, toScope)
        .filter((to) => isMeant(from, to))
        .map((to) => ({
          window,
          from: instanceKey(window.from.step, from),
          to: instanceKey(window.to.step, to),
          subject: to === 'case' ? from : to,
        })),
    );
  });
  return absent.size === 0
    ? pairs
    : pairs.filter((pair) => !absent.has(pair.from) && !absent.has(pair.to));
}

function grouped<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const group = groups.get(keyOf(item));
    if (group) group.push(item);
    else groups.set(keyOf(item), [item]);
  }
  return groups;
}

/** The same instances step by step, each step where its first one stands. */
export function byStepOf(instances: readonly Instance[]): readonly (readonly Instance[])[] {
  return [...grouped(instances, ({ step }) => step.id).values()];
}

function roundsOf(instances: readonly Instance[]): (readonly Instance[])[] {
  const byRound = [...grouped(instances, (i) => String(i.round)).values()];
  return byRound.sort((a, b) => present(a[0], 'round').round - present(b[0], 'round').round);
}

function beginnersOf(
  instances: readonly Instance[],
  subjects: Subjects,
  steps: ReadonlyMap<string, Step>,
): ReadonlyMap<InstanceKey, readonly Instance[]> {
  const found = new Map<InstanceKey, Instance[]>();
  for (const instance of instances) {
    const before = steps.get(instance.step.beginsWith ?? '');
    if (before === undefined) continue;
    for (const subject of subjects.linked(instance.subject, before.per)) {
      const key = instanceKey(before.id, subject);
      const list = found.get(key);
      if (list) list.push(instance);
      else found.set(key, [instance]);
    }
  }
  return found;
}

/** Lays out a case afresh; {@link layoutOf} keeps what it made. */
export function buildLayout(opened: LaidOut, plan: RunPlan): Layout {
  const { protocol, spec } = opened;
  const subjects = buildSubjects(spec, plan);
  const steps = new Map(protocol.steps.map((step) => [step.id, step]));
  const waits = protocol.steps.flatMap(({ after }) => after);
  const waitedFor = new Set(waits.filter((w) => w.link === 'earlier').map((w) => w.step));
  const facts = { spec, protocol };
  const site: Site = { facts, subjects, steps, plan, known: new Map(), waitedFor, keys: new Map() };
  const { instances, absent } = instancesOf(site, protocol);
  const byKey = new Map(instances.map((i) => [i.key, i]));
  const byStep = grouped(instances, (i) => i.step.id);
  const windows = windowPairs(protocol, subjects, absent);
  return {
    protocol,
    plan,
    subjects,
    instances,
    byKey,
    absent,
    byStep,
    rounds: new Map([...byStep].map(([step, list]) => [step, roundsOf(list)])),
    windows,
    windowsTo: grouped(windows, (w) => w.to),
    beginners: beginnersOf(instances, subjects, steps),
  };
}

interface Kept {
  readonly spec: LaidOut['spec'];
  readonly layout: Layout;
}

/** By plan and by protocol: where the app speaks another language, its told protocol has the same plan. */
const known = new WeakMap<RunPlan, WeakMap<Protocol, Kept>>();

/** The layout of a case; the same object for as long as its plan and its documents are the same objects. */
export function layoutOf(state: Pick<CaseState, 'opened' | 'plan'>): Layout {
  const { spec, protocol } = state.opened;
  const ofPlan = known.get(state.plan) ?? new WeakMap<Protocol, Kept>();
  const hit = ofPlan.get(protocol);
  if (hit?.spec === spec) return hit.layout;
  const layout = buildLayout(state.opened, state.plan);
  ofPlan.set(protocol, { spec, layout });
  known.set(state.plan, ofPlan);
  return layout;
}

/** How long one subject rests between two exposures, from the plan or else from the protocol. In ms. */
export function restMs(layout: Layout, { step, subject }: Instance): number {
  if (step.action.kind !== 'expose') return 0;
  const planned = layout.plan.restMs?.[step.id]?.[bareId(subject)];
  return planned ?? step.action.restMs?.value ?? 0;
}

/** Whether light on one subject falls on a tooth of the other. */
export function shareTooth({ subjects }: Layout, a: SubjectId, b: SubjectId): boolean {
  if (a === b) return true;
  const teeth = subjects.teethOf(b);
  return subjects.teethOf(a).some((tooth) => teeth.includes(tooth));
}

/** What one exposing step owes one unit or tooth, from the plan or else from the protocol's own time. */
export function surfacePlans(layout: Layout, instance: Instance): readonly SurfacePlan[] {
  const { action } = instance.step;
  if (action.kind !== 'expose') return [];
  const planned = layout.plan.exposures[instance.step.id]?.[bareId(instance.subject)];
  if (planned) return planned;
  return action.surfaces.map((surface) => ({
    surface,
    setMs: action.perSurfaceMs?.value ?? 0,
    positions: 1,
    decidedBy: 'product',
  }));
}
