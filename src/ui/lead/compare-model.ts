/** Two protocols side by side: every difference, and which clinic it is taken from. */

import {
  type Change,
  changeId,
  diffProtocols,
  editsForChanges,
  type Side,
  sidesOf,
} from '../../protocol/diff.ts';
import { replayEdits } from '../../protocol/edit.ts';
import type { Protocol } from '../../protocol/types.ts';
import { isFigure } from '../../protocol/walk-figures.ts';
import { type ChangeRow, changeRow } from './editor/editor-change-model.ts';

export type Choice = 'here' | 'other';

export interface CompareRow extends ChangeRow {
  readonly change: Change;
  readonly side: Side;
  /** What it is set to before anybody chooses. */
  readonly first: Choice;
}

/** What the other clinic confirmed came as a note, so a number that is the same keeps our basis. */
function onlyBasis(change: Change): boolean {
  if (change.kind !== 'changed' || !isFigure(change.before) || !isFigure(change.after))
    return false;
  return change.before.value === change.after.value;
}

export function compareRows(o: {
  readonly base: Protocol | null;
  readonly here: Protocol;
  readonly other: Protocol;
}): readonly CompareRow[] {
  const { base, here, other } = o;
  const changes = diffProtocols(here, other);
  const sides = sidesOf({ changes, base, here, other });
  return changes.map((change) => {
    const side = sides.get(changeId(change)) ?? 'both';
    const first = side === 'other' && !onlyBasis(change) ? 'other' : 'here';
    return { ...changeRow(change, { before: here, after: other }), change, side, first };
  });
}

/** This clinic's protocol with what was taken from the other; null when the choices do not make a protocol together. */
export function chosenProtocol(o: {
  readonly here: Protocol;
  readonly other: Protocol;
  readonly rows: readonly CompareRow[];
  readonly choices: ReadonlyMap<string, Choice>;
}): Protocol | null {
  const taken = o.rows.filter((row) => (o.choices.get(row.id) ?? row.first) === 'other');
  const edits = editsForChanges(
    taken.map((row) => row.change),
    o.other,
    o.here,
  );
  const merged = replayEdits(o.here, edits);
  return merged.ok ? merged.value : null;
}
