// @vitest-environment jsdom
// A family that nobody wrote in JSON: it begins at the desk's home. What is expected are documents of
// the format, and forms that say beside the field what they lack (common practice, no source).
import { act, screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, expect, it, vi } from 'vitest';
import type { Protocol } from '../../src/protocol/types.ts';
import { IDLE_MS } from '../../src/runtime/lead/desk-idle.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import { smallProtocol } from '../protocol/edit-support.ts';
import { PASSPHRASE, type TestDesk, template } from './lead-support.ts';
import { dialogsInJsdom, showDesk } from './show-desk.tsx';

vi.setConfig({ testTimeout: 60_000 });

beforeAll(dialogsInJsdom);

const dialog = () => within(screen.getByRole('dialog'));
const field = (name: string) => dialog().getByRole('textbox', { name });
const press = (name: string) => userEvent.setup().click(screen.getByRole('button', { name }));

/** What the newest draft holds, and what the log says that it came from. */
function newest({ desk }: TestDesk): { readonly protocol: Protocol; readonly told: unknown } {
  const { drafts, log } = desk.state.getState();
  const draft = drafts.at(-1);
  if (draft === undefined) throw new Error('no draft');
  const { deed, values } = log.entries.at(-1) ?? {};
  return { protocol: draft.history.protocol, told: { deed, from: values?.['from'] } };
}

it('begins blank with a title and a summary, and opens the draft at what it says of itself', async () => {
  const user = userEvent.setup();
  const test = await showDesk(() => '/lead', smallProtocol());
  await press('Begin blank');
  await press('Begin the draft');
  expect(field('Title')).toHaveAccessibleDescription('Give the protocol a title.');
  expect(field('Summary')).toHaveAccessibleDescription(/Say in a sentence what it is for\.$/);
  await user.type(field('Title'), 'SMALL');
  expect(field('Title')).toHaveAccessibleDescription(/There is a protocol with this title already/);
  await user.clear(field('Title'));
  await user.type(field('Title'), 'Fibre post');
  await user.type(field('Summary'), 'One root, one post.');
  await press('Begin the draft');
  expect(await screen.findByRole('heading', { name: 'Fibre post', level: 1 })).toBeVisible();
  const { protocol, told } = newest(test);
  expect(protocol).toMatchObject({
    id: 'fibre-post',
    revision: 1,
    title: 'Fibre post',
    summary: 'One root, one post.',
    steps: [],
  });
  await user.click(screen.getByRole('radio', { name: 'Changes and effect' }));
  expect(screen.getByText(/^Compared with what this draft began with, hash /)).toBeVisible();
  expect(told).toEqual({ deed: 'draft-begun', from: '' });
});

it('begins as a copy of what is in force or ships, with all that it holds', async () => {
  const user = userEvent.setup();
  const test = await showDesk(() => '/lead', smallProtocol());
  await press('From a copy');
  const sources = within(dialog().getByRole('combobox', { name: 'Copy of' }));
  expect(sources.getAllByRole('option').map((option) => option.textContent)).toEqual([
    'Small, as shipped',
    `${template().title}, as shipped`,
  ]);
  await user.selectOptions(
    dialog().getByRole('combobox', { name: 'Copy of' }),
    `${template().title}, as shipped`,
  );
  await user.type(field('Title'), 'Veneers, our way');
  await press('Begin the draft');
  const { protocol, told } = newest(test);
  expect(told).toEqual({ deed: 'draft-begun', from: protocolHash(template()) });
  expect(protocol).toEqual({
    ...template(),
    id: 'veneers-our-way',
    title: 'Veneers, our way',
    revision: 1,
  });
});

it('keeps what was typed while the desk was closed', async () => {
  const user = userEvent.setup();
  const test = await showDesk(() => '/lead', smallProtocol());
  await press('Begin blank');
  await user.type(field('Title'), 'Half a ti');
  await act(() => test.pass(IDLE_MS + 1));
  await act(async () => {
    await test.desk.open(PASSPHRASE);
  });
  expect(field('Title')).toHaveValue('Half a ti');
});

it('begins with the sheet of a product, the shortest way to numbers that somebody read', async () => {
  await showDesk(() => '/lead', smallProtocol());
  await press('From a product’s sheet');
  const title = { name: 'Product sheets', level: 1 };
  // The page is loaded when it is wanted.
  await vi.waitFor(() => expect(screen.getByRole('heading', title)).toBeVisible(), 20_000);
});
