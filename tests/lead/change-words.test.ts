// Whoever reads a difference has no use for keys and ids (common practice, no source).
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { diffProtocols } from '../../src/protocol/diff.ts';
import { applyEdit } from '../../src/protocol/edit.ts';
import {
  addEdit,
  beginHistory,
  type EditHistory,
  reasonedRemovals,
  undoEdit,
} from '../../src/protocol/edit-history.ts';
import type { Edit } from '../../src/protocol/edit-types.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { changeRow } from '../../src/ui/lead/editor/editor-change-model.ts';
import { editOf, smallProtocol } from '../protocol/edit-support.ts';

/** Keys of the document, as they stand in it: none is an English word of its own. */
const KEYS =
  /onlyIf|onlyAfter|wayBack|waysBack|beginsWith|roundOf|rangeClass|usesLight|byMaterial|[a-z]Ms\b|until\.|from\.|to\.|\[object|undefined|null/;

function linesOf(before: Protocol, after: Protocol): readonly string[] {
  return diffProtocols(before, after).map((change) => changeRow(change, { before, after }).line);
}

function edited(...edits: readonly Edit[]): Protocol {
  return edits.reduce((protocol, edit) => {
    const next = applyEdit(protocol, edit);
    if (!next.ok) throw new Error(next.error.place);
    return next.value;
  }, smallProtocol());
}

describe('a difference in words', () => {
  it('names no key of the document, whatever was edited', () => {
    let told = 0;
    fc.assert(
      fc.property(fc.array(fc.nat(), { minLength: 1, maxLength: 12 }), (seeds) => {
        const after = seeds.reduce((protocol, seed) => {
          const [edit] = fc.sample(editOf(protocol), { seed, numRuns: 1 });
          const next = edit === undefined ? null : applyEdit(protocol, edit);
          return next?.ok ? next.value : protocol;
        }, smallProtocol());
        for (const line of linesOf(smallProtocol(), after)) {
          told += 1;
          expect(line).not.toMatch(KEYS);
        }
      }),
      { numRuns: 200 },
    );
    expect(told).toBeGreaterThan(200);
  }, 120_000);

  it('shows a condition, a moment and a step to do again by their titles', () => {
    const at = (part: 'steps' | 'waysBack', id: string, key: string) => ({ part, id, key });
    const after = edited(
      {
        do: 'set-field',
        spot: at('steps', 'coats', 'onlyIf'),
        value: [{ wayBack: 'again' }, { step: 'seat', option: 'yes' }],
      },
      {
        do: 'set-field',
        spot: at('waysBack', 'again', 'until'),
        value: { step: 'rinse', edge: 'start' },
      },
      {
        do: 'set-field',
        spot: at('waysBack', 'again', 'voids'),
        value: [{ step: 'rinse', link: 'all', onlyAfter: 'etch' }],
      },
    );
    const coats = smallProtocol().steps.find(({ id }) => id === 'coats')?.title;
    expect(linesOf(smallProtocol(), after)).toEqual([
      `${coats}: only if none → way back taken: Etch again, or Seat: “yes” was chosen`,
      'Way back Etch again: to be done again Etch on the same subject → Rinse on all of them, only where Etch has begun',
      'Way back Etch again: fits until Any time → the start of Rinse',
    ]);
  });
});

describe('why something was taken out', () => {
  const takeOut: Edit = { do: 'remove', part: 'waysBack', id: 'again', reason: 'We stop.' };
  const done = (history: EditHistory, edit: Edit): EditHistory => {
    const next = addEdit(history, edit);
    if (!next.ok) throw new Error(next.error.place);
    return next.value;
  };

  it('is told while it is out, and no more once that was undone', () => {
    const out = done(beginHistory(smallProtocol()), takeOut);
    expect(reasonedRemovals(out)).toEqual([
      { part: 'waysBack', id: 'again', title: 'Etch again', reason: 'We stop.' },
    ]);
    expect(reasonedRemovals(undoEdit(out))).toEqual([]);
  });

  it('is not told of what came and went within the draft', () => {
    const [way] = smallProtocol().waysBack;
    if (way === undefined) throw new Error('no way back');
    const item = { ...way, id: 'new' };
    const added = done(beginHistory(smallProtocol()), {
      do: 'add',
      part: 'waysBack',
      item,
      before: null,
    });
    expect(reasonedRemovals(done(added, { ...takeOut, id: 'new' }))).toEqual([]);
  });
});
