/**
 * The shape of a case: every step on every subject it is done to, what each waits for, which
 * windows run between which of them, and who goes together in a round. Depends on the case file,
 * the protocol and the plan only, so it is made once and shared until the plan changes.
 */
import { present } from '../base/assert.ts';
import { commonMaterial, stepForMaterial } from '../protocol/by-material.ts';
import { bareId, buildSubjects, type Subjects } from '../protocol/subjects.ts';
import type { CaseFile, Edge, Protocol, Step, Window } from '../protocol/types.ts';
import type { CaseState, InstanceKey, RunPlan, SubjectId, SurfacePlan } from './types.ts';

export interface Need {
  readonly key: InstanceKey;
  readonly edge: Edge;
}

/** One step on one subject. */
export interface Instance {
  readonly key: InstanceKey;
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
  /** Steps whose clocks start with the end of this step. */
  readonly beginners: ReadonlyMap<string, readonly Step[]>;
}

export const instanceKey = (step: string, subject: SubjectId): InstanceKey => `${step}@${subject}`;

function needsOf(
  o: { readonly subject: SubjectId; readonly subjects: Subjects },
  step: Step,
  steps: ReadonlyMap<string, Step>,
): Need[] {
  return step.after.flatMap(({ step: id, link, edge = 'end' }) => {
    const { per } = present(steps.get(id), `step ${id}`);
    return o.subjects
      .follow(o.subject, { link, scope: per })
      .map((subject) => ({ key: instanceKey(id, subject), edge }));
  });
}

function roundIndex(plan: RunPlan, step: Step): ReadonlyMap<SubjectId, number> {
  const rounds = plan.rounds[step.roundOf ?? step.id];
  const index = new Map<SubjectId, number>();
  rounds?.forEach((round, i) => {
    for (const subject of round) index.set(subject, i);
  });
  return index;
}

/** The documents that a layout is made of. */
interface LaidOut {
  readonly spec: Pick<CaseFile, 'units'>;
  readonly protocol: Protocol;
}

function instancesOf({ protocol, spec }: LaidOut, plan: RunPlan, subjects: Subjects): Instance[] {
  const materialOf = (subject: SubjectId) =>
    commonMaterial(spec, subjects.linked(subject, 'unit').map(bareId));
  const steps = new Map(protocol.steps.map((s) => [s.id, s]));
  return protocol.steps.flatMap((step, stepIndex) => {
    const round = roundIndex(plan, step);
    return subjects.order[step.per].map((subject, subjectIndex) => ({
      key: instanceKey(step.id, subject),
      step: stepForMaterial(step, materialOf(subject)),
      stepIndex,
      subject,
      subjectIndex,
      round: round.get(subject) ?? 0,
      needs: needsOf({ subject, subjects }, step, steps),
    }));
  });
}

function windowPairs(protocol: Protocol, subjects: Subjects): WindowPair[] {
  const per = new Map(protocol.steps.map((s) => [s.id, s.per]));
  return protocol.windows.flatMap((window) => {
    const toScope = present(per.get(window.to.step), window.to.step);
    const fromScope = present(per.get(window.from.step), window.from.step);
    return subjects.order[fromScope].flatMap((from) =>
      subjects.linked(from, toScope).map((to) => ({
        window,
        from: instanceKey(window.from.step, from),
        to: instanceKey(window.to.step, to),
        subject: to === 'case' ? from : to,
      })),
    );
  });
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

function roundsOf(instances: readonly Instance[]): (readonly Instance[])[] {
  const byRound = [...grouped(instances, (i) => String(i.round)).values()];
  return byRound.sort((a, b) => present(a[0], 'round').round - present(b[0], 'round').round);
}

/** Lays out a case afresh; {@link layoutOf} keeps what it made. */
export function buildLayout(opened: LaidOut, plan: RunPlan): Layout {
  const { protocol, spec } = opened;
  const subjects = buildSubjects(spec, plan);
  const instances = instancesOf(opened, plan, subjects);
  const byStep = grouped(instances, (i) => i.step.id);
  const windows = windowPairs(protocol, subjects);
  return {
    protocol,
    plan,
    subjects,
    instances,
    byKey: new Map(instances.map((i) => [i.key, i])),
    byStep,
    rounds: new Map([...byStep].map(([step, list]) => [step, roundsOf(list)])),
    windows,
    windowsTo: grouped(windows, (w) => w.to),
    beginners: grouped(
      protocol.steps.filter((s) => s.beginsWith !== undefined),
      (s) => s.beginsWith ?? '',
    ),
  };
}

const known = new WeakMap<RunPlan, { opened: CaseState['opened']; layout: Layout }>();

/** The layout of a case; the same object for as long as its plan is the same object. */
export function layoutOf(state: Pick<CaseState, 'opened' | 'plan'>): Layout {
  const hit = known.get(state.plan);
  if (hit && hit.opened === state.opened) return hit.layout;
  const layout = buildLayout(state.opened, state.plan);
  known.set(state.plan, { opened: state.opened, layout });
  return layout;
}

/** What one exposing step owes one unit, from the plan or else from the protocol's own time. */
export function surfacePlans(layout: Layout, instance: Instance): readonly SurfacePlan[] {
  const { action } = instance.step;
  if (action.kind !== 'expose') return [];
  const unit = instance.subject.slice(instance.subject.indexOf(':') + 1);
  const planned = layout.plan.exposures[instance.step.id]?.[unit];
  if (planned) return planned;
  return action.surfaces.map((surface) => ({
    surface,
    setMs: action.perSurfaceMs?.value ?? 0,
    positions: 1,
    decidedBy: 'product',
  }));
}
