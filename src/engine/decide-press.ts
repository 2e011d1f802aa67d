/**
 * Decides a press: checks that the thing offered can be done to these subjects now and says which
 * events record it. Short, early and late are never refused; they become breaches when applied.
 */
import { unreachable } from '../base/assert.ts';
import { err, ok, type Result } from '../base/result.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Step } from '../protocol/types.ts';
import { type Pressed, type Refusal, refusal } from './commands.ts';
import { type Instance, instanceKey, type Layout, surfacePlans } from './layout.ts';
import { readBackOf, type TellReadBack } from './read-back.ts';
import { applies, type Status, type StatusReader } from './status.ts';
import type { CaseEvent, CaseInstant, CaseState } from './types.ts';
import type { Offer } from './view-types.ts';

type Decision = Result<readonly CaseEvent[], Refusal>;

interface PressScene {
  readonly state: CaseState;
  readonly layout: Layout;
  readonly statuses: StatusReader;
  readonly now: CaseInstant;
  readonly tell: TellReadBack;
}

const STEP_KIND: Readonly<Record<Offer['kind'], Step['action']['kind'] | null>> = {
  confirm: 'confirm',
  start: 'dwell',
  end: 'dwell',
  coat: 'coats',
  pass: 'tally',
  'all-passes': 'tally',
  'passes-done': 'tally',
  choose: 'choose',
  'light-on': 'expose',
  'light-move': 'expose',
  'light-off': 'expose',
  close: null,
};

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

function refuseStatus(scene: PressScene, instance: Instance, wanted: Status): Refusal | null {
  const status = scene.statuses.of(instance);
  if (status === wanted) return null;
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

function refuseAny(
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

/** Steps whose clock starts with the end of these instances, on the same subjects. */
function beginnings(scene: PressScene, ended: readonly Instance[]): CaseEvent[] {
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
  }));
}

function endsNow(scene: PressScene, instances: readonly Instance[]): boolean {
  return instances.every(({ key, step }) => {
    if (step.action.kind !== 'coats') return true;
    return (scene.state.runs[key]?.counts.length ?? 0) + 1 === step.action.count.value;
  });
}

function decideCoat(scene: PressScene, instances: readonly Instance[], p: Pressed): Decision {
  for (const instance of instances) {
    const status = scene.statuses.of(instance);
    // More coats than planned may be pressed, so a step that is done is no refusal here.
    if (status === 'running' || status === 'open' || status === 'done') continue;
    const no = refuseStatus(scene, instance, 'open');
    if (no) return err(no);
  }
  const { step, subjects } = p;
  const coat: CaseEvent = { type: 'coat-applied', step, subjects };
  return ok(endsNow(scene, instances) ? [coat, ...beginnings(scene, instances)] : [coat]);
}

function decidePass(scene: PressScene, instances: readonly Instance[], p: Pressed): Decision {
  for (const instance of instances) {
    if (scene.statuses.of(instance) === 'running') continue;
    const no = refuseStatus(scene, instance, 'open');
    if (no) return err(no);
  }
  return ok(p.subjects.map((subject) => ({ type: 'pass-made', step: p.step, subject })));
}

/** Every pass that the limit still allows, and the end, with one press. */
function decideAllPasses(scene: PressScene, instances: readonly Instance[], p: Pressed): Decision {
  const passes = instances.flatMap(({ key, subject, step: { action } }) => {
    const made = scene.state.runs[key]?.counts.length ?? 0;
    const left = action.kind === 'tally' ? Math.max(0, action.passesMax.value - made) : 0;
    return Array.from(
      { length: left },
      (): CaseEvent => ({
        type: 'pass-made',
        step: p.step,
        subject,
      }),
    );
  });
  const ended = decidePassesDone(scene, instances, p);
  return ended.ok ? ok([...passes, ...ended.value]) : ended;
}

/** Ends a count; without any pass made, none was needed. */
function decidePassesDone(scene: PressScene, instances: readonly Instance[], p: Pressed): Decision {
  const { step, subjects } = p;
  for (const instance of instances) {
    if (scene.statuses.of(instance) === 'running') continue;
    const no = refuseStatus(scene, instance, 'open');
    if (no) return err(no);
  }
  return ok([{ type: 'step-ended', step, subjects }, ...beginnings(scene, instances)]);
}

type Told = Extract<CaseEvent, { type: 'step-confirmed' | 'option-chosen' }>;

