// @vitest-environment jsdom
// What is typed and is not what a field asks for: it is said beside the field, and never passes for nothing.
import { fireEvent, screen, waitFor } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, it, vi } from 'vitest';
import type { RunningCase } from '../../src/runtime/app-state.ts';
import { ShadeSheet } from '../../src/ui/chair/sheets/ChairExtras.tsx';
import { ScanSheet } from '../../src/ui/materials/scan/Scan.tsx';
import { MaterialsForm } from '../../src/ui/materials/stock/MaterialsForm.tsx';
import { draftOf, judge, problemsOf } from '../../src/ui/set-up/set-up-model.ts';
import { caseOf } from '../engine/fixture.ts';
import { FamilyChair } from '../families/family-chair.ts';
import { HERE } from '../tools/here.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

// jsdom knows dialogs, but not how to open one.
HTMLDialogElement.prototype.showModal = function showModal() {
  this.open = true;
};

const running = (): RunningCase => {
  const chair = FamilyChair.of('veneers, etch-and-rinse');
  return runningOf(chair);
};

/** A browser keeps 30 February to itself: the field's value stays empty, and only this tells of it. */
function typeHalfDate(field: HTMLElement, isBad: boolean): void {
  Object.defineProperty(field, 'validity', { configurable: true, value: { badInput: isBad } });
  fireEvent.blur(field);
}

it('half an expiry date is told and not kept as none', async () => {
  const onSave = vi.fn();
  const before = { id: 'm', materialClass: 'cement', label: 'Cement', lot: 'L1' };
  show(
    <MaterialsForm
      isNew={false}
      before={before}
      isBlocked={false}
      code={null}
      onClose={vi.fn()}
      onSave={onSave}
    />,
    { session: fakeSession() },
  );
  const expiry = screen.getByLabelText('Expiry date');
  typeHalfDate(expiry, true);
  expect(screen.getByText('Enter the whole date or time')).toBeVisible();
  await userEvent.click(screen.getByRole('button', { name: 'Save' }));
  expect(onSave).not.toHaveBeenCalled();
  typeHalfDate(expiry, false);
  onSave.mockResolvedValue({ ok: true, value: null });
  await userEvent.click(screen.getByRole('button', { name: 'Save' }));
  expect(onSave).toHaveBeenCalledOnce();
  expect(onSave.mock.lastCall?.[0]).not.toHaveProperty('expiry');
});

it('a date without its time is asked for in words, not as a stamp of a file', () => {
  const judged = judge({ ...draftOf(caseOf(['11']), HERE), date: '2026-12-01', time: '' }, HERE);
  const problems = judged.ok ? new Map<string, string>() : problemsOf(judged.error);
  expect([...problems]).toEqual([['case.scheduledFor', 'Enter a date and a time, or neither']]);
});

// The trade item number is the worked example of GS1 General Specifications; from memory.
it('a code that was refused is put right by scanning it again', async () => {
  const onTake = vi.fn();
  show(<ScanSheet onClose={vi.fn()} onTake={onTake} onByHand={vi.fn()} />, {
    session: fakeSession(),
  });
  const scan = async (code: string) => {
    await userEvent.click(screen.getByLabelText('Or type the code'));
    await userEvent.paste(code);
    await userEvent.click(screen.getByRole('button', { name: 'Read' }));
  };
  await scan('(01)123');
  expect(screen.getByText('This code was not accepted')).toBeVisible();
  await scan('(01)09506000134352(17)271231(10)ABC');
  await userEvent.click(screen.getByRole('button', { name: 'The box says the same' }));
  await waitFor(() => expect(onTake).toHaveBeenCalledOnce());
  expect(onTake.mock.lastCall?.[0].label).toMatchObject({ lot: 'ABC', expiry: '2027-12-31' });
});

it('a shade trial is not kept while its share of modifier is no number', async () => {
  const session = fakeSession();
  show(<ShadeSheet running={running()} onClose={vi.fn()} />, { session });
  await userEvent.type(screen.getByLabelText('Try-in paste'), 'Warm');
  await userEvent.type(screen.getByLabelText(/Share of modifier/), 'half');
  const keep = screen.getByRole('button', { name: 'Save this trial' });
  expect(keep).toBeDisabled();
  expect(screen.getByText('A number from 0 to 100')).toBeVisible();
  await userEvent.clear(screen.getByLabelText(/Share of modifier/));
  await userEvent.type(screen.getByLabelText(/Share of modifier/), '12,5');
  await userEvent.click(keep);
  expect(session.do).toHaveBeenCalledWith(
    expect.objectContaining({
      do: 'try-shade',
      trial: expect.objectContaining({ sharePercent: 12.5 }),
    }),
  );
});
