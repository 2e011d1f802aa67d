/** What the form of a step makes of it: another kind, texts that stand deeper, ids for what is new. */
import { isRecord } from '../../../base/json.ts';
import { pressingFits } from '../../../protocol/check-pressing.ts';
import { freeId } from '../../../protocol/edit.ts';
import type { Edit } from '../../../protocol/edit-types.ts';
import { withField } from '../../../protocol/schema-fields.ts';
import type { Action, Evidence, Protocol, Step } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { entryEdits, newAction, type OpenEntry } from './editor-new.ts';
import { withWay } from './editor-pressing.ts';

/** The groups of the form of a step, with the fields that each holds. */
export const STEP_GROUPS = {
  what: ['title', 'instruction', 'why', 'stage', 'per', 'by', 'field', 'earlier'],
  flags: ['optional', 'mayHurt'],
  waits: ['after', 'beginsWith', 'onlyIf', 'where'],
  asked: ['action', 'rangeClass'],
  pressed: ['together', 'roundOf', 'hands', 'pressed'],
  uses: ['usesLight', 'uses', 'cautions'],
  texts: ['words', 'some'],
} as const satisfies Readonly<Record<string, readonly (keyof Step)[]>>;

export function withKind(step: Step, kind: Action['kind']): Step {
  if (kind === step.action.kind) return step;
  const { hands: _hands, beginsWith: _begins, ...rest } = step;
  const next: Step = { ...(kind === 'dwell' ? step : rest), action: newAction(kind) };
  const { pressed } = next;
  return pressed === undefined || pressingFits(pressed.kind, next) ? next : withWay(next, null);
}

/** A record inside of an entry with one more text; undefined once nothing is left in it. */
export function withText<T extends object>(
  inner: T | undefined,
  key: string,
  value: unknown,
): object | undefined {
  const next = withField<object>(inner ?? {}, key as never, value);
  return Object.keys(next).length === 0 ? undefined : next;
}

/** What is asked, with the least it needs. What nobody has typed yet is empty and is asked for. */
export function newEvidence(kind: Evidence['kind'], { slots }: Pick<Protocol, 'slots'>): Evidence {
  switch (kind) {
    case 'choice':
      return { kind, options: [{ id: 'yes', label: editorWords.newOption }] };
    case 'reading':
      return { kind, label: '', unit: '', min: Number.NaN, max: Number.NaN };
    case 'material':
      return { kind, slot: slots[0]?.id ?? '' };
    case 'note':
      return { kind, label: '' };
    case 'read-back':
      return { kind, of: 'teeth' };
    default:
      return kind satisfies never;
  }
}

interface Answer {
  readonly id: string;
  readonly label: string;
}

/** Answers of a step; none where it asks for none. */
function answersOf({ action }: Step): readonly Answer[] {
  if (action.kind === 'choose') return action.options;
  if (action.kind !== 'confirm' || action.evidence?.kind !== 'choice') return [];
  return action.evidence.options;
}

/** Answers that were added get their ids from their words; those that were there keep theirs. */
function named<T extends Answer>(options: readonly T[], had: ReadonlySet<string>): readonly T[] {
  const taken = options.filter(({ id }) => had.has(id)).map(({ id }) => ({ id }));
  return options.map((option) => {
    if (had.has(option.id)) return option;
    const id = freeId(taken, option.label);
    taken.push({ id });
    return { ...option, id };
  });
}

function withNamedAnswers(step: Step, had: ReadonlySet<string>): Step {
  const { action } = step;
  if (action.kind === 'choose') {
    return { ...step, action: { ...action, options: named(action.options, had) } };
  }
  if (action.kind !== 'confirm' || action.evidence?.kind !== 'choice') return step;
  const evidence = { ...action.evidence, options: named(action.evidence.options, had) };
  return { ...step, action: { ...action, evidence } };
}

/** The step under another id, also where it names itself. */
function withId(step: Step, id: string): Step {
  const own = (other: string): string => (other === step.id ? id : other);
  const { action, pressed } = step;
  const next: Step = {
    ...step,
    id,
    action:
      action.kind === 'choose'
        ? {
            ...action,
            options: action.options.map((option) =>
              option.redo === undefined ? option : { ...option, redo: option.redo.map(own) },
            ),
          }
        : action,
  };
  return pressed?.kind === 'implied'
    ? { ...next, pressed: { ...pressed, by: pressed.by.map(own) } }
    : next;
}

/** The step that stands behind the place that was chosen for a new one; null for the end. */
function beforeOf({ steps }: Protocol, after: string): string | null {
  const at = steps.findIndex(({ id }) => id === after);
  return steps[at + 1]?.id ?? null;
}

/** The edits of the form of a step; `after` is the step behind which a new one stands, empty for the beginning. */
export function stepEdits(
  protocol: Protocol,
  open: OpenEntry<Step>,
  o: { readonly now: Step; readonly after: string },
): readonly Edit[] {
  const title = o.now.title.trim();
  const had = new Set(open.isNew ? [] : answersOf(open.item).map(({ id }) => id));
  const now = withNamedAnswers({ ...o.now, title }, had);
  if (!open.isNew) return entryEdits('steps', open, now, protocol);
  const item = withId(now, freeId(protocol.steps, title));
  return [{ do: 'add', part: 'steps', item, before: beforeOf(protocol, o.after) }];
}

/** A new step put elsewhere waits for what stands before it there, and belongs to its stage, unless that was chosen. */
export function newStepAfter(
  { steps }: Protocol,
  o: { readonly step: Step; readonly was: string; readonly after: string },
): Step {
  const old = steps.find(({ id }) => id === o.was);
  const next = steps.find(({ id }) => id === o.after);
  const { step } = o;
  const isUntouched = step.after.length <= 1 && (step.after[0]?.step ?? '') === o.was;
  const stage = (next ?? steps[0])?.stage;
  return {
    ...step,
    ...(stage !== undefined && step.stage === (old ?? steps[0])?.stage ? { stage } : {}),
    ...(isUntouched ? { after: next === undefined ? [] : [{ step: next.id, link: 'all' }] } : {}),
  };
}

const isText = (value: unknown): value is string => typeof value === 'string';

/** Whether what was stored has the fields that the form of a step draws from; the parser judges the rest. */
function isStep(value: unknown): value is Step {
  if (!isRecord(value)) return false;
  const { action, pace } = value;
  return (
    ['id', 'stage', 'title', 'per', 'by'].every((key) => isText(value[key])) &&
    Array.isArray(value['after']) &&
    isRecord(action) &&
    isText(action['kind']) &&
    isRecord(pace)
  );
}

const isOpenStep = (value: unknown): value is OpenEntry<Step> | null =>
  value === null ||
  (isRecord(value) && isStep(value['item']) && typeof value['isNew'] === 'boolean');

/** What of the form of a step is there again after the page was loaded anew. */
export const STORED_STEP = {
  open: { name: 'open step', fits: isOpenStep },
  form: { name: 'step', fits: isStep },
  place: { name: 'place', fits: isText },
};
