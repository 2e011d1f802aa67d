// A number that changes loses what vouched for it, by whatever door it changes. That a person who did
// not read a number has confirmed nothing is common practice, no source.
import { describe, expect, it } from 'vitest';
import { addEdit, beginHistory, redoEdit, undoEdit } from '../../src/protocol/edit-history.ts';
import { parseEdits } from '../../src/protocol/edit-parse.ts';
import type { Edit, Spot } from '../../src/protocol/edit-types.ts';
import type { Action, Basis, Figure, Protocol } from '../../src/protocol/types.ts';
import { template } from './lead-support.ts';

const read: Basis = {
  kind: 'instructions',
  document: 'Etching gel, instructions for use',
  revision: '2026-04',
  page: '2',
  asWritten: 'Leave for 20 s.',
  confirmedBy: 'Clinic lead C',
  confirmedOn: '2026-11-25',
};
const figure = (value: number, basis: Basis = read): Figure => ({ value, basis });
const NOTE = {
  kind: 'practice',
  note: 'was confirmed as 20 s: Etching gel, instructions for use, 2026-04, page 2; Clinic lead C, 2026-11-25',
};

function edited(protocol: Protocol, ...edits: readonly Edit[]): Protocol {
  const history = edits.reduce((now, edit) => {
    const next = addEdit(now, edit);
    if (!next.ok) throw new Error(JSON.stringify(next.error));
    return next.value;
  }, beginHistory(protocol));
  return history.protocol;
}

const target: Spot = { part: 'steps', id: 'etch', key: 'action.targetMs' };
/** The shipped veneers with an etch of 20 s that somebody read. */
const confirmed = (): Protocol =>
  edited(template(), { do: 'set-figure', spot: target, figure: figure(20_000) });

const etch = ({ steps }: Protocol) => steps.find(({ id }) => id === 'etch');
function targetOf(protocol: Protocol): unknown {
  const action = etch(protocol)?.action;
  return action?.kind === 'dwell' ? action.targetMs : action;
}
const dwell = (more: Partial<Extract<Action, { kind: 'dwell' }>>): Action => ({
  kind: 'dwell',
  targetMs: figure(20_000),
  ...more,
});
const set = (
  key: string,
  value: unknown,
  part: 'steps' | 'windows' = 'steps',
  id = 'etch',
): Edit => ({
  do: 'set-field',
  spot: { part, id, key },
  value,
});

describe('a number that changes as a part of something larger', () => {
  const doors: readonly (readonly [name: string, edit: Edit])[] = [
    ['the value alone', set('action.targetMs.value', 22_000)],
    ['the whole action', set('action', dwell({ targetMs: figure(22_000) }))],
    [
      'the protocol that takes its place',
      {
        do: 'replace',
        protocol: {
          ...confirmed(),
          steps: confirmed().steps.map((step) =>
            step.id === 'etch' ? { ...step, action: dwell({ targetMs: figure(22_000) }) } : step,
          ),
        },
      },
    ],
  ];
  it.each(doors)('loses its confirmation: %s', (_name, edit) => {
    expect(targetOf(edited(confirmed(), edit))).toEqual({ value: 22_000, basis: NOTE });
  });

  it('loses it in a variant, in the time of one ceramic, in a sweep, in the hands and in a window', () => {
    const where = [{ fact: 'substrate', is: ['dentine'] }] as const;
    const variants = (value: number) => [{ where, targetMs: figure(value) }];
    const byMaterial = (value: number) => ({ leucite: { targetMs: figure(value) } });
    const pressed = (value: number) => ({
      kind: 'sweep',
      end: { shortestMs: figure(1_000), longestMs: figure(value) },
    });
    const hands = (value: number) => ({ applyMs: figure(value), rinseMs: figure(3_000) });
    const [window] = template().windows;
    const doors: readonly (readonly [key: string, of: (value: number) => unknown])[] = [
      ['action.variants', variants],
      ['action.byMaterial', byMaterial],
      ['pressed', pressed],
      ['hands', hands],
    ];
    for (const [key, of] of doors) {
      const after = edited(confirmed(), set(key, of(20_000)), set(key, of(25_000)));
      const text = JSON.stringify(key.startsWith('action') ? etch(after)?.action : etch(after));
      expect(text, key).toContain(`{"value":25000,"basis":${JSON.stringify(NOTE)}}`);
    }
    const windows = edited(
      confirmed(),
      {
        do: 'set-figure',
        spot: { part: 'windows', id: window?.id ?? '', key: 'maxMs' },
        figure: figure(20_000),
      },
      set('maxMs.value', 30_000, 'windows', window?.id),
    ).windows;
    expect(windows[0]?.maxMs).toEqual({ value: 30_000, basis: NOTE });
  });

  it('keeps it where the number stayed, also when an entry before it in a list went away', () => {
    const where = (is: string) => [{ fact: 'substrate', is: [is] }];
    const first = { where: where('enamel'), targetMs: figure(30_000) };
    const second = { where: where('dentine'), targetMs: figure(15_000) };
    const after = edited(
      confirmed(),
      set('action.variants', [first, second]),
      set('action.variants', [second]),
      set('title', 'Etching'),
    );
    expect(etch(after)?.action).toMatchObject({ variants: [second], targetMs: figure(20_000) });
  });

  it('has it back on undo, loses it again on redo, and after a restart', () => {
    const begun = addEdit(beginHistory(confirmed()), set('action.targetMs.value', 22_000));
    if (!begun.ok) throw new Error(begun.error.place);
    const undone = undoEdit(begun.value);
    expect(targetOf(undone.protocol)).toEqual(figure(20_000));
    expect(targetOf(redoEdit(undone).protocol)).toEqual({ value: 22_000, basis: NOTE });
    const edits = parseEdits(JSON.parse(JSON.stringify(begun.value.edits))) ?? [];
    expect(targetOf(edited(confirmed(), ...edits))).toEqual({ value: 22_000, basis: NOTE });
  });

  it('is confirmed where the edit says itself where the new number was read', () => {
    const anew = figure(22_000, { ...read, page: '3', asWritten: 'Leave for 22 s.' });
    const after = edited(confirmed(), { do: 'set-figure', spot: target, figure: anew });
    expect(targetOf(after)).toEqual(anew);
  });
});

