// @vitest-environment jsdom
// Windows with their reason, and the order of every list: one move is one edit, and one Undo takes
// it back (common practice, no source).
import { screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, expect, it, vi } from 'vitest';
import { smallProtocol } from '../protocol/edit-support.ts';
import type { TestDesk } from './lead-support.ts';
import { dialogsInJsdom, showDesk } from './show-desk.tsx';

vi.setConfig({ testTimeout: 60_000 });

beforeAll(dialogsInJsdom);

const user = userEvent.setup();
const dialog = () => within(screen.getByRole('dialog'));
const press = (name: string) => user.click(screen.getByRole('button', { name }));
const inSheet = (name: string) => user.click(dialog().getByRole('button', { name }));

function historyOf({ desk }: TestDesk) {
  const [first] = desk.state.getState().drafts;
  if (first === undefined) throw new Error('no draft');
  return first.history;
}

async function write(name: string, text: string): Promise<void> {
  await user.click(dialog().getByRole('textbox', { name }));
  await user.paste(text);
}

it('gives a new window its id by its title, and keeps the reason that was written for it', async () => {
  const test = await showDesk((draft) => `/lead/draft/${draft}/steps`, smallProtocol());
  await press('Add a window');
  await inSheet('Apply');
  expect(dialog().getByRole('textbox', { name: 'Title' })).toHaveAccessibleDescription(
    /Give the window a title\.$/,
  );
  await write('Title', 'Etched tooth, waiting');
  await write('Why', 'Saliva comes.');
  await write('Limit', '5 min');
  await inSheet('Apply');
  expect(historyOf(test).protocol.windows.at(-1)).toMatchObject({
    id: 'etched-tooth-waiting',
    title: 'Etched tooth, waiting',
    maxMs: { value: 300_000 },
    why: 'Saliva comes.',
  });
});

it('moves an entry of each list in one edit', async () => {
  const small = smallProtocol();
  const second = {
    windows: { ...small.windows[0], id: 'w2', title: 'Second window' },
    cautions: { id: 'c2', words: 'Second caution.' },
    sources: { id: 's2', citation: 'Second A, Journal 2001;1:1' },
    waysBack: { ...small.waysBack[0], id: 'b2', title: 'Second way' },
    lists: { id: 'l2', title: 'Second list', words: 'Second' },
  } as const;
  const protocol = {
    ...small,
    windows: [...small.windows, second.windows as (typeof small.windows)[number]],
    cautions: [...small.cautions, second.cautions],
    sources: [...small.sources, second.sources],
    waysBack: [...small.waysBack, second.waysBack as (typeof small.waysBack)[number]],
    lists: [...(small.lists ?? []), second.lists],
  };
  const test = await showDesk((draft) => `/lead/draft/${draft}/around`, protocol);
  for (const [part, name] of [
    ['cautions', 'Second caution.'],
    ['sources', 'Second 2001'],
    ['waysBack', 'Second way'],
    ['lists', 'Second list'],
  ] as const) {
    const ids = () => (historyOf(test).protocol[part] ?? []).map(({ id }) => id);
    const before = ids();
    const { done } = historyOf(test);
    await press(`Move ${name} up`);
    expect(ids(), part).toEqual([...before.slice(0, -2), before.at(-1), before.at(-2)]);
    expect(historyOf(test).done).toBe(done + 1);
    await press('Undo');
    expect(ids(), part).toEqual(before);
  }
  await user.click(screen.getByRole('radio', { name: 'Steps and windows' }));
  await press('Move Second window up');
  expect(historyOf(test).protocol.windows[small.windows.length - 1]?.id).toBe('w2');
});

it('proposes the step behind the last one as the next that has to be done again', async () => {
  const test = await showDesk((draft) => `/lead/draft/${draft}/around`, smallProtocol());
  await press('Add a way back');
  await write('Title', 'Wet');
  await write('What the app proposes', 'Dry it.');
  for (const _ of [1, 2, 3]) await inSheet('Add a step to do again');
  const third = within(dialog().getByRole('group', { name: 'To be done again, 3' }));
  await user.selectOptions(third.getByRole('combobox', { name: 'Step' }), 'Seat');
  await inSheet('Add a step to do again');
  await inSheet('Apply');
  const steps = smallProtocol().steps.map(({ id }) => id);
  expect(historyOf(test).protocol.waysBack.at(-1)).toMatchObject({
    id: 'wet',
    voids: [
      { step: steps[0], link: 'same' },
      { step: steps[1], link: 'same' },
      { step: 'seat', link: 'linked' },
      { step: steps[steps.indexOf('seat') + 1] },
    ],
  });
});

it('has a place for each number of a window: the least, what is aimed at, and the most', async () => {
  const test = await showDesk((draft) => `/lead/draft/${draft}/numbers`, smallProtocol());
  await press('Add: target of Wet');
  await write('Number', '30 s');
  await user.click(dialog().getByRole('radio', { name: 'Common practice' }));
  await inSheet('Apply');
  expect(historyOf(test).protocol.windows[0]?.targetMs).toEqual({
    value: 30_000,
    basis: { kind: 'practice' },
  });
});
