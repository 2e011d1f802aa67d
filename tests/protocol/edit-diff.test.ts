import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Change,
  changeId,
  diffProtocols,
  editsForChanges,
  sidesOf,
} from '../../src/protocol/diff.ts';
import { applyEdit, replayEdits } from '../../src/protocol/edit.ts';
import type { Edit } from '../../src/protocol/edit-types.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { editOf, smallProtocol } from './edit-support.ts';

function afterEdits(seeds: readonly number[]): Protocol {
  return seeds.reduce((protocol, seed) => {
    const [edit] = fc.sample(editOf(protocol), { seed, numRuns: 1 });
    const next = edit === undefined ? null : applyEdit(protocol, edit);
    return next?.ok ? next.value : protocol;
  }, smallProtocol());
}

const seeds = fc.array(fc.nat(), { minLength: 1, maxLength: 12 });

function edited(protocol: Protocol, ...edits: readonly Edit[]): Protocol {
  const next = replayEdits(protocol, edits);
  if (!next.ok) throw new Error(next.error[0]?.place);
  return next.value;
}

const target = (value: number): Edit => ({
  do: 'set-figure',
  spot: { part: 'steps', id: 'etch', key: 'action.targetMs' },
  figure: { value, basis: { kind: 'practice' } },
});

/**
 * A step that names a caution which its own document does not have, which the checks find, loses that name
 * when the removal of the caution is taken over.
 */
function namesNothing(change: Change, { cautions, steps }: Protocol): boolean {
  if (change.kind !== 'changed' || change.part !== 'steps' || change.key !== 'cautions')
    return false;
  const named = steps.find(({ id }) => id === change.id)?.cautions ?? [];
  return named.some((id) => !cautions.some((caution) => caution.id === id));
}

describe('the difference of two protocols', () => {
  it('is empty for the same, and all of it, taken over, makes one into the other', () => {
    fc.assert(
      fc.property(seeds, seeds, (a, b) => {
        const [here, other] = [afterEdits(a), afterEdits(b)];
        expect(diffProtocols(here, here)).toEqual([]);
        const changes = diffProtocols(here, other);
        const merged = replayEdits(here, editsForChanges(changes, other));
        const left = merged.ok ? diffProtocols(merged.value, other) : null;
        expect(left?.filter((change) => !namesNothing(change, other))).toEqual([]);
      }),
      { numRuns: 200, examples: [[[0], [764406979, 547484226, 616986019, 0]]] },
    );
  }, 240_000);

  it('names one changed number, one moved step, one step that went', () => {
    const before = smallProtocol();
    expect(diffProtocols(before, edited(before, target(15_000))).map(changeId)).toEqual([
      'steps/etch/action.targetMs',
    ]);
    const moved = edited(before, { do: 'move', part: 'steps', id: 'light', before: 'etch' });
    expect(diffProtocols(before, moved)).toMatchObject([
      { kind: 'moved', id: 'light', from: 4, to: 0 },
    ]);
    const shorter = edited(before, { do: 'remove', part: 'steps', id: 'light' });
    expect(diffProtocols(before, shorter).map(changeId)).toEqual(['steps/light/removed']);
  });

  it('tells who changed what since both had the same', () => {
    const base = smallProtocol();
    const here = edited(base, target(15_000), { do: 'remove', part: 'windows', id: 'wet' });
    const other = edited(base, target(25_000), {
      do: 'set-text',
      spot: { part: 'steps', id: 'seat', key: 'title' },
      text: 'Seat it',
    });
    const changes = diffProtocols(here, other);
    const sides = sidesOf({ changes, base, here, other });
    expect(Object.fromEntries(sides)).toEqual({
      'steps/etch/action.targetMs': 'both',
      'steps/seat/title': 'other',
      'windows/wet/added': 'here',
    });
    expect([...sidesOf({ changes, base: null, here, other }).values()]).toEqual([
      'both',
      'both',
      'both',
    ]);
  });
});