describe('a number whose step, window or condition becomes another', () => {
  const noted = (said: string): Basis => ({
    kind: 'practice',
    note: `${said}: Etching gel, instructions for use, 2026-04, page 2; Clinic lead C, 2026-11-25`,
  });
  const materials = noted('was confirmed for other materials');
  const [gel = '', other = ''] = template().slots.map(({ id }) => id);
  const windowId = template().windows[0]?.id ?? '';
  const FROM = { step: 'etch', edge: 'end' };
  const firstWindow = ({ windows }: Protocol) => windows.find(({ id }) => id === windowId);
  /** Also with a window that begins with the etch and was read in the document of the gel. */
  const both = (): Protocol =>
    edited(
      confirmed(),
      set('uses', [gel]),
      set('from', FROM, 'windows', windowId),
      { do: 'set-figure', spot: target, figure: figure(20_000) },
      {
        do: 'set-figure',
        spot: { part: 'windows', id: windowId, key: 'maxMs' },
        figure: figure(60_000),
      },
    );

  it('loses its confirmation with the materials of its step', () => {
    const doors: readonly (readonly [name: string, edit: Edit])[] = [
      ['another slot', set('uses', [other])],
      ['one more slot', set('uses', [gel, other])],
      ['no slot', { do: 'clear', spot: { part: 'steps', id: 'etch', key: 'uses' } }],
      ['the slot taken out', { do: 'remove', part: 'slots', id: gel }],
      [
        'another class in the slot',
        {
          do: 'set-text',
          spot: { part: 'slots', id: gel, key: 'materialClass' },
          text: 'ceramic acid',
        },
      ],
    ];
    for (const [name, edit] of doors) {
      const after = edited(both(), edit);
      expect(targetOf(after), name).toEqual(figure(20_000, materials));
      expect(firstWindow(after)?.maxMs, name).toEqual(figure(60_000, materials));
    }
  });

  it('keeps it where the same materials are named again, or the label of a slot is', () => {
    const after = edited(both(), set('uses', [gel]), {
      do: 'set-text',
      spot: { part: 'slots', id: gel, key: 'label' },
      text: 'Gel',
    });
    expect(targetOf(after)).toEqual(figure(20_000));
    expect(firstWindow(after)?.maxMs).toEqual(figure(60_000));
  });

  it('loses it in a window that is between other moments', () => {
    const window = firstWindow(both());
    const last = both().steps.at(-1)?.id ?? '';
    const edits = [
      set('from', { ...FROM, edge: 'start' }, 'windows', windowId),
      set('to', { step: last, edge: 'start' }, 'windows', windowId),
      set('match', window?.match === 'last' ? 'linked' : 'last', 'windows', windowId),
    ];
    for (const edit of edits) {
      const after = edited(both(), edit);
      expect(firstWindow(after)?.maxMs, JSON.stringify(edit)).toEqual(
        figure(60_000, noted('was confirmed between other moments')),
      );
      expect(targetOf(after)).toEqual(figure(20_000));
    }
  });

  it('loses it in a variant that holds for others', () => {
    const variant = (is: string) => ({
      where: [{ fact: 'substrate', is: [is] }],
      targetMs: figure(15_000),
    });
    const after = edited(
      confirmed(),
      set('action.variants', [variant('enamel')]),
      set('action.variants', [variant('dentine')]),
    );
    expect(etch(after)?.action).toMatchObject({
      targetMs: figure(20_000),
      variants: [{ targetMs: figure(15_000, noted('was confirmed under another condition')) }],
    });
  });

  it('loses it in a copy of its step; the step itself keeps it', () => {
    const after = edited(
      confirmed(),
      set('pressed', {
        kind: 'sweep',
        end: { shortestMs: figure(1_000), longestMs: figure(2_000) },
      }),
      { do: 'duplicate-step', step: 'etch', newId: 'etch-again' },
    );
    expect(targetOf(after)).toEqual(figure(20_000));
    const copy = after.steps.find(({ id }) => id === 'etch-again');
    const basis = noted('was confirmed for the step that this is a copy of');
    expect(copy?.action).toMatchObject({ targetMs: figure(20_000, basis) });
    expect(copy?.pressed).toMatchObject({ end: { longestMs: figure(2_000, basis) } });
    expect(JSON.stringify(copy)).not.toContain('"instructions"');
  });

  it('keeps a number that comes with a basis of its own for the other materials', () => {
    const anew = figure(20_000, { ...read, document: 'Ceramic acid, instructions for use' });
    const protocol = both();
    const steps = protocol.steps.map((step) =>
      step.id === 'etch' ? { ...step, uses: [], action: dwell({ targetMs: anew }) } : step,
    );
    expect(targetOf(edited(protocol, { do: 'replace', protocol: { ...protocol, steps } }))).toEqual(
      anew,
    );
  });
});
