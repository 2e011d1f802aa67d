// @vitest-environment jsdom
// A number that nobody typed is asked for in the form that makes it (common practice, no source). Roles
// and names follow W3C accname 1.2.
import { screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import type { Protocol } from '../../src/protocol/types.ts';
import { smallProtocol } from '../protocol/edit-support.ts';
import type { TestDesk } from './lead-support.ts';
import { dialogsInJsdom, showDesk } from './show-desk.tsx';

vi.setConfig({ testTimeout: 60_000 });

beforeAll(dialogsInJsdom);

const steps = (draft: string): string => `/lead/draft/${draft}/steps`;
const dialog = () => within(screen.getByRole('dialog'));
const field = (name: string) => dialog().getByRole<HTMLInputElement>('textbox', { name });
const apply = () => dialog().getByRole('button', { name: 'Apply' });

function draftOf(test: TestDesk): Protocol {
  const draft = test.desk.state.getState().drafts[0];
  if (draft === undefined) throw new Error('no draft');
  return draft.history.protocol;
}

/** Opens the sections of the form that are shut. */
async function openSections(): Promise<void> {
  const user = userEvent.setup();
  for (const summary of screen
    .getByRole('dialog')
    .querySelectorAll('details:not([open]) summary')) {
    await user.click(summary);
  }
}

const KINDS: readonly (readonly [kind: string, field: string, typed: string, action: object])[] = [
  ['A time that runs', 'Target', '45', { kind: 'dwell', targetMs: { value: 45_000 } }],
  ['Light on surfaces', 'Each surface', '12', { kind: 'expose', perSurfaceMs: { value: 12_000 } }],
];

describe('a new step', () => {
  it.each(KINDS)(
    'of the kind “%s” asks for its number and takes none by itself',
    async (...row) => {
      const [kind, name, typed, action] = row;
      const user = userEvent.setup();
      const test = await showDesk(steps, smallProtocol());
      await user.click(screen.getByRole('button', { name: 'Add a step' }));
      await openSections();
      await user.clear(field('Title'));
      await user.type(field('Title'), 'Wait');
      await user.selectOptions(dialog().getByRole('combobox', { name: 'What is pressed' }), kind);
      expect(field(name).value).toBe('');
      await user.click(apply());
      expect(field(name)).toBeInvalid();
      expect(field(name)).toHaveFocus();
      expect(draftOf(test).steps).toHaveLength(5);
      await user.type(field(name), typed);
      await user.click(apply());
      expect(draftOf(test).steps.at(-1)).toMatchObject({ title: 'Wait', action });
    },
  );
});

describe('a step that is there already', () => {
  it('asks for the number that it lost and got again in one form, until it is applied', async () => {
    const user = userEvent.setup();
    const test = await showDesk(steps, smallProtocol());
    await user.click(screen.getByRole('button', { name: 'Edit Etch' }));
    await openSections();
    const kind = () => dialog().getByRole('combobox', { name: 'What is pressed' });
    const before = (kind() as HTMLSelectElement).value;
    await user.selectOptions(kind(), 'confirm');
    await user.selectOptions(kind(), before);
    expect(field('Target').value).toBe('');
    await user.click(apply());
    expect(field('Target')).toBeInvalid();
    await user.type(field('Target'), '20');
    expect(field('Target').value).toBe('20');
    await user.click(apply());
    expect(screen.queryByRole('dialog')).toBeNull();
    expect(draftOf(test).steps.find(({ id }) => id === 'etch')?.action).toMatchObject({
      kind: 'dwell',
      targetMs: { value: 20_000 },
    });
  });
});

describe('a new window', () => {
  it('asks for a minimum or a limit, with where it comes from', async () => {
    const user = userEvent.setup();
    const test = await showDesk(steps, smallProtocol());
    await user.click(screen.getByRole('button', { name: 'Add a window' }));
    await user.type(field('Title'), 'Stay still');
    await user.click(apply());
    expect(field('Limit')).toHaveAccessibleDescription(/Give a minimum, a limit, or both\.$/);
    expect(draftOf(test).windows).toHaveLength(1);
    await user.type(field('Minimum'), '2 min');
    await user.click(dialog().getByRole('radio', { name: 'Instructions' }));
    await user.click(apply());
    expect(field('Document')).toHaveFocus();
    await user.type(field('Document'), 'Cement, IFU');
    await user.type(field('Revision or date'), '3');
    await user.click(apply());
    expect(draftOf(test).windows.at(-1)).toMatchObject({
      title: 'Stay still',
      minMs: { value: 120_000, basis: { kind: 'instructions', document: 'Cement, IFU' } },
    });
    expect(draftOf(test).windows.at(-1)?.maxMs).toBeUndefined();
  });
});
