import { describe, expect, it } from 'vitest';
import { replayEdits } from '../../src/protocol/edit.ts';
import type { Edit } from '../../src/protocol/edit-types.ts';
import type { Basis, Protocol } from '../../src/protocol/types.ts';
import { type Choice, chosenProtocol, compareRows } from '../../src/ui/lead/compare-model.ts';
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
const here = edited(base, set('etch', 'action.targetMs', 18_000), title('rinse', 'Rinse off'));
const other = edited(
  base,
  set('etch', 'action.targetMs', 25_000),
  set('etch', 'action.minMs', 15_000, note),
  title('seat', 'Seat unit'),
);
const rows = compareRows({ base, here, other });
const row = (id: string) => rows.find((r) => r.id === id);
const merged = (choices: ReadonlyMap<string, Choice>) =>
  chosenProtocol({ here, other, rows, choices });
const titleOf = (protocol: Protocol | null, id: string) =>
  protocol?.steps.find((s) => s.id === id)?.title;

describe('merging what both changed', () => {
  it('takes from the other clinic what only it changed, and from here what both or only we changed', () => {
    expect(row('steps/seat/title')).toMatchObject({ side: 'other', first: 'other' });
    expect(row('steps/rinse/title')).toMatchObject({ side: 'here', first: 'here' });
    expect(row('steps/etch/action.targetMs')).toMatchObject({ side: 'both', first: 'here' });
  });

  it('keeps our basis where the number is the same', () => {
    expect(row('steps/etch/action.minMs')).toMatchObject({ side: 'other', first: 'here' });
  });

  it('makes a protocol of the choices, difference by difference', () => {
    const asSet = merged(new Map());
    expect([titleOf(asSet, 'seat'), titleOf(asSet, 'rinse')]).toEqual(['Seat unit', 'Rinse off']);
    const chosen = merged(
      new Map([
        ['steps/etch/action.targetMs', 'other'],
        ['steps/seat/title', 'here'],
      ]),
    );
    expect(titleOf(chosen, 'seat')).toBe('Seat');
    expect(chosen?.steps[0]?.action).toMatchObject({ targetMs: { value: 25_000 } });
  });

  it('without anything that both began with, takes everything from here', () => {
    const blind = compareRows({ base: null, here, other });
    expect(new Set(blind.map((r) => r.first))).toEqual(new Set(['here']));
  });
});