/** The event with what its step says is read aloud, if it says so. */
function withReadBack(scene: PressScene, instances: readonly Instance[], event: Told): CaseEvent {
  const { subjects } = event;
  const { state, now, tell } = scene;
  const lines = readBackOf(state, instances[0]?.step, { now, subjects });
  return lines === null ? event : { ...event, evidence: tell(lines, state.opened) };
}

function decideChoice(scene: PressScene, instances: readonly Instance[], p: Pressed): Decision {
  const no = refuseAny(scene, instances, 'open');
  if (no) return err(no);
  const { action } = instances[0]?.step ?? {};
  const known = action?.kind === 'choose' ? action.options.some((o) => o.id === p.option) : false;
  if (!known || p.option === undefined) {
    return err(refusal('unknown-option', { step: p.step, option: p.option ?? '' }));
  }
  const { step, subjects, option } = p;
  const chosen = { type: 'option-chosen', step, subjects, option } as const;
  return ok([withReadBack(scene, instances, chosen), ...beginnings(scene, instances)]);
}

/** The light that is on, as off. */
export function litEvents({ state, layout }: Pick<PressScene, 'state' | 'layout'>): CaseEvent[] {
  return layout.instances.flatMap(({ key, step, subject }) => {
    const lit = state.runs[key]?.lit;
    if (!lit) return [];
    const { surface, position } = lit;
    return [{ type: 'exposure-stopped', step: step.id, subject, surface, position }];
  });
}

function decideLight(scene: PressScene, instances: readonly Instance[], p: Pressed): Decision {
  const off = litEvents(scene);
  if (p.kind === 'light-off') {
    return off.length > 0 ? ok(off) : err(refusal('light-is-off', { step: p.step }));
  }
  if (p.kind === 'light-on' && off.length > 0) {
    return err(refusal('light-is-on', { step: p.step }));
  }
  for (const instance of instances) {
    if (scene.statuses.of(instance) === 'running') continue;
    const no = refuseStatus(scene, instance, 'open');
    if (no) return err(no);
  }
  const { step, surface, position = 1, setMs } = p;
  const [instance, ...others] = instances;
  const plans = instance ? surfacePlans(scene.layout, instance) : [];
  const positions = plans.find((plan) => plan.surface === surface)?.positions ?? 0;
  const isPlace = Number.isInteger(position) && position >= 1 && position <= positions;
  const isSet = setMs !== undefined && Number.isFinite(setMs) && setMs > 0;
  if (!instance || others.length > 0 || !surface || !isPlace || !isSet) {
    return err(refusal('wrong-press', { step, kind: p.kind }));
  }
  const { subject } = instance;
  return ok([...off, { type: 'exposure-started', step, subject, surface, position, setMs }]);
}

/** Decides a press on work; closing the case is decided in `decide.ts`. */
export function decidePress(scene: PressScene, p: Pressed, evidence?: string): Decision {
  const named = namedInstances(scene.layout, p);
  if (!named.ok) return named;
  const instances = named.value;
  const { step, subjects } = p;
  const stepKind = instances[0]?.step.action.kind;
  if (STEP_KIND[p.kind] !== stepKind) return err(refusal('wrong-press', { step, kind: p.kind }));
  switch (p.kind) {
    case 'confirm': {
      const no = refuseAny(scene, instances, 'open');
      if (no) return err(no);
      const event = { type: 'step-confirmed', step, subjects } as const;
      const said = evidence === undefined ? null : { ...event, evidence };
      return ok([said ?? withReadBack(scene, instances, event), ...beginnings(scene, instances)]);
    }
    case 'start': {
      const no = refuseAny(scene, instances, 'open');
      return no ? err(no) : ok([{ type: 'step-started', step, subjects }]);
    }
    case 'end': {
      const no = refuseAny(scene, instances, 'running');
      if (no) return err(no);
      return ok([{ type: 'step-ended', step, subjects }, ...beginnings(scene, instances)]);
    }
    case 'coat':
      return decideCoat(scene, instances, p);
    case 'passes-done':
      return decidePassesDone(scene, instances, p);
    case 'all-passes':
      return decideAllPasses(scene, instances, p);
    case 'pass':
      return decidePass(scene, instances, p);
    case 'choose':
      return decideChoice(scene, instances, p);
    case 'light-on':
    case 'light-move':
    case 'light-off':
      return decideLight(scene, instances, p);
    case 'close':
      return err(refusal('wrong-press', { step, kind: p.kind }));
    default:
      return unreachable(p.kind);
  }
}
