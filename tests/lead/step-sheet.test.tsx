// @vitest-environment jsdom
// Roles and names follow the accessible name computation that Testing Library implements (W3C accname 1.2).
import { fireEvent, screen, within } from '@testing-library/react';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import type { Protocol, Step } from '../../src/protocol/types.ts';
import { smallProtocol } from '../protocol/edit-support.ts';
import type { TestDesk } from './lead-support.ts';
import { dialogsInJsdom, openSection, showDesk } from './show-desk.tsx';

vi.setConfig({ testTimeout: 60_000 });

beforeAll(() => {
  dialogsInJsdom();
  HTMLElement.prototype.setPointerCapture = () => undefined;
});

const path = (draft: string): string => `/lead/draft/${draft}/steps`;
const sheet = () => within(screen.getByRole('dialog'));
const press = (name: string): void => {
  fireEvent.click(screen.getByRole('button', { name }));
};
const apply = (): void => {
  fireEvent.click(sheet().getByRole('button', { name: 'Apply' }));
};
const set = (label: string, value: string): void => {
  fireEvent.change(sheet().getByLabelText(label, { exact: true }), { target: { value } });
};
const choose = (label: string, option: string): void => {
  const list = sheet().getByLabelText(label, { exact: true });
  const found = within(list).getByRole<HTMLOptionElement>('option', { name: option });
  fireEvent.change(list, { target: { value: found.value } });
};

const draftOf = (test: TestDesk): Protocol => {
  const draft = test.desk.state.getState().drafts[0];
  if (draft === undefined) throw new Error('no draft');
  return draft.history.protocol;
};
const stepOf = (test: TestDesk, id: string): Step | undefined =>
  draftOf(test).steps.find((step) => step.id === id);
const order = (test: TestDesk): readonly string[] => draftOf(test).steps.map(({ id }) => id);

describe('the form of a step', () => {
  it('asks with a press for a reading, with a limit to what can be typed', async () => {
    const test = await showDesk(path, withConfirm());
    press('Edit Rinse');
    await openSection('What is done and asked');
    choose('What is asked with the press', 'A reading');
    apply();
    expect(sheet().getByLabelText('What is read')).toHaveAccessibleDescription(
      /Write what is read/,
    );
    expect(sheet().getByLabelText('Most that can be typed')).toHaveAccessibleDescription(/number/);
    set('What is read', 'Light output');
    set('Unit', 'mW/cm²');
    set('Least that can be typed', '0');
    set('Most that can be typed', '12,5');
    apply();
    expect(stepOf(test, 'rinse')?.action).toEqual({
      kind: 'confirm',
      evidence: { kind: 'reading', label: 'Light output', unit: 'mW/cm²', min: 0, max: 12.5 },
    });
  });

  it('opens the group in which something is wrong, so that its field can be reached', async () => {
    await showDesk(path, withConfirm());
    press('Edit Rinse');
    await openSection('What is done and asked');
    choose('What is asked with the press', 'A note');
    const group = sheet().getByLabelText('What is noted').closest('details');
    if (group !== null) group.open = false;
    apply();
    expect(group?.open).toBe(true);
    expect(sheet().getByLabelText('What is noted')).toHaveFocus();
  });

  it('asks for the rhythm of the hands, which begins empty', async () => {
    const protocol = smallProtocol();
    const steps = protocol.steps.map(({ hands: _hands, pressed: _pressed, ...step }) => step);
    const test = await showDesk(path, { ...protocol, steps });
    press('Edit Etch');
    await openSection('Rounds and presses');
    fireEvent.click(sheet().getByRole('checkbox', { name: /^The hands apply and rinse/ }));
    apply();
    const [first, second] = sheet()
      .getByRole('group', { name: 'Numbers that nobody has given yet' })
      .querySelectorAll('input[type="text"]');
    expect(first).toHaveAttribute('aria-invalid', 'true');
    for (const [field, value] of [
      [first, '4'],
      [second, '6'],
    ] as const) {
      if (field) fireEvent.change(field, { target: { value } });
    }
    apply();
    expect(stepOf(test, 'etch')?.hands).toMatchObject({
      applyMs: { value: 4000 },
      rinseMs: { value: 6000 },
    });
  });

  it('names a new step and its answers by their words, also where the step names itself', async () => {
    const test = await showDesk(path, smallProtocol());
    press('Add a step');
    set('Title', 'Dry fit');
    await openSection('What is done and asked');
    choose('What is pressed', 'A choice');
    set('Answer 1', 'Fits');
    fireEvent.click(sheet().getByRole('button', { name: 'Add an answer' }));
    set('Answer 2', 'Try again');
    const again = within(sheet().getByRole('group', { name: '“Try again”: to be done again' }));
    fireEvent.change(again.getByRole('combobox'), { target: { value: 'step' } });
    apply();
    expect(stepOf(test, 'dry-fit')?.action).toEqual({
      kind: 'choose',
      options: [
        { id: 'fits', label: 'Fits' },
        { id: 'try-again', label: 'Try again', redo: ['dry-fit'] },
      ],
    });
  });

  it('takes what the bar says away with its last text', async () => {
    const protocol = smallProtocol();
    const words = { start: 'Gel on', end: 'Rinse', leaves: 'etched' };
    const steps = protocol.steps.map((step) => (step.id === 'etch' ? { ...step, words } : step));
    const test = await showDesk(path, { ...protocol, steps });
    press('Edit Etch');
    await openSection('What the bar says');
    set('First press, for a part of them', 'Gel on {subject}');
    for (const label of ['First press', 'Last press, or the only one']) set(label, '');
    set('Where it leaves the tooth or unit', '');
    apply();
    expect(stepOf(test, 'etch')?.some).toEqual({ words: { start: 'Gel on {subject}' } });
    expect(stepOf(test, 'etch')).not.toHaveProperty('words');
  });
});

