import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkWindows } from '../../src/plan/check-windows.ts';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { checkProtocol } from '../../src/protocol/check-protocol.ts';
import { applyEdit, freeId } from '../../src/protocol/edit.ts';
import {
  addEdit,
  beginHistory,
  type EditHistory,
  redoEdit,
  restoreHistory,
  undoEdit,
} from '../../src/protocol/edit-history.ts';
import { parseEdits } from '../../src/protocol/edit-parse.ts';
import { type Edit, fieldAt, itemAt, spotOfPlace } from '../../src/protocol/edit-types.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { runSeed, runSize } from '../tools/run-size.ts';
import { editOf, smallProtocol } from './edit-support.ts';

const RUNS = runSize({ long: 500, part: 50 });
const EDITS_PER_RUN = 20;

/** RFC 8785 bytes; halves of surrogate pairs have none, and parse as text all the same. */
function bytes(protocol: Protocol): string {
  try {
    return canonicalText(protocol);
  } catch {
    return JSON.stringify(protocol);
  }
}

describe('random edits of a protocol', () => {
  it(`${RUNS * EDITS_PER_RUN} of them never make a document that parses and cannot be checked, and undo gives the exact bytes`, () => {
    let done = 0;
    let refused = 0;
    fc.assert(
      fc.property(
        fc.array(fc.nat(), { minLength: EDITS_PER_RUN, maxLength: EDITS_PER_RUN }),
        (seeds) => {
          let history: EditHistory = beginHistory(smallProtocol());
          const seen: string[] = [bytes(history.protocol)];
          for (const seed of seeds) {
            done += 1;
            const [edit] = fc.sample(editOf(history.protocol), { seed, numRuns: 1 });
            if (edit === undefined) throw new Error('no edit');
            const next = addEdit(history, edit);
            if (!next.ok) {
              refused += 1;
              expect(next.error.place.length).toBeGreaterThan(0);
              continue;
            }
            history = next.value;
            seen.push(bytes(history.protocol));
            expect(parseProtocol(JSON.parse(JSON.stringify(history.protocol)))).toMatchObject({
              ok: true,
            });
            const findings = checkProtocol(history.protocol);
            if (findings.every(({ level }) => level !== 'error')) checkWindows(history.protocol);
            for (const { place } of findings) spotOfPlace(history.protocol, place);
          }
          for (let i = seen.length - 2; i >= 0; i -= 1) {
            history = undoEdit(history);
            expect(bytes(history.protocol)).toBe(seen[i]);
          }
          for (let i = 1; i < seen.length; i += 1) {
            history = redoEdit(history);
            expect(bytes(history.protocol)).toBe(seen[i]);
          }
          const stored = JSON.parse(JSON.stringify(history.edits));
          const edits = parseEdits(stored);
          expect(edits).not.toBeNull();
          const restored = restoreHistory({
            start: history.start,
            edits: edits ?? [],
            done: history.done,
          });
          expect(restored.ok && bytes(restored.value.protocol)).toBe(seen.at(-1));
        },
      ),
      { numRuns: RUNS, seed: runSeed() },
    );
    expect(done).toBe(RUNS * EDITS_PER_RUN);
    // The edits are worth something: neither all are taken nor all refused.
    expect(refused).toBeGreaterThan(done * 0.1);
    expect(refused).toBeLessThan(done * 0.8);
  }, 240_000);
});

const etchTarget = { part: 'steps', id: 'etch', key: 'action.targetMs' } as const;

function edited(protocol: Protocol, edit: Parameters<typeof applyEdit>[1]): Protocol {
  const next = applyEdit(protocol, edit);
  if (!next.ok) throw new Error(next.error.place);
  return next.value;
}

