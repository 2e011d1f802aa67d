// @vitest-environment jsdom
// What a protocol says of itself, by forms alone: each expectation is the document of the format that
// the typed words make. Removing what is in use is refused with the names of what uses it.
import { screen, within } from '@testing-library/react';
import userEvent, { type UserEvent } from '@testing-library/user-event';
import { beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Protocol } from '../../src/protocol/types.ts';
import { smallProtocol } from '../protocol/edit-support.ts';
import type { TestDesk } from './lead-support.ts';
import { dialogsInJsdom, plain, showDesk } from './show-desk.tsx';

vi.setConfig({ testTimeout: 60_000 });

beforeAll(dialogsInJsdom);

let user: UserEvent;
let test: TestDesk;

async function begin(protocol: Protocol = smallProtocol()): Promise<void> {
  user = userEvent.setup();
  test = await showDesk((draft) => `/lead/draft/${draft}/head`, protocol);
}

const dialog = () => within(screen.getByRole('dialog'));
const group = (name: string) => within(dialog().getByRole('group', { name }));
const press = (name: string) => user.click(screen.getByRole('button', { name }));
const inSheet = (name: string) => user.click(dialog().getByRole('button', { name }));
const tick = (name: string) => user.click(dialog().getByRole('checkbox', { name }));
const names = (list: string) =>
  within(screen.getByRole('list', { name: list }))
    .getAllByRole('listitem')
    .map((item) => item.querySelector('p')?.textContent);

async function write(name: string, text: string, within_ = dialog()): Promise<void> {
  const field = within_.getByRole('textbox', { name });
  await user.clear(field);
  await user.click(field);
  await user.paste(text);
}

function draft(): Protocol {
  const [first] = test.desk.state.getState().drafts;
  if (first === undefined) throw new Error('no draft');
  return first.history.protocol;
}

async function difference(): Promise<readonly string[]> {
  await user.click(screen.getByRole('radio', { name: 'Changes and effect' }));
  return within(screen.getByRole('list', { name: 'Changes' }))
    .getAllByRole('listitem')
    .map((item) => plain(item.textContent));
}

describe('what a protocol is for', () => {
  beforeEach(() => begin());

  it('is written and chosen, also a class that the app has no word for', async () => {
    await press('Edit what it is for');
    await write('Title', '');
    await inSheet('Apply');
    expect(dialog().getByRole('textbox', { name: 'Title' })).toHaveAccessibleDescription(
      'Give the protocol a title.',
    );
    await write('Title', 'Small, ours');
    await write('Summary', 'Two steps.');
    await tick('Veneer');
    await tick('Crown');
    await write('Another restoration', 'endocrown');
    await inSheet('Add: Another restoration');
    await tick('Leucite glass-ceramic');
    await inSheet('Apply');
    expect(draft()).toMatchObject({
      id: 'small',
      title: 'Small, ours',
      summary: 'Two steps.',
      restorations: ['crown', 'endocrown'],
      materials: ['leucite'],
    });
    expect(await difference()).toEqual([
      'Small: title Small → Small, ours',
      'Small: summary For tests. → Two steps.',
      'Small: restorations Veneer → Crown, endocrown',
      'Small: materials it is for none → Leucite glass-ceramic',
    ]);
  });

  it('is for units of any class again once none is chosen', async () => {
    await press('Edit what it is for');
    await tick('Zirconia');
    await inSheet('Apply');
    expect(draft().materials).toEqual(['zirconia']);
    await press('Edit what it is for');
    await tick('Zirconia');
    await inSheet('Apply');
    expect(draft()).not.toHaveProperty('materials');
  });
});

