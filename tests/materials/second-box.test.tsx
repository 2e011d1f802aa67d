// @vitest-environment jsdom
import { screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { describe, expect, it, vi } from 'vitest';
import { ok } from '../../src/base/result.ts';
import type { StockDefaults } from '../../src/runtime/lead/sheets.ts';
import type { Material } from '../../src/runtime/stock/stock-types.ts';
import { MaterialsForm } from '../../src/ui/materials/stock/MaterialsForm.tsx';
import { fakeSession, show } from '../ui-screens/fake-session.tsx';

// jsdom knows dialogs, but not how to open one.
HTMLDialogElement.prototype.showModal = function showModal() {
  this.open = true;
};

const last: Material = {
  id: 'm1',
  materialClass: 'light-cured resin cement',
  label: 'Cement, shelf 2',
  lot: 'AB12',
  expiry: '2027-05-31',
  useWithinDays: 180,
  refrigerated: true,
  warmUpMinutes: 45,
  deviceIdentifier: '04012345678901',
};

function form(before: Partial<Material>, defaults: StockDefaults | null = null) {
  const session = fakeSession();
  const lastBoxOf = vi.fn((id: string) => (id === last.deviceIdentifier ? last : null));
  const sheetOf = vi.fn(async () =>
    defaults === null ? null : { id: 's', document: 'd', revision: '1', defaults },
  );
  const onSave = vi.fn(async () => ok(null));
  show(
    <MaterialsForm
      isNew
      before={{ id: 'm2', ...before }}
      isBlocked={false}
      code={null}
      onClose={vi.fn()}
      onSave={onSave}
    />,
    { session: { ...session, stock: { ...session.stock, lastBoxOf, sheetOf } } },
  );
  return { onSave };
}

describe('a second box', () => {
  it('fills itself in from the scanned label, and says so at each field', async () => {
    const { onSave } = form({
      lot: 'AB13',
      expiry: '2028-05-31',
      deviceIdentifier: last.deviceIdentifier ?? '',
    });
    expect(await screen.findByDisplayValue('Cement, shelf 2')).toBeVisible();
    expect(screen.getAllByText('As with the last box.')).toHaveLength(5);
    expect(screen.getByLabelText('Lot')).toHaveValue('AB13');
    expect(screen.getByLabelText('Opened on')).toHaveValue('');
    await userEvent.click(screen.getByRole('button', { name: 'Save' }));
    expect(onSave).toHaveBeenCalledWith({
      id: 'm2',
      materialClass: last.materialClass,
      label: last.label,
      lot: 'AB13',
      expiry: '2028-05-31',
      useWithinDays: 180,
      refrigerated: true,
      warmUpMinutes: 45,
      deviceIdentifier: last.deviceIdentifier,
    });
  });

  it('fills itself in as the identifier is typed; what is changed is no longer as before', async () => {
    form({});
    await userEvent.type(screen.getByLabelText('Device identifier'), '04012345678901');
    const label = await screen.findByDisplayValue('Cement, shelf 2');
    await userEvent.type(label, ' left');
    expect(screen.getByDisplayValue('Cement, shelf 2 left')).toBeVisible();
    expect(screen.getAllByText('As with the last box.')).toHaveLength(4);
  });

  it('takes the product sheet first', async () => {
    form({ deviceIdentifier: '04012345678901' }, { materialClass: 'adhesive', useWithinDays: 90 });
    expect(await screen.findByDisplayValue('90')).toBeVisible();
    expect(screen.getAllByText('As its product sheet says.')).toHaveLength(2);
  });
});