function withConfirm(): Protocol {
  const protocol = smallProtocol();
  const confirm = (step: Step): Step => {
    const { hands: _hands, beginsWith: _begins, ...rest } = step;
    return { ...rest, action: { kind: 'confirm' } };
  };
  return { ...protocol, steps: protocol.steps.map((s) => (s.id === 'rinse' ? confirm(s) : s)) };
}

describe('a step is put where it belongs', () => {
  it('behind another one by two presses, and back by one Undo', async () => {
    const test = await showDesk(path, smallProtocol());
    const before = order(test);
    press('Put after … Rinse');
    press('At the beginning');
    expect(order(test)).toEqual(['rinse', ...before.filter((id) => id !== 'rinse')]);
    press('Undo');
    expect(order(test)).toEqual(before);
  });

  it('by its handle: a pointer drops it before the row below it, a key moves it by one', async () => {
    const test = await showDesk(path, smallProtocol());
    const before = order(test);
    const rows = screen.getByRole('list', { name: 'Steps in order' }).children;
    for (const [place, row] of [...rows].entries()) {
      const box = { top: place * 100, height: 100 } as DOMRect;
      row.getBoundingClientRect = () => box;
    }
    const handle = screen.getByRole('button', { name: 'Drag Rinse to its place' });
    const from = before.indexOf('rinse');
    fireEvent.pointerDown(handle, { clientY: from * 100 + 50 });
    fireEvent.pointerMove(handle, { clientY: 20 });
    fireEvent.pointerUp(handle);
    expect(order(test)).toEqual(['rinse', ...before.filter((id) => id !== 'rinse')]);
    fireEvent.keyDown(handle, { key: 'ArrowDown' });
    expect(order(test).indexOf('rinse')).toBe(1);
    fireEvent.keyDown(handle, { key: 'ArrowUp' });
    expect(order(test).indexOf('rinse')).toBe(0);
  });
});
