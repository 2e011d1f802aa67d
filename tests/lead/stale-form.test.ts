// What a form found when it was opened is not what stands there later. That a number which nobody read is
// not confirmed is common practice, no source.
import { describe, expect, it } from 'vitest';
import { replayEdits } from '../../src/protocol/edit.ts';
import type { Basis, Figure, Protocol, Step } from '../../src/protocol/types.ts';
import { stepEdits } from '../../src/ui/lead/editor/editor-step.ts';
import { blankFigure, newCells, newHandCells } from '../../src/ui/lead/editor/new-figures.ts';
import { smallProtocol } from '../protocol/edit-support.ts';

const read: Basis = {
  kind: 'instructions',
  document: 'Etching gel, instructions for use',
  revision: '2026-04',
  confirmedBy: 'Clinic lead C',
  confirmedOn: '2026-11-25',
};
const figure = (value: number, page: string): Figure => ({ value, basis: { ...read, page } });
type Dwell = Extract<Step['action'], { kind: 'dwell' }>;

function etchOf({ steps }: Protocol): Step & { readonly action: Dwell } {
  const etch = steps.find(({ id }) => id === 'etch');
  if (etch?.action.kind !== 'dwell') throw new Error('no etch');
  return { ...etch, action: etch.action };
}
function withEtch(more: Partial<Dwell>, uses: readonly string[] = ['gel']): Protocol {
  const whole = smallProtocol();
  const { action, ...etch } = etchOf(whole);
  const next: Step = { ...etch, uses, action: { ...action, ...more } };
  return { ...whole, steps: whole.steps.map((step) => (step.id === 'etch' ? next : step)) };
}
const where = (is: string) => [{ fact: 'substrate', is: [is] }] as const;

/** What the draft holds once the form over `was` is applied to it as `form`. */
function applied(o: { readonly now: Protocol; readonly was: Protocol; readonly form: Step }): Step {
  const open = { item: etchOf(o.was), isNew: false };
  const next = replayEdits(o.now, stepEdits(o.now, open, { now: o.form, after: '' }));
  if (!next.ok) throw new Error(JSON.stringify(next.error));
  return etchOf(next.value);
}

describe('a form of a step that was left open', () => {
  const was = withEtch({
    minMs: figure(10_000, '1'),
    targetMs: figure(20_000, '1'),
    variants: [
      { where: where('enamel'), targetMs: figure(31_000, '1') },
      { where: where('dentine'), targetMs: figure(12_000, '1') },
    ],
  });
  const now = withEtch({
    targetMs: figure(25_000, '3'),
    maxMs: figure(40_000, '3'),
    variants: [
      { where: where('enamel'), targetMs: figure(32_000, '3') },
      { where: where('dentine'), targetMs: figure(15_000, '3') },
    ],
  });

  it('leaves the numbers as they stand by then, with what vouches for them', () => {
    const { action, ...etch } = etchOf(was);
    const { minMs: _gone, ...kept } = action;
    expect(kept.variants).toHaveLength(2);
    const variants = (action.variants ?? []).slice(1);
    const form: Step = { ...etch, title: 'Etch it', action: { ...action, variants } };
    const after = applied({ now, was, form });
    expect(after.title).toBe('Etch it');
    expect(after.action).toEqual({
      ...etchOf(now).action,
      variants: etchOf(now).action.variants?.slice(1),
    });
  });

  it('makes no edit of what nobody touched in it, and keeps what was typed into it', () => {
    const open = { item: etchOf(was), isNew: false };
    expect(stepEdits(now, open, { now: etchOf(was), after: '' })).toEqual([]);
    const { action, ...etch } = etchOf(was);
    const form: Step = {
      ...etch,
      action: { ...action, byMaterial: { leucite: { targetMs: figure(60_000, '7') } } },
    };
    expect(applied({ now, was, form }).action).toMatchObject({
      targetMs: figure(25_000, '3'),
      byMaterial: { leucite: { targetMs: figure(60_000, '7') } },
    });
  });
});

describe('a form that names other materials', () => {
  it('confirms no number of before, and each that is typed with its basis', () => {
    const was = withEtch({ targetMs: figure(20_000, '1') });
    const { action, ...etch } = etchOf(was);
    const form: Step = {
      ...etch,
      uses: [],
      action: { ...action, byMaterial: { leucite: { targetMs: figure(60_000, '7') } } },
    };
    expect(applied({ now: was, was, form }).action).toMatchObject({
      targetMs: { value: 20_000, basis: { kind: 'practice' } },
      byMaterial: { leucite: { targetMs: figure(60_000, '7') } },
    });
  });
});

describe('an empty number of a form', () => {
  const keys = (cells: readonly { readonly spot: { readonly key: string } }[]) =>
    cells.map(({ spot }) => spot.key);
  const saved = etchOf(
    withEtch({
      byMaterial: { leucite: { targetMs: figure(60_000, '1') } },
      variants: [{ where: where('enamel'), targetMs: figure(31_000, '1') }],
    }),
  );
  const form = (more: Partial<Dwell>): Step => ({ ...saved, action: { ...saved.action, ...more } });

  it('is asked for though the saved step has one there', () => {
    const empty = { targetMs: blankFigure() };
    const shown = (step: Step) => keys(newCells(step, { saved, first: saved, typed: new Set() }));
    expect(shown(saved)).toEqual([]);
    expect(shown(form(empty))).toEqual(['action.targetMs']);
    expect(shown(form({ byMaterial: { leucite: empty } }))).toEqual([
      'action.byMaterial.leucite.targetMs',
    ]);
    expect(shown(form({ variants: [{ where: where('dentine'), ...empty }] }))).toEqual([
      'action.variants.0.targetMs',
    ]);
  });

  it('stays asked for while it is typed, also as the number of before', () => {
    const typed = new Set(['action.targetMs']);
    expect(keys(newCells(saved, { saved, first: saved, typed }))).toEqual(['action.targetMs']);
    const other = form({ targetMs: { value: 2_000, basis: { kind: 'practice' } } });
    expect(keys(newCells(other, { saved, first: saved, typed: new Set() }))).toEqual([
      'action.targetMs',
    ]);
  });

  it('is not asked for where a number moved up, or was changed elsewhere since', () => {
    const two = form({
      variants: [
        { where: where('dentine'), targetMs: figure(12_000, '1') },
        { where: where('enamel'), targetMs: figure(31_000, '1') },
      ],
    });
    const around = { saved: two, first: two, typed: new Set<string>() };
    expect(newCells(saved, around)).toEqual([]);
    const since = form({ targetMs: figure(25_000, '3') });
    expect(newCells(saved, { saved: since, first: saved, typed: new Set() })).toEqual([]);
  });

  it('of the hands is asked for again as well', () => {
    const hands = { applyMs: figure(2_000, '1'), rinseMs: figure(3_000, '1') };
    const held: Step = { ...saved, hands };
    const around = { saved: held, first: held, typed: new Set<string>() };
    expect(newHandCells(held, around)).toEqual([]);
    const anew = { ...held, hands: { applyMs: blankFigure(), rinseMs: blankFigure() } };
    expect(keys(newHandCells(anew, around))).toEqual(['hands.applyMs', 'hands.rinseMs']);
  });
});
