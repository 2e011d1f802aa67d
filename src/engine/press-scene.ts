/** What deciding a press goes by, and what every kind of press asks and says. */
import { unreachable } from '../base/assert.ts';
import { err, ok, type Result } from '../base/result.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { type Refusal, refusal } from './commands.ts';
import { impliedBy, impliedByAll } from './implied.ts';
import { byStepOf, type Instance, instanceKey, type Layout } from './layout.ts';
import { allLed, plainPlace } from './light-pass.ts';
import type { SweepMs } from './pressing-types.ts';
import { readBackOf, type TellReadBack } from './read-back.ts';
import { applies, type Status, type StatusReader } from './status.ts';
import type { CaseEvent, CaseInstant, CaseState } from './types.ts';

export type Decision = Result<readonly CaseEvent[], Refusal>;

export interface PressScene {
  readonly state: CaseState;
  readonly layout: Layout;
  readonly statuses: StatusReader;
  readonly now: CaseInstant;
  readonly tell: TellReadBack;
}

/** The instances a press names, or why they cannot be found. */
export function namedInstances(
  layout: Layout,
  named: { readonly step: string; readonly subjects: readonly string[] },
): Result<readonly Instance[], Refusal> {
  if (!layout.protocol.steps.some(({ id }) => id === named.step))
    return err(refusal('unknown-step', { step: named.step }));
  const found: Instance[] = [];
  for (const subject of named.subjects) {
    const key = instanceKey(named.step, subject);
    const instance = layout.byKey.get(key);
    if (layout.absent.has(key))
      return err(refusal('does-not-apply', { step: named.step, subject }));
    if (!instance) return err(refusal('unknown-subject', { step: named.step, subject }));
    found.push(instance);
  }
  if (found.length === 0) return err(refusal('unknown-subject', { step: named.step, subject: '' }));
  return ok(found);
}

export function refuseStatus(
  scene: PressScene,
  instance: Instance,
  wanted: Status,
): Refusal | null {
  const status = scene.statuses.of(instance);
  if (status === wanted) return null;
  if (wanted === 'open' && impliedBy(scene, instance) !== null) return null;
  const values = { step: instance.step.id, subject: instance.subject };
  switch (status) {
    case 'not-applicable':
      return refusal('does-not-apply', values);
    case 'blocked': {
      const missing = scene.statuses.missing(instance).map((n) => n.key);
      return refusal('not-yet', values, missing);
    }
    case 'open':
      return refusal('not-running', values);
    case 'running':
      return refusal('already-running', values);
    case 'done':
    case 'skipped':
      return refusal('already-done', values);
    default:
      return unreachable(status);
  }
}

export function refuseAny(
  scene: PressScene,
  instances: readonly Instance[],
  wanted: Status,
): Refusal | null {
  for (const instance of instances) {
    const no = refuseStatus(scene, instance, wanted);
    if (no) return no;
  }
  return null;
}

/** How a case stands, whoever presses. */
type Standing = Pick<PressScene, 'state' | 'layout' | 'statuses'>;

/** Steps whose clock starts with the end of these instances, on the same subjects. */
export function beginnings(
  scene: Standing,
  ended: readonly Instance[],
  sweep: SweepMs | null = null,
): CaseEvent[] {
  const next = ended.flatMap((i) => scene.layout.beginners.get(i.key) ?? []);
  const begun = new Map<string, Set<SubjectId>>();
  for (const instance of next.toSorted((a, b) => a.stepIndex - b.stepIndex)) {
    if (scene.statuses.run(instance)) continue;
    if (applies(scene.state, scene.layout, instance) !== 'yes') continue;
    const subjects = begun.get(instance.step.id) ?? new Set();
    begun.set(instance.step.id, subjects.add(instance.subject));
  }
  return [...begun].map(([step, subjects]) => ({
    type: 'step-started',
    step,
    subjects: [...subjects],
    ...(sweep && { sweep }),
  }));
}

/** Steps that were done unpressed, as another press or a way back says it, with what began with them. */
export function saidEvents(
  scene: Standing,
  instances: readonly Instance[],
  by: string,
): readonly CaseEvent[] {
  return byStepOf(instances).flatMap((own): CaseEvent[] => {
    const step = own[0]?.step.id ?? '';
    const subjects = own.map(({ subject }) => subject);
    const confirmed = { type: 'step-confirmed', step, subjects, impliedBy: by } as const;
    return [confirmed, ...beginnings(scene, own)];
  });
}

/** What the press of these instances says of earlier steps, and whether it confirms the pass of light. */
export function impliedEvents(scene: PressScene, instances: readonly Instance[]): CaseEvent[] {
  const [first] = instances;
  if (first === undefined) return [];
  const by = first.step.id;
  const { steps, pass } = impliedByAll(scene, instances);
  const { lightPass } = scene.state;
  const confirmed: CaseEvent[] =
    pass && lightPass !== null
      ? [
          {
            type: 'light-pass-confirmed',
            step: lightPass.step,
            places: allLed(lightPass).map(plainPlace),
            impliedBy: by,
          },
        ]
      : [];
  return [...confirmed, ...saidEvents(scene, steps, by)];
}

type Told = Extract<CaseEvent, { type: 'step-confirmed' | 'option-chosen' }>;

/** The event with what its step says is read aloud, if it says so. */
export function withReadBack(
  scene: PressScene,
  instances: readonly Instance[],
  event: Told,
): CaseEvent {
  const { subjects } = event;
  const { state, now, tell } = scene;
  const lines = readBackOf(state, instances[0]?.step, { now, subjects });
  return lines === null ? event : { ...event, evidence: tell(lines, state.opened) };
}
