/**
 * One edit of a protocol: the outcome is a document that parses, or the problem that it would not.
 * Whether the document means something is told by the checks and never keeps an edit away, because
 * a protocol has to pass through unfinished states while it is written.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { editRaw, type Raw } from './edit-raw.ts';
import { type Edit, itemAt, type Spot } from './edit-types.ts';
import { parseProtocol } from './parse-protocol.ts';
import type { Protocol } from './types.ts';

const FIXED = ['id', 'format', 'formatVersion', 'revision'];

const spotPlace = ({ part, id, key }: Spot): string =>
  part === 'protocol' ? `protocol.${key}` : `protocol.${part}.${id}.${key}`;

function spotsOf(edit: Edit): readonly Spot[] {
  if (edit.do === 'set-basis') return edit.spots;
  return 'spot' in edit ? [edit.spot] : [];
}

/** What an edit points at must be there, and an id is given only once. */
function refused(protocol: Protocol, edit: Edit): Problem | null {
  for (const spot of spotsOf(edit)) {
    const { part, id, key } = spot;
    if (FIXED.includes(key.split('.')[0] ?? '') || key === '') {
      return problem(spotPlace(spot), 'a field that can be edited', key, 'fixed-field');
    }
    if (part !== 'protocol' && itemAt(protocol, { part, id }) === undefined) {
      return problem(spotPlace(spot), 'an entry of the protocol', id, 'no-such-entry');
    }
  }
  if (edit.do === 'add' && itemAt(protocol, { part: edit.part, id: edit.item.id }) !== undefined) {
    return problem(`protocol.${edit.part}`, 'an id that is free', edit.item.id, 'id-taken');
  }
  if (edit.do === 'duplicate-step') {
    if (itemAt(protocol, { part: 'steps', id: edit.newId }) !== undefined) {
      return problem('protocol.steps', 'an id that is free', edit.newId, 'id-taken');
    }
  }
  return null;
}

const asRaw = (protocol: Protocol): Raw => ({ ...protocol });

/**
 * The protocol after one edit, frozen. Errors: the first problem that the edit would make, with its
 * place (`fixed-field`, `no-such-entry`, `id-taken`, or what the parser says).
 */
export function applyEdit(protocol: Protocol, edit: Edit): Result<Protocol, Problem> {
  const no = refused(protocol, edit);
  if (no !== null) return err(no);
  const parsed = parseProtocol(editRaw(asRaw(protocol), edit));
  if (parsed.ok) return ok(parsed.value);
  return err(parsed.error[0] ?? problem('protocol', 'a protocol document', undefined));
}

/** Several edits that were each accepted before, replayed with one parse at the end. */
export function replayEdits(
  protocol: Protocol,
  edits: readonly Edit[],
): Result<Protocol, readonly Problem[]> {
  if (edits.length === 0) return ok(protocol);
  return parseProtocol(edits.reduce(editRaw, asRaw(protocol)));
}

/** An id made of `stem` that no entry of the list has: `etch`, `etch-2`, `etch-3`. */
export function freeId(taken: readonly { readonly id: string }[], stem: string): string {
  const clean =
    stem
      .toLowerCase()
      .replaceAll(/[^a-z0-9]+/g, '-')
      .replaceAll(/^-|-$/g, '')
      .slice(0, 56)
      .replace(/-$/, '') || 'entry';
  const ids = new Set(taken.map(({ id }) => id));
  if (!ids.has(clean)) return clean;
  let number = 2;
  while (ids.has(`${clean}-${number}`)) number += 1;
  return `${clean}-${number}`;
}