describe('materials', () => {
  beforeEach(() => begin());

  it('are added with all their fields, moved, and told in the difference', async () => {
    await press('Add a material');
    await inSheet('Apply');
    expect(dialog().getByRole('textbox', { name: 'Label' })).toHaveAccessibleDescription(
      'Give the material a label.',
    );
    await write('Label', 'Adhesive A & B');
    await write('Class of material', 'two-bottle adhesive');
    await tick('Kept in the refrigerator');
    await tick('Not every case needs it');
    await write('Stands for', 'Adhesive A\n\n Adhesive B ');
    await inSheet('Apply');
    expect(draft().slots[1]).toEqual({
      id: 'adhesive-a-b',
      label: 'Adhesive A & B',
      materialClass: 'two-bottle adhesive',
      refrigerated: true,
      optional: true,
      standsFor: ['Adhesive A', 'Adhesive B'],
    });
    await press('Move Adhesive A & B up');
    expect(names('Materials')).toEqual(['Adhesive A & B', 'Gel']);
    await press('Undo');
    await press('Edit Gel');
    await tick('Kept in the refrigerator');
    await inSheet('Apply');
    await press('Edit Gel');
    await tick('Kept in the refrigerator');
    await inSheet('Apply');
    expect(draft().slots[0]).toEqual(smallProtocol().slots[0]);
    expect(await difference()).toEqual(['Material Adhesive A & B added']);
  });

  it('in use are not removed, and the steps that use them are named', async () => {
    await press('Remove Gel');
    expect(screen.getByRole('alert')).toHaveTextContent(
      'Not removed: Etch uses it. Take it out of that step first.',
    );
    expect(draft().slots).toHaveLength(1);
  });
});

describe('choices at set-up', () => {
  const CORD = {
    id: 'cord',
    title: 'Cord',
    options: [
      { id: 'none', label: 'No cord' },
      { id: 'plain', label: 'Plain cord' },
      { id: 'agent', label: 'With an agent' },
    ],
    default: 'none',
  };
  const where = [{ choice: 'cord', is: ['plain'] }];
  const withCord = (): Protocol => {
    const small = smallProtocol();
    const steps = small.steps.map((step) => (step.id === 'etch' ? { ...step, where } : step));
    return { ...small, choices: [CORD], steps };
  };

  it('are added with options, reasons and the one that holds by itself', async () => {
    await begin();
    await press('Add a choice');
    await inSheet('Apply');
    expect(group('Option 1').getByRole('textbox', { name: 'Label' })).toBeInvalid();
    await write('Title', 'Order of the excess');
    await write('Why', 'The tip is slow.');
    await write('Label', 'Unit by unit', group('Option 1'));
    await write('Label', 'Mix by mix', group('Option 2'));
    await write('Note', 'two together', group('Option 2'));
    await inSheet('Add an option');
    await write('Label', 'Unit by unit', group('Option 3'));
    await user.selectOptions(
      dialog().getByRole('combobox', { name: 'Taken by itself' }),
      'Mix by mix',
    );
    await inSheet('Move Option 2 up');
    await inSheet('Apply');
    expect(draft().choices).toEqual([
      {
        id: 'order-of-the-excess',
        title: 'Order of the excess',
        why: 'The tip is slow.',
        options: [
          { id: 'mix-by-mix', label: 'Mix by mix', note: 'two together' },
          { id: 'unit-by-unit', label: 'Unit by unit' },
          { id: 'unit-by-unit-2', label: 'Unit by unit' },
        ],
        default: 'mix-by-mix',
      },
    ]);
    const [line] = await difference();
    expect(line).toBe(
      'Small: choices at set-up none → Order of the excess: Mix by mix (two together; taken by itself), Unit by unit, Unit by unit. The tip is slow.',
    );
    await press('Undo');
    expect(draft()).not.toHaveProperty('choices');
  });

  it('and their options are kept while a step depends on them; what is free goes', async () => {
    await begin(withCord());
    await press('Remove Cord');
    expect(screen.getByRole('alert')).toHaveTextContent(
      'Not removed: Etch depends on it. Change its conditions first.',
    );
    await press('Edit Cord');
    await inSheet('Remove Option 2');
    expect(group('Option 2').getByText('Not removed: Etch depends on this option.')).toBeVisible();
    await inSheet('Remove Option 1');
    await inSheet('Apply');
    expect(draft().choices).toEqual([
      { ...CORD, options: CORD.options.slice(1), default: 'plain' },
    ]);
  });
});
