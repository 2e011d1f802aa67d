import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isRecord, isSameJson, type JsonFields } from '../../src/base/json.ts';
import {
  type Change,
  changeId,
  diffProtocols,
  editsForChanges,
  sidesOf,
} from '../../src/protocol/diff.ts';
import { applyEdit, replayEdits } from '../../src/protocol/edit.ts';
import type { Edit } from '../../src/protocol/edit-types.ts';
import { wasForOther } from '../../src/protocol/edit-unread.ts';
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
 * A step that names a caution, a list or a step which its own document does not have, which the checks
 * find, loses that name when the removal is taken over.
 */
function namesNothing(change: Change, { cautions, steps, lists = [] }: Protocol): boolean {
  if (change.kind !== 'changed' || change.part !== 'steps') return false;
  const pressed = steps.find(({ id }) => id === change.id)?.pressed;
  if (change.key.startsWith('pressed') && pressed !== undefined && pressed.kind !== 'sweep') {
    if (pressed.kind === 'list') return !lists.some(({ id }) => id === pressed.list);
    const said = pressed.kind === 'implied' ? pressed.by : [pressed.confirmedBy ?? ''];
    return said.some((id) => !steps.some((step) => step.id === id));
  }
  if (change.key !== 'cautions') return false;
  const named = steps.find(({ id }) => id === change.id)?.cautions ?? [];
  return named.some((id) => !cautions.some((caution) => caution.id === id));
}

/** What a whole field brings is read again: it may be another number under the same document. */
const waits = (basis: JsonFields): boolean =>
  wasForOther(basis) || String(basis['note']).startsWith('was confirmed as ');

/** The same numbers, of which some wait to be read again because what they are for came from there. */
function isSameUnread(here: unknown, there: unknown): boolean {
  if (!isRecord(here) || !isRecord(there)) return isSameJson(here, there);
  if (isRecord(here['basis']) && waits(here['basis'])) return here['value'] === there['value'];
  const keys = new Set([...Object.keys(here), ...Object.keys(there)]);
  return [...keys].every((key) => isSameUnread(here[key], there[key]));
}

const waitsAnew = (change: Change): boolean =>
  change.kind === 'changed' && isSameUnread(change.before, change.after);

describe('the difference of two protocols', () => {
  it('is empty for the same, and all of it, taken over, makes one into the other', () => {
    fc.assert(
      fc.property(seeds, seeds, (a, b) => {
        const [here, other] = [afterEdits(a), afterEdits(b)];
        expect(diffProtocols(here, here)).toEqual([]);
        const changes = diffProtocols(here, other);
        const merged = replayEdits(here, editsForChanges(changes, other));
        const left = merged.ok ? diffProtocols(merged.value, other) : null;
        const open = left?.filter((change) => !namesNothing(change, other) && !waitsAnew(change));
        expect(open).toEqual([]);
      }),
      {
        numRuns: 200,
        examples: [
          [[0], [764406979, 547484226, 616986019, 0]],
          [[535247010], [2147483638, 0]],
        ],
      },
    );
  }, 240_000);

  it('a window that stands on other steps there outlives the step that is removed there', () => {
    const onLight: Edit = {
      do: 'set-field',
      spot: { part: 'windows', id: 'wet', key: 'from' },
      value: { step: 'light', edge: 'end' },
    };
    const here = edited(smallProtocol(), onLight);
    const other = edited(smallProtocol(), { do: 'remove', part: 'steps', id: 'light' });
    const merged = replayEdits(here, editsForChanges(diffProtocols(here, other), other, here));
    expect(merged).toEqual({ ok: true, value: other });
  });

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