describe('one edit', () => {
  it('changes the number and the basis that it names, and nothing else', () => {
    const before = smallProtocol();
    const figure = { value: 15_000, basis: { kind: 'published', source: 'wang-lu-1991' } } as const;
    const after = edited(before, { do: 'set-figure', spot: etchTarget, figure });
    expect(fieldAt(itemAt(after, { part: 'steps', id: etchTarget.id }), etchTarget.key)).toEqual(
      figure,
    );
    const back = edited(after, {
      do: 'set-figure',
      spot: etchTarget,
      figure: { value: 20_000, basis: { kind: 'practice' } },
    });
    expect(bytes(back)).toBe(bytes(before));
  });

  it.each([
    ['id', 'fixed-field'],
    ['revision', 'fixed-field'],
    ['format', 'fixed-field'],
  ])('never changes the %s', (key, code) => {
    const edit = { do: 'set-text', spot: { part: 'protocol', id: '', key }, text: '2' } as const;
    expect(applyEdit(smallProtocol(), edit)).toMatchObject({ error: { code } });
  });

  it('that would not parse is refused with its place', () => {
    const figure = { value: 0, basis: { kind: 'practice' } } as const;
    expect(
      applyEdit(smallProtocol(), { do: 'set-figure', spot: etchTarget, figure }),
    ).toMatchObject({
      ok: false,
      error: { place: 'protocol.steps[0].action.targetMs.value' },
    });
  });

  it('removing a step joins what waited for it to what it waited for, and leaves no reference', () => {
    const after = edited(smallProtocol(), { do: 'remove', part: 'steps', id: 'rinse' });
    expect(after.steps.find((s) => s.id === 'coats')?.after).toEqual([
      { step: 'etch', link: 'all' },
    ]);
    expect(after.windows).toEqual([]);
    expect(checkProtocol(after).filter(({ level }) => level === 'error')).toEqual([]);
  });

  const pressedIn = ({ steps }: Protocol, id: string) => steps.find((s) => s.id === id)?.pressed;

  it('removing a step or a list leaves nothing that was pressed by it', () => {
    const by = (...ids: string[]): Edit => ({
      do: 'set-field',
      spot: { part: 'steps', id: 'seat', key: 'pressed' },
      value: { kind: 'implied', by: ids },
    });
    const noLight: Edit = { do: 'remove', part: 'steps', id: 'light' };
    const two = edited(edited(smallProtocol(), by('light', 'coats')), noLight);
    expect(pressedIn(two, 'seat')).toEqual({ kind: 'implied', by: ['coats'] });
    const one = edited(edited(smallProtocol(), by('light')), noLight);
    expect(pressedIn(one, 'seat')).toBeUndefined();

    const confirmed = edited(smallProtocol(), {
      do: 'set-text',
      spot: { part: 'steps', id: 'light', key: 'pressed.confirmedBy' },
      text: 'seat',
    });
    expect(pressedIn(confirmed, 'light')).toMatchObject({ confirmedBy: 'seat' });
    const unconfirmed = edited(confirmed, { do: 'remove', part: 'steps', id: 'seat' });
    expect(pressedIn(unconfirmed, 'light')).toEqual(pressedIn(smallProtocol(), 'light'));
    const unlisted = edited(smallProtocol(), { do: 'remove', part: 'lists', id: 'seating' });
    expect(pressedIn(unlisted, 'seat')).toBeUndefined();
    expect(Object.keys(unlisted)).not.toContain('lists');
  });

  it('doubling a step keeps only what its copy can be pressed by', () => {
    const implied = {
      do: 'set-field',
      spot: { part: 'steps', id: 'seat', key: 'pressed' },
      value: { kind: 'implied', by: ['light'] },
    } as const satisfies Edit;
    const copied = edited(edited(smallProtocol(), implied), {
      do: 'duplicate-step',
      step: 'seat',
      newId: 'seat-2',
    });
    expect(pressedIn(copied, 'seat')).toEqual(implied.value);
    expect(pressedIn(copied, 'seat-2')).toBeUndefined();
    const light = edited(smallProtocol(), {
      do: 'duplicate-step',
      step: 'light',
      newId: 'light-2',
    });
    expect(pressedIn(light, 'light-2')).toEqual(pressedIn(smallProtocol(), 'light'));
  });

  it('doubling a step puts the copy behind it, waiting for it', () => {
    const after = edited(smallProtocol(), {
      do: 'duplicate-step',
      step: 'coats',
      newId: 'coats-2',
    });
    expect(after.steps.map((s) => s.id)).toEqual([
      'etch',
      'rinse',
      'coats',
      'coats-2',
      'seat',
      'light',
    ]);
    expect(after.steps[3]?.after).toEqual([{ step: 'coats', link: 'same' }]);
  });

  it('moving a step changes only the order', () => {
    const after = edited(smallProtocol(), {
      do: 'move',
      part: 'steps',
      id: 'light',
      before: 'etch',
    });
    expect(after.steps.map((s) => s.id)).toEqual(['light', 'etch', 'rinse', 'coats', 'seat']);
  });

  it('finds an id that is free', () => {
    expect(freeId([{ id: 'etch' }, { id: 'etch-2' }], 'Etch')).toBe('etch-3');
    expect(freeId([], 'Ätzen!')).toBe('tzen');
    expect(freeId([], '???')).toBe('entry');
  });
});
