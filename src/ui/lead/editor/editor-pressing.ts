/** What the form of a step knows of how it is pressed: the ways, their sentences, what shipped. */
import { unreachable } from '../../../base/assert.ts';
import { isSameJson } from '../../../base/json.ts';
import type { Edit } from '../../../protocol/edit-types.ts';
import { howClosely } from '../../../protocol/how-closely.ts';
import { withField } from '../../../protocol/schema-fields.ts';
import type { Figure, Pressing, Protocol, Step } from '../../../protocol/types.ts';
import { newSweepTime, waysToPress } from '../../../protocol/ways-to-press.ts';
import { type JudgedLine, judgedLines } from '../../../words/pressing-words.ts';
import { isBlank } from './new-figures.ts';

export type WayKind = Pressing['kind'] | 'each';

export interface Way {
  readonly kind: WayKind;
  readonly pressed: Pressing | null;
  readonly lines: readonly JudgedLine[];
}

export const withWay = (step: Step, pressed: Pressing | null): Step =>
  withField(step, 'pressed', pressed ?? undefined);

const withStep = (protocol: Protocol, step: Step): Protocol => ({
  ...protocol,
  steps: protocol.steps.map((other) => (other.id === step.id ? step : other)),
});

/** A number that nobody has typed yet is judged as one that binds nothing. */
const LONG_MS = 3_600_000;
const typed = (figure: Figure): Figure =>
  isBlank(figure) ? { ...figure, value: LONG_MS } : figure;

function judged(action: Step['action']): Step['action'] {
  switch (action.kind) {
    case 'dwell':
      return { ...action, targetMs: typed(action.targetMs) };
    case 'coats':
      return isBlank(action.count) ? { ...action, count: { ...action.count, value: 1 } } : action;
    case 'expose':
      return action.perSurfaceMs === undefined
        ? action
        : { ...action, perSurfaceMs: typed(action.perSurfaceMs) };
    case 'confirm':
    case 'tally':
    case 'choose':
      return action;
    default:
      return unreachable(action);
  }
}

/** The ways that fit the step, one press for each first, with what each says of the limits. */
export function waysOf(draft: Protocol, form: Step): readonly Way[] {
  const step = { ...form, action: judged(form.action) };
  const isThere = draft.steps.some(({ id }) => id === step.id);
  const protocol = isThere ? withStep(draft, step) : { ...draft, steps: [...draft.steps, step] };
  const ways = waysToPress(protocol, step).map((pressed): Way => {
    const lines = judgedLines(howClosely(protocol, step.id, pressed), 'pressed');
    return { kind: pressed.kind, pressed, lines };
  });
  const each = judgedLines(howClosely(protocol, step.id, null), 'each');
  return [{ kind: 'each', pressed: null, lines: each }, ...ways];
}

/** One edge of a sweep, switched on or off. */
export function withEdge(pressed: Pressing, edge: 'start' | 'end', isOn: boolean): Pressing {
  if (pressed.kind !== 'sweep') return pressed;
  return withField(pressed, edge, isOn ? (pressed[edge] ?? newSweepTime()) : undefined);
}

/** The way that came with the template; undefined where it has no such step, or it is the same. */
export function shippedWay(template: Protocol, step: Step): Pressing | null | undefined {
  const shipped = template.steps.find(({ id }) => id === step.id);
  if (shipped === undefined || isSameJson(shipped.pressed, step.pressed)) return undefined;
  return shipped.pressed ?? null;
}

/** A list that the way which shipped is a line of comes back with it. */
export function listEdits(draft: Protocol, template: Protocol, step: Step): readonly Edit[] {
  const { pressed } = step;
  if (pressed?.kind !== 'list') return [];
  if (draft.lists?.some(({ id }) => id === pressed.list) === true) return [];
  const item = template.lists?.find(({ id }) => id === pressed.list);
  return item === undefined ? [] : [{ do: 'add', part: 'lists', item, before: null }];
}
