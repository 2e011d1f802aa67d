import { describe, expect, it } from 'vitest';
import { replayEdits } from '../../src/protocol/edit.ts';
import type { Edit } from '../../src/protocol/edit-types.ts';
import type { Basis, Protocol } from '../../src/protocol/types.ts';
import { type Choice, mergedProtocol, mergeRows } from '../../src/ui/lead/exchange-model.ts';
import { smallProtocol } from '../protocol/edit-support.ts';

function edited(protocol: Protocol, ...edits: readonly Edit[]): Protocol {
  const next = replayEdits(protocol, edits);
  if (!next.ok) throw new Error(next.error[0]?.place);
  return next.value;
}

const note: Basis = { kind: 'practice', note: 'file says: Gel, 4' };
const set = (
  id: string,
  key: string,
  value: number,
  basis: Basis = { kind: 'practice' },
): Edit => ({
  do: 'set-figure',
  spot: { part: 'steps', id, key },
  figure: { value, basis },
});
const title = (id: string, text: string): Edit => ({
  do: 'set-text',
  spot: { part: 'steps', id, key: 'title' },
  text,
});

const base = smallProtocol();
const ours = edited(base, set('etch', 'action.targetMs', 18_000), title('rinse', 'Rinse off'));
const theirs = edited(
  base,
  set('etch', 'action.targetMs', 25_000),
  set('etch', 'action.minMs', 15_000, note),
  title('seat', 'Seat unit'),
);
const rows = mergeRows({ base, ours, theirs });
const row = (id: string) => rows.find((r) => r.id === id);
const merged = (choices: ReadonlyMap<string, Choice>) =>
  mergedProtocol({ ours, theirs, rows, choices });
const titleOf = (protocol: Protocol | null, id: string) =>
  protocol?.steps.find((s) => s.id === id)?.title;

describe('merging what both changed', () => {
  it('sets to theirs what only they changed, and to ours what both or only we changed', () => {
    expect(row('steps/seat/title')).toMatchObject({ side: 'theirs', first: 'theirs' });
    expect(row('steps/rinse/title')).toMatchObject({ side: 'mine', first: 'ours' });
    expect(row('steps/etch/action.targetMs')).toMatchObject({ side: 'both', first: 'ours' });
  });

  it('keeps our basis where the number is the same', () => {
    expect(row('steps/etch/action.minMs')).toMatchObject({ side: 'theirs', first: 'ours' });
  });

  it('makes a protocol of the choices, difference by difference', () => {
    const asSet = merged(new Map());
    expect([titleOf(asSet, 'seat'), titleOf(asSet, 'rinse')]).toEqual(['Seat unit', 'Rinse off']);
    const chosen = merged(
      new Map([
        ['steps/etch/action.targetMs', 'theirs'],
        ['steps/seat/title', 'ours'],
      ]),
    );
    expect(titleOf(chosen, 'seat')).toBe('Seat');
    expect(chosen?.steps[0]?.action).toMatchObject({ targetMs: { value: 25_000 } });
  });

  it('without anything that both began with, sets everything to ours', () => {
    const blind = mergeRows({ base: null, ours, theirs });
    expect(new Set(blind.map((r) => r.first))).toEqual(new Set(['ours']));
  });
});
