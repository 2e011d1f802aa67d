/**
 * What a new step, action or window begins with. Its numbers are empty and asked for; only the pace of the
 * hands, which plans and nothing else is made of, begins with common practice.
 */

import { unreachable } from '../../../base/assert.ts';
import { isSameJson } from '../../../base/json.ts';
import { ok } from '../../../base/result.ts';
import { freeId, replayEdits } from '../../../protocol/edit.ts';
import {
  type Edit,
  fieldAt,
  itemAt,
  type Part,
  type PartItem,
} from '../../../protocol/edit-types.ts';
import type { Action, Basis, Figure, Protocol, Step, Window } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { fresh } from './editor-stale.ts';
import { blankFigure } from './new-figures.ts';

const practice: Basis = { kind: 'practice' };
const figure = (value: number): Figure => ({ value, basis: practice });

const PACE_MS = { median: 10_000, p90: 15_000 };

/** An action of another kind, with the least it needs. */
export function newAction(kind: Action['kind']): Action {
  switch (kind) {
    case 'confirm':
      return { kind };
    case 'dwell':
      return { kind, targetMs: blankFigure() };
    case 'coats':
      return { kind, count: blankFigure() };
    case 'expose':
      return { kind, surfaces: ['facial'], perSurfaceMs: blankFigure(), walk: 'by-unit' };
    case 'tally':
      return { kind, passesMax: blankFigure(), label: editorWords.newCount };
    case 'choose':
      return { kind, options: [{ id: 'yes', label: editorWords.newOption }] };
    default:
      return unreachable(kind);
  }
}

/** The rhythm of hands that go from one subject to the next; its numbers are asked for. */
export function newHands(): NonNullable<Step['hands']> {
  return { applyMs: blankFigure(), rinseMs: blankFigure() };
}

/** A step at the end, waiting for the one before it. */
export function newStep(protocol: Protocol): Step {
  const last = protocol.steps.at(-1);
  return {
    id: freeId(protocol.steps, 'step'),
    stage: last?.stage ?? protocol.stages[0]?.id ?? 'work',
    title: '',
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
    title: '',
    from: { step: from?.id ?? '', edge: 'end' },
    to: { step: to?.id ?? '', edge: 'end' },
    match: from?.per === to?.per ? 'same' : 'linked',
    maxMs: blankFigure(),
    protects: 'other',
    severity: 'warning',
  };
}

/** An entry that is open in a sheet; a new one is not in the protocol yet. */
export interface OpenEntry<T> {
  readonly item: T;
  readonly isNew: boolean;
}

/** The edits that a form makes of the entry it is over; with `protocol` where that has numbers. */
export function entryEdits(
  part: Part,
  { item, isNew }: OpenEntry<PartItem>,
  after: PartItem,
  protocol: Protocol | null = null,
): readonly Edit[] {
  if (isNew) return [{ do: 'add', part, item: after, before: null }];
  if (protocol === null) return fieldEdits(part, { was: item, now: item, form: after });
  const changed = (isBefore: boolean): readonly string[] =>
    keysOf(item, after).filter((key) => READ_FOR.includes(key) === isBefore);
  const readFor = editsOf(
    part,
    { was: item, now: nowOf(protocol, part, item), form: after },
    changed(true),
  );
  const next = readFor.length === 0 ? ok(protocol) : replayEdits(protocol, readFor);
  const now = nowOf(next.ok ? next.value : protocol, part, item);
  return [...readFor, ...editsOf(part, { was: item, now, form: after }, changed(false))];
}

/** What numbers are read for changes first: one that is typed for the other materials is confirmed for them. */
const READ_FOR: readonly string[] = ['uses', 'from', 'to', 'match'];

const nowOf = (protocol: Protocol, part: Part, item: PartItem): PartItem =>
  itemAt(protocol, { part, id: item.id }) ?? item;

export function windowEdits(
  protocol: Protocol,
  open: OpenEntry<Window>,
  form: Window,
): readonly Edit[] {
  const title = form.title.trim();
  const why = form.why?.trim();
  const id = open.isNew ? freeId(protocol.windows, title) : open.item.id;
  const after = { ...form, id, title, ...(why !== undefined && { why }) };
  return entryEdits('windows', open, after, protocol);
}

interface Entry {
  /** As the form found it. */
  readonly was: PartItem;
  /** As it stands in the protocol. */
  readonly now: PartItem;
  readonly form: PartItem;
}

function keysOf(was: PartItem, form: PartItem): readonly string[] {
  return [...new Set([...Object.keys(was), ...Object.keys(form)])].filter((key) => key !== 'id');
}

const fieldEdits = (part: Part, entry: Entry): readonly Edit[] =>
  editsOf(part, entry, keysOf(entry.was, entry.form));

/** The edits that turn an entry into what its form says: only the fields that differ. */
function editsOf(part: Part, entry: Entry, keys: readonly string[]): readonly Edit[] {
  return keys.flatMap((key): Edit[] => {
    const [was, now, form] = [entry.was, entry.now, entry.form].map((item) => fieldAt(item, key));
    if (isSameJson(was, form)) return [];
    const value = fresh(form, { was, now });
    if (isSameJson(now, value)) return [];
    const spot = { part, id: entry.was.id, key };
    return [value === undefined ? { do: 'clear', spot } : { do: 'set-field', spot, value }];
  });
}
