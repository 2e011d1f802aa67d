// @vitest-environment jsdom
// Conditions are picked by name and in words: the expectations are the documents that the format
// (`src/protocol/facts.ts`) writes for what was picked, and common practice for forms.
import { screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, expect, it, vi } from 'vitest';
import type { Where } from '../../src/protocol/facts.ts';
import { smallProtocol } from '../protocol/edit-support.ts';
import { dialogsInJsdom, plain, showDesk } from './show-desk.tsx';

vi.setConfig({ testTimeout: 60_000 });

beforeAll(dialogsInJsdom);

const CORD = {
  id: 'cord',
  title: 'Cord',
  options: [
    { id: 'none', label: 'No cord' },
    { id: 'plain', label: 'Plain cord' },
  ],
  default: 'none',
};

const dialog = () => within(screen.getByRole('dialog'));
const group = (name: string) => within(dialog().getByRole('group', { name }));
const asks = (name: string) => group(name).getAllByRole('combobox', { name: 'Asks about' });

async function begin() {
  const user = userEvent.setup();
  const protocol = { ...smallProtocol(), choices: [CORD] };
  const test = await showDesk((draft) => `/lead/draft/${draft}/around`, protocol);
  const first = protocol.waysBack[0];
  if (first === undefined) throw new Error('no way back');
  await user.click(screen.getByRole('button', { name: `Edit ${first.title}` }));
  const where = (): readonly Where[] | undefined =>
    test.desk.state.getState().drafts[0]?.history.protocol.waysBack[0]?.where;
  const ask = async (name: string, about: string) => {
    const [select] = asks(name);
    if (select === undefined) throw new Error(`nothing asks in ${name}`);
    await user.selectOptions(select, about);
  };
  const press = (name: string) => user.click(dialog().getByRole('button', { name }));
  return { user, where, ask, press };
}

it('makes every form of condition from words, in the order in which they were picked', async () => {
  const { user, where, ask, press } = await begin();
  const add = () =>
    user.click(group('Fits only where').getByRole('button', { name: 'Add a condition' }));
  await add();
  await user.click(group('Condition 1').getByRole('checkbox', { name: 'Dentine shows' }));
  await user.click(group('Condition 1').getByRole('checkbox', { name: 'Enamel' }));
  await user.click(group('Condition 1').getByRole('radio', { name: 'known, and none of these' }));
  await add();
  await ask('Condition 2', 'Thickness of the unit');
  await user.type(group('Condition 2').getByRole('textbox', { name: 'Thicker than' }), '0.49');
  await add();
  await ask('Condition 3', 'Any one of several');
  await ask('Condition 3.1', 'Chosen at set-up: Cord');
  await user.click(group('Condition 3.1').getByRole('checkbox', { name: 'Plain cord' }));
  await press('Add to condition 3');
  await ask('Condition 3.2', 'Pontics');
  await user.click(group('Condition 3.2').getByRole('checkbox', { name: 'Yes' }));
  await press('Apply');
  expect(where()).toEqual([
    { fact: 'substrate', isNot: ['dentine-shows', 'enamel'] },
    { overMm: 0.49 },
    {
      anyOf: [
        { choice: 'cord', is: ['plain'] },
        { fact: 'pontics', is: ['yes'] },
      ],
    },
  ]);
  await user.click(screen.getByRole('radio', { name: 'Changes and effect' }));
  const [line] = within(screen.getByRole('list', { name: 'Changes' })).getAllByRole('listitem');
  expect(plain(line?.textContent ?? '')).toMatch(
    /only where: added what the tooth shows: not Dentine shows \/ Enamel; thicker than 0\.49 mm; Cord: Plain cord \/ pontics: Yes/,
  );
});

it('asks for a thickness that nobody wrote and takes nothing until it is there', async () => {
  const { user, where, ask, press } = await begin();
  await press('Add a condition');
  await ask('Condition 1', 'Thickness of the unit');
  await press('Apply');
  const field = group('Condition 1').getByRole('textbox', { name: 'Thicker than' });
  expect(field).toBeInvalid();
  expect(field).toHaveFocus();
  expect(where()).toBeUndefined();
  await user.type(field, '1,5');
  await press('Apply');
  expect(where()).toEqual([{ overMm: 1.5 }]);
});

it('says that a condition without a value never holds, and forgets one that is removed', async () => {
  const { where, press } = await begin();
  await press('Add a condition');
  expect(group('Condition 1').getByText(/^Choose at least one value\. Without/)).toBeVisible();
  expect(dialog().queryByText(/^A condition without a value/)).not.toBeInTheDocument();
  await press('Remove Condition 1');
  await press('Apply');
  expect(where()).toBeUndefined();
  expect(screen.queryByRole('dialog')).not.toBeInTheDocument();
});
