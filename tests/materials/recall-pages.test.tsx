// @vitest-environment jsdom
import { act, screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { describe, expect, it, vi } from 'vitest';
import { createStore } from 'zustand/vanilla';
import { ok } from '../../src/base/result.ts';
import type { CasesListState } from '../../src/runtime/cases/cases-list.ts';
import type { StockState } from '../../src/runtime/stock/stock.ts';
import type { StockEvent } from '../../src/runtime/stock/stock-facts.ts';
import type { Material } from '../../src/runtime/stock/stock-types.ts';
import { MaterialsCalls } from '../../src/ui/materials/calls/MaterialsCalls.tsx';
import { MaterialsDetail } from '../../src/ui/materials/stock/MaterialsDetail.tsx';
import { Chair } from '../engine/chair.ts';
import { SMALL_WHOLE, settingOf } from '../engine/fixture.ts';
import { fakeSession, NOW_MS, show } from '../ui-screens/fake-session.tsx';

// jsdom knows dialogs, but not how to open one.
HTMLDialogElement.prototype.showModal = function showModal() {
  this.open = true;
};

const box: Material = {
  id: 'm1',
  materialClass: 'acid gel',
  label: 'Gel, drawer 1',
  lot: 'L/1',
  refrigerated: false,
};
const event = (said: StockEvent['said'], by: string | null): StockEvent => ({
  id: said.type,
  said,
  by,
  tablet: 'aaaabbbbcccc',
  atWallMs: NOW_MS,
});

function detail(material: Material) {
  const session = fakeSession();
  const store = createStore<StockState>(() => ({
    ...session.stock.state.getState(),
    materials: [material],
    people: ['Assistant Moreau'],
  }));
  const stock = {
    ...session.stock,
    state: store,
    setBy: vi.fn((by: string) => store.setState({ by })),
    recallLot: vi.fn(async () => ok(null)),
    historyOf: vi.fn(() => [
      event({ type: 'received', fields: {} }, 'Assistant Moreau'),
      event({ type: 'corrected', fields: { label: 'Gel, drawer 1' } }, null),
    ]),
  };
  const noteFromShelf = vi.fn(async () => ok(null));
  const lead = vi.fn(async () => ({ recalls: { noteFromShelf } }));
  show(<MaterialsDetail id="m1" />, { session: { ...session, stock, lead } as never });
  return { stock, noteFromShelf };
}

describe('the page of a box', () => {
  it('tells who did what, and where nobody was named', () => {
    detail(box);
    const told = screen
      .getAllByRole('listitem')
      .map((line) => line.textContent)
      .filter((text) => text?.includes('tablet'));
    expect(told).toEqual([
      'Changed. Label: Gel, drawer 1.25 Nov 2026, 08:00, nobody named, tablet aaaabbbb',
      'Received25 Nov 2026, 08:00, Assistant Moreau, tablet aaaabbbb',
    ]);
  });

  it('marks a recall at once, desk closed, no reason asked for, and the log of the desk is told', async () => {
    const { stock, noteFromShelf } = detail(box);
    await userEvent.selectOptions(screen.getByLabelText('Who is doing this'), 'Assistant Moreau');
    await userEvent.click(screen.getByRole('button', { name: 'Mark as recalled' }));
    await userEvent.click(screen.getByRole('button', { name: 'Mark this lot' }));
    expect(stock.recallLot).toHaveBeenCalledWith({ lot: 'L/1', reason: '' });
    expect(noteFromShelf).toHaveBeenCalledWith({
      lot: 'L/1',
      reason: '',
      person: 'Assistant Moreau',
    });
  });

  it('leads to the desk for taking a mark away, and to the cases to call', () => {
    detail({ ...box, recalled: { onWallMs: NOW_MS, reason: 'letter' } });
    expect(screen.queryByRole('button', { name: /recall/i })).toBeNull();
    expect(
      screen.getByRole('link', { name: 'Remove the mark, at the lead’s desk' }),
    ).toHaveAttribute('href', '/lead/recalls');
    expect(screen.getByRole('link', { name: 'Cases to call' })).toHaveAttribute(
      'href',
      '/materials/calls/L%2F1',
    );
  });
});

describe('the page of whom to call', () => {
  it('names the chart reference, the day, the teeth and what was bonded', async () => {
    const setting = settingOf(SMALL_WHOLE, ['11', '21']);
    const slots = [{ id: 'gel', materialClass: 'acid gel', label: 'Gel', refrigerated: false }];
    const steps = setting.protocol.steps.map((s) => ({ ...s, uses: ['gel'] }));
    const chair = new Chair({ ...setting, protocol: { ...setting.protocol, slots, steps } });
    const material = { ...box, warnings: [] };
    chair.do({ do: 'name-material', slot: 'gel', material });
    chair.rows('at 5 s confirm ready case');
    const session = fakeSession();
    const used = { slot: 'gel', slotLabel: 'Gel', ...box, steps: ['ready'] };
    const facts = {
      caseId: 'c1',
      head: 'h',
      title: 'Upper front',
      chartRef: 'KB-2041',
      mode: 'patient' as const,
      openedWallMs: NOW_MS,
      isClosed: true,
      teeth: ['11', '21'],
      people: [],
      protocol: 'p',
      lots: [used],
      breaches: 0,
      perhaps: 0,
    };
    const listed = session.casesList.state.getState();
    const state = createStore<CasesListState>(() => ({
      ...listed,
      facts: [facts],
      unreadable: ['c2'],
    }));
    let answer: (read: unknown) => void = () => undefined;
    session.readCase.mockReturnValue(
      new Promise((resolve) => {
        answer = resolve;
      }) as never,
    );
    show(<MaterialsCalls place="L%2F1" />, {
      session: { ...session, casesList: { ...session.casesList, state } },
    });
    expect(screen.getByRole('heading', { name: 'Cases to call, lot L/1' })).toBeVisible();
    // A list without the teeth must not be saved or printed.
    const buttons = () =>
      ['Save as CSV', 'Print'].map((name) => screen.getByRole('button', { name }));
    await screen.findByText('KB-2041');
    for (const button of buttons()) expect(button).toBeDisabled();
    await act(async () => answer(ok({ log: chair.log })));
    for (const button of buttons()) expect(button).toBeEnabled();
    const row = (await screen.findByText('KB-2041')).closest('tr');
    if (row === null) throw new Error('no row');
    await within(row).findByText('11, 21');
    expect([...row.children].map((cell) => cell.textContent)).toEqual([
      'KB-2041',
      'Upper front',
      '25 Nov 2026',
      'Closed',
      '11, 21',
      '11: Veneer, lithium disilicate21: Veneer, lithium disilicate',
      'Gel: ready',
    ]);
    expect(screen.getByText(/^1 case cannot be read\./)).toBeVisible();
    expect(screen.getByText('Cannot tell')).toBeVisible();
  });
});
