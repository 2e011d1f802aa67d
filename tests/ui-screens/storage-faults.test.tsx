// @vitest-environment jsdom
// What every page says, in words for people, while the tablet cannot keep or open its records.
import { screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { describe, expect, it, vi } from 'vitest';
import type { AppState } from '../../src/runtime/app-state.ts';
import { Backup } from '../../src/ui/backup/Backup.tsx';
import { MaterialsForm } from '../../src/ui/materials/stock/MaterialsForm.tsx';
import { Frame } from '../../src/ui/shared/Frame.tsx';
import { fakeSession, show } from './fake-session.tsx';

vi.setConfig({ testTimeout: 20_000 });

// jsdom has no modal dialogs.
HTMLDialogElement.prototype.showModal = function () {
  this.open = true;
};

const full: AppState['journal'] = { saved: false, queued: 1, copies: 0, problem: 'database-full' };
const page = (
  <Frame place="materials" title="Page">
    {null}
  </Frame>
);

describe('a page away from the chair', () => {
  it.each([
    ['database-full', /storage is full/],
    ['database-lost', /The app keeps trying/],
  ] as const)('says that a change waits because of %s', (problem, words) => {
    show(page, { session: fakeSession({ journal: { ...full, problem } }) });
    expect(screen.getByText('Not saved yet')).toBeVisible();
    expect(screen.getByText(words)).toBeVisible();
  });

  it('says nothing of the kind while everything is saved', () => {
    show(page, { session: fakeSession() });
    expect(screen.queryByText('Not saved yet')).toBeNull();
  });

  it.each([
    ['newer-format', /Let this app update itself/],
    ['database-blocked', /Close it and open the app again/],
    ['database-lost', /A private window keeps none/],
  ] as const)('tells the fault %s in words, not as a place in the program', (code, words) => {
    const line = 'journal.open: expected a database of layout 1, got "x"';
    show(page, { session: fakeSession({ fault: { kind: 'journal', code, line } }) });
    expect(screen.getByText(words)).toBeVisible();
    expect(screen.queryByText(line)).toBeNull();
  });

  it('keeps the line of a fault that it knows no words for', () => {
    const fault = { kind: 'broken', line: 'case c1: 3 entries set apart (hash)' } as const;
    show(page, { session: fakeSession({ fault }) });
    expect(screen.getByText(fault.line)).toBeVisible();
  });
});

describe('the form of a material', () => {
  it('says that it waits, where nothing answers because the tablet is full', async () => {
    show(
      <MaterialsForm
        isNew={false}
        before={{ id: 'm', materialClass: 'gel', label: 'Gel', lot: 'L1' }}
        isBlocked={false}
        code={null}
        onClose={() => undefined}
        onSave={() => new Promise(() => undefined)}
      />,
      { session: fakeSession({ journal: full }) },
    );
    expect(screen.queryByText('This was not saved.')).toBeNull();
    await userEvent.click(screen.getByRole('button', { name: 'Save', hidden: true }));
    expect(await screen.findByText('This was not saved.')).toBeInTheDocument();
  });
});

describe('the backup page', () => {
  it('shows what was set apart as it was found, and where it belongs', async () => {
    const session = fakeSession();
    const content = { seq: 5, by: 'somebody else' };
    session.casesList.readApart.mockResolvedValue({
      ok: true,
      value: [{ id: 'journal 0', caseId: 'c1', why: 'damaged', content }],
    });
    show(<Backup />, { session });
    expect(await screen.findByRole('heading', { name: 'Set apart: 1 thing' })).toBeVisible();
    expect(screen.getByText(/Damaged here/)).toBeVisible();
    expect(screen.getByRole('link', { name: 'c1' })).toHaveAttribute('href', '/record/c1');
    await userEvent.click(screen.getByText('As it was found'));
    expect(screen.getByText(/somebody else/)).toBeInTheDocument();
  });

  it('has no such part while there is nothing', () => {
    show(<Backup />, { session: fakeSession() });
    expect(screen.queryByText(/Set apart/)).toBeNull();
  });
});
