/**
 * Decides a press: checks that the thing offered can be done to these subjects now and says which
 * events record it. Short, early and late are never refused; they become breaches when applied.
 */
import { unreachable } from '../base/assert.ts';
import { err, ok } from '../base/result.ts';
import type { Step } from '../protocol/types.ts';
import { type Pressed, refusal } from './commands.ts';
import { decideLight, decideLightPass } from './decide-light.ts';
import { decideList } from './decide-list.ts';
import { coatsBetween, impliedBy } from './implied.ts';
import type { Instance } from './layout.ts';
import {
  beginnings,
  type Decision,
  impliedEvents,
  namedInstances,
  type PressScene,
  refuseAny,
  refuseStatus,
  withReadBack,
} from './press-scene.ts';
import { sweepOver } from './sweep.ts';
import type { CaseEvent } from './types.ts';
import type { Offer } from './view-types.ts';

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
  list: null,
  'pass-begin': 'expose',
  'pass-stop': 'expose',
  'pass-confirm': 'expose',
  close: null,
};

function endsNow(scene: PressScene, instances: readonly Instance[], between: number): boolean {
  return instances.every(({ key, step }) => {
    if (step.action.kind !== 'coats') return true;
    return (scene.state.runs[key]?.counts.length ?? 0) + between + 1 === step.action.count.value;
  });
}

/** Coats that a press may say beside its own: no more than lie between the first and the last. */
function allowedBetween(scene: PressScene, instances: readonly Instance[], p: Pressed): number {
  const most = instances.map(({ key, step }) =>
    coatsBetween(step, scene.state.runs[key]?.counts.length ?? 0),
  );
  return Math.min(p.between ?? 0, ...most);
}

function decideCoat(scene: PressScene, instances: readonly Instance[], p: Pressed): Decision {
  for (const instance of instances) {
    const status = scene.statuses.of(instance);
    // More coats than planned may be pressed, so a step that is done is no refusal here.
    if (status === 'running' || status === 'open' || status === 'done') continue;
    if (impliedBy(scene, instance) !== null) continue;
    const no = refuseStatus(scene, instance, 'open');
    if (no) return err(no);
  }
  const { step, subjects } = p;
  const coat: CaseEvent = { type: 'coat-applied', step, subjects };
  const between = Array.from(
    { length: allowedBetween(scene, instances, p) },
    (): CaseEvent => ({ ...coat, impliedBy: step }),
  );
  const ended = endsNow(scene, instances, between.length) ? beginnings(scene, instances) : [];
  return ok([...impliedEvents(scene, instances), ...between, coat, ...ended]);
}

function decidePass(scene: PressScene, instances: readonly Instance[], p: Pressed): Decision {
  for (const instance of instances) {
    if (scene.statuses.of(instance) === 'running') continue;
    const no = refuseStatus(scene, instance, 'open');
    if (no) return err(no);
  }
  const made = p.subjects.map(
    (subject): CaseEvent => ({ type: 'pass-made', step: p.step, subject }),
  );
  return ok([...impliedEvents(scene, instances), ...made]);
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
  return decidePassesDone(scene, instances, p, passes);
}

/** Ends a count behind the passes of the same press; without any pass made, none was needed. */
function decidePassesDone(
  scene: PressScene,
  instances: readonly Instance[],
  p: Pressed,
  passes: readonly CaseEvent[] = [],
): Decision {
  const { step, subjects } = p;
  for (const instance of instances) {
    if (scene.statuses.of(instance) === 'running') continue;
    const no = refuseStatus(scene, instance, 'open');
    if (no) return err(no);
  }
  return ok([
    ...impliedEvents(scene, instances),
    ...passes,
    { type: 'step-ended', step, subjects },
    ...beginnings(scene, instances),
  ]);
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
  return ok([
    ...impliedEvents(scene, instances),
    withReadBack(scene, instances, chosen),
    ...beginnings(scene, instances),
  ]);
}

/** Decides a press on work; closing the case is decided in `decide.ts`. */
export function decidePress(scene: PressScene, p: Pressed, evidence?: string): Decision {
  if (p.kind === 'list') return decideList(scene, p);
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
      return ok([
        ...impliedEvents(scene, instances),
        said ?? withReadBack(scene, instances, event),
        ...beginnings(scene, instances),
      ]);
    }
    case 'start': {
      const no = refuseAny(scene, instances, 'open');
      if (no) return err(no);
      const sweep = sweepOver(scene.layout, instances, 'start');
      return ok([
        ...impliedEvents(scene, instances),
        { type: 'step-started', step, subjects, ...(sweep && { sweep }) },
      ]);
    }
    case 'end': {
      const no = refuseAny(scene, instances, 'running');
      if (no) return err(no);
      const sweep = sweepOver(scene.layout, instances, 'end');
      return ok([
        { type: 'step-ended', step, subjects, ...(sweep && { sweep }) },
        ...beginnings(scene, instances, sweep),
      ]);
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
    case 'pass-begin':
    case 'pass-stop':
    case 'pass-confirm':
      return decideLightPass(scene, instances, p);
    case 'close':
      return err(refusal('wrong-press', { step, kind: p.kind }));
    default:
      return unreachable(p.kind);
  }
}
