/** What a new step, action or window begins with. Every number is marked as common practice. */

import { unreachable } from '../../../base/assert.ts';
import { isSameJson } from '../../../base/json.ts';
import { freeId } from '../../../protocol/edit.ts';
import type { Edit, Part, PartItem } from '../../../protocol/edit-types.ts';
import type { Action, Basis, Figure, Protocol, Step, Window } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';

const practice: Basis = { kind: 'practice' };
const figure = (value: number): Figure => ({ value, basis: practice });

const PACE_MS = { median: 10_000, p90: 15_000 };
const DWELL_MS = 20_000;
const WINDOW_MAX_MS = 5 * 60_000;
const EXPOSURE_MS = 20_000;

/** An action of another kind, with the least it needs. */
export function newAction(kind: Action['kind']): Action {
  switch (kind) {
    case 'confirm':
      return { kind };
    case 'dwell':
      return { kind, targetMs: figure(DWELL_MS) };
    case 'coats':
      return { kind, count: figure(2) };
    case 'expose':
      return { kind, surfaces: ['facial'], perSurfaceMs: figure(EXPOSURE_MS), walk: 'by-unit' };
    case 'tally':
      return { kind, passesMax: figure(3), label: editorWords.newCount };
    case 'choose':
      return { kind, options: [{ id: 'yes', label: editorWords.newOption }] };
    default:
      return unreachable(kind);
  }
}

/** A step at the end, waiting for the one before it. */
export function newStep(protocol: Protocol): Step {
  const last = protocol.steps.at(-1);
  return {
    id: freeId(protocol.steps, 'step'),
    stage: last?.stage ?? protocol.stages[0]?.id ?? 'work',
    title: editorWords.newStep,
    per: last?.per ?? 'case',
    after: last === undefined ? [] : [{ step: last.id, link: 'all' }],
    by: 'either',
    action: { kind: 'confirm' },
    pace: { medianMs: figure(PACE_MS.median), p90Ms: figure(PACE_MS.p90) },
  };
}

/** A window between the last two steps. */
export function newWindow(protocol: Protocol): Window {
  const [from, to] = protocol.steps.slice(-2);
  return {
    id: freeId(protocol.windows, 'window'),
    title: editorWords.newWindow,
    from: { step: from?.id ?? '', edge: 'end' },
    to: { step: to?.id ?? '', edge: 'end' },
    match: from?.per === to?.per ? 'same' : 'linked',
    maxMs: figure(WINDOW_MAX_MS),
    protects: 'other',
    severity: 'warning',
  };
}

/** An entry that is open in a sheet; a new one is not in the protocol yet. */
export interface OpenEntry<T> {
  readonly item: T;
  readonly isNew: boolean;
}

/** The edits that a form makes of the entry it is over. */
export function entryEdits(
  part: Part,
  { item, isNew }: OpenEntry<PartItem>,
  after: PartItem,
): readonly Edit[] {
  return isNew ? [{ do: 'add', part, item: after, before: null }] : fieldEdits(part, item, after);
}

/** The edits that turn an entry into what its form says: only the fields that differ. */
function fieldEdits(part: Part, before: PartItem, after: PartItem): readonly Edit[] {
  const was = new Map<string, unknown>(Object.entries(before));
  const is = new Map<string, unknown>(Object.entries(after));
  const keys = [...new Set([...was.keys(), ...is.keys()])].filter((key) => key !== 'id');
  return keys.flatMap((key): Edit[] => {
    const [old, value] = [was.get(key), is.get(key)];
    if (isSameJson(old, value)) return [];
    const spot = { part, id: before.id, key };
    return [value === undefined ? { do: 'clear', spot } : { do: 'set-field', spot, value }];
  });
}
