/** A merge as rows: every difference between ours and theirs, and which side it is set to. */
import {
  type Change,
  changeId,
  diffProtocols,
  editsForChanges,
  type Side,
  sidesOf,
} from '../../protocol/diff.ts';
import { replayEdits } from '../../protocol/edit.ts';
import type { Figure, Protocol } from '../../protocol/types.ts';
import { type ChangeRow, changeRow } from './editor/editor-change-model.ts';

export type Choice = 'ours' | 'theirs';

export interface MergeRow extends ChangeRow {
  readonly change: Change;
  readonly side: Side;
  /** What it is set to before anybody chooses. */
  readonly first: Choice;
}

function isFigure(value: unknown): value is Figure {
  return typeof value === 'object' && value !== null && 'value' in value && 'basis' in value;
}

/** What the other clinic confirmed came as a note, so a number that is the same keeps our basis. */
function onlyBasis(change: Change): boolean {
  if (change.kind !== 'changed' || !isFigure(change.before) || !isFigure(change.after))
    return false;
  return change.before.value === change.after.value;
}

export function mergeRows(o: {
  readonly base: Protocol | null;
  readonly ours: Protocol;
  readonly theirs: Protocol;
}): readonly MergeRow[] {
  const { base, ours, theirs } = o;
  const changes = diffProtocols(ours, theirs);
  const sides = sidesOf({ changes, base, mine: ours, theirs });
  return changes.map((change) => {
    const side = sides.get(changeId(change)) ?? 'both';
    const first = side === 'theirs' && !onlyBasis(change) ? 'theirs' : 'ours';
    return { ...changeRow(change, { before: ours, after: theirs }), change, side, first };
  });
}

/** Ours with what was taken from theirs; null when the choices do not make a protocol together. */
export function mergedProtocol(o: {
  readonly ours: Protocol;
  readonly theirs: Protocol;
  readonly rows: readonly MergeRow[];
  readonly choices: ReadonlyMap<string, Choice>;
}): Protocol | null {
  const taken = o.rows.filter((row) => (o.choices.get(row.id) ?? row.first) === 'theirs');
  const edits = editsForChanges(
    taken.map((row) => row.change),
    o.theirs,
  );
  const merged = replayEdits(o.ours, edits);
  return merged.ok ? merged.value : null;
}
