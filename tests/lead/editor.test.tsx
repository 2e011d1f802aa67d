// @vitest-environment jsdom
// Roles and names follow the accessible name computation that Testing Library implements (W3C
// accname 1.2): whoever hears the screen hears which number it is, its value and its basis.
import { act, screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { PERSON } from './lead-support.ts';
import { dialogsInJsdom, plain, showDesk } from './show-desk.tsx';

// A protocol is a long page, and looking things up by role walks all of it.
vi.setConfig({ testTimeout: 60_000 });

beforeAll(dialogsInJsdom);

const numbers = (draft: string): string => `/lead/draft/${draft}`;
const cell = () => screen.getByRole('button', { name: /^Etch, target:/ });

describe('the editor', () => {
  it('names every number with its step, its label, its value and its basis', async () => {
    await showDesk(numbers);
    expect(plain(cell().getAttribute('aria-label'))).toBe('Etch, target: 30 s, Etching 1998');
    expect(screen.getByRole('button', { name: /^Add: limit of Rinse$/ })).toBeInTheDocument();
    const table = screen.getByRole('table', { name: 'Numbers of Etch' });
    expect(within(table).getByRole('rowheader', { name: /^Etch/ })).toBeInTheDocument();
  });

  it('reads back what it understood, or says in one line why it did not', async () => {
    const user = userEvent.setup();
    await showDesk(numbers);
    await user.click(cell());
    const dialog = screen.getByRole('dialog', { name: 'Etch: target' });
    const number = within(dialog).getByRole('textbox', { name: 'Number' });
    await user.clear(number);
    await user.type(number, '1:30');
    expect(plain(dialog.textContent)).toContain('Understood: 1 min 30 s');
    expect(plain(dialog.textContent)).toContain('15 to 60 s');
    await user.clear(number);
    await user.type(number, 'soon');
    expect(number).toBeInvalid();
    expect(number).toHaveAccessibleDescription(/This is not a length of time/);
    // Applying it all the same closes nothing and leads to the field.
    await user.click(within(dialog).getByRole('button', { name: 'Apply' }));
    expect(number).toHaveFocus();
    expect(number).toBeInvalid();
  });

  it('takes a number only together with where it comes from, and gives it back on undo', async () => {
    const user = userEvent.setup();
    const test = await showDesk(numbers);
    await user.click(cell());
    const dialog = screen.getByRole('dialog');
    const number = within(dialog).getByRole('textbox', { name: 'Number' });
    await user.clear(number);
    await user.type(number, '15 s');
    await user.click(within(dialog).getByRole('radio', { name: 'Instructions' }));
    await user.click(within(dialog).getByRole('button', { name: 'Apply' }));
    const document = within(dialog).getByRole('textbox', { name: 'Document' });
    expect(document).toHaveFocus();
    expect(document).toHaveAccessibleDescription(/Name the document\./);
    await user.type(within(dialog).getByRole('textbox', { name: 'Document' }), 'Gel, IFU');
    await user.type(within(dialog).getByRole('textbox', { name: 'Revision or date' }), '7');
    await user.click(within(dialog).getByRole('button', { name: 'Apply' }));
    expect(plain(cell().getAttribute('aria-label'))).toBe('Etch, target: 15 s, Gel, IFU, 7');
    await user.click(screen.getByRole('button', { name: 'Undo' }));
    expect(plain(cell().getAttribute('aria-label'))).toBe('Etch, target: 30 s, Etching 1998');
    await user.keyboard('{Control>}{Shift>}z{/Shift}{/Control}');
    expect(plain(cell().getAttribute('aria-label'))).toBe('Etch, target: 15 s, Gel, IFU, 7');
    const { protocol } = test.desk.state.getState().drafts[0]?.history ?? {};
    expect(protocol?.steps.find((s) => s.id === 'etch')?.action).toMatchObject({
      targetMs: { value: 15_000, basis: { kind: 'instructions', confirmedBy: PERSON } },
    });
  });

  it('names what each button of the full editor does, and to which step', async () => {
    const user = userEvent.setup();
    await showDesk((draft) => `/lead/draft/${draft}/steps`);
    const list = screen.getByRole('list', { name: 'Steps in order' });
    const first = within(list).getAllByRole('listitem').length;
    await user.click(screen.getByRole('button', { name: 'Duplicate Etch' }));
    expect(within(list).getAllByRole('listitem')).toHaveLength(first + 1);
    await user.click(screen.getByRole('button', { name: 'Remove Etch 2' }));
    await user.click(screen.getByRole('button', { name: 'Move Etch down' }));
    const items = within(list)
      .getAllByRole('listitem')
      .map((item) => item.textContent ?? '');
    expect(items.findIndex((t) => t.startsWith('Rinse'))).toBeLessThan(
      items.findIndex((t) => t.startsWith('Etch')),
    );
  });

  it('lists faults and cautions in words, each with a way to its place', async () => {
    const user = userEvent.setup();
    await showDesk(numbers);
    const go = screen.getByRole('button', { name: /^Go there: Adhesive: 5/, hidden: true });
    await user.click(go);
    expect(screen.getByRole('dialog', { name: 'Adhesive: coats' })).toBeInTheDocument();
  });

  it('is not there once the desk has closed', async () => {
    const test = await showDesk(numbers);
    await act(() => test.desk.close('idle'));
    expect(screen.queryByRole('table')).not.toBeInTheDocument();
    expect(
      screen.getByLabelText('Passphrase', { selector: 'input[autocomplete="current-password"]' }),
    ).toBeVisible();
    expect(screen.getByText(/^The desk closed itself/)).toBeVisible();
  });
});
