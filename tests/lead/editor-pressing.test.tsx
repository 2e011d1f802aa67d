// @vitest-environment jsdom
// Roles and names follow the accessible name computation that Testing Library implements (W3C
// accname 1.2). What the sentences claim is held to the engine in `tests/protocol/how-closely.test.ts`.
import { screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import type { Pressing, Protocol } from '../../src/protocol/types.ts';
import {
  PRESSED,
  plainTemplate,
  pressedTemplate,
  read,
  withPressed,
} from '../protocol/pressed-support.ts';
import type { TestDesk } from './lead-support.ts';
import { dialogsInJsdom, openSection, plain, showDesk } from './show-desk.tsx';

vi.setConfig({ testTimeout: 60_000 });

beforeAll(dialogsInJsdom);

const PRESSES = 'Rounds and presses';
const shipped = read(pressedTemplate);
const steps = (draft: string): string => `/lead/draft/${draft}/steps`;
const dialog = () => within(screen.getByRole('dialog'));
const button = (name: string) => screen.getByRole('button', { name });
const apply = () => dialog().getByRole('button', { name: 'Apply' });
const way = (name: string) => dialog().getByRole('radio', { name });
const note = (name: string): string => plain(dialog().getByRole('region', { name }).textContent);

function draftOf(test: TestDesk): Protocol {
  const draft = test.desk.state.getState().drafts[0];
  if (draft === undefined) throw new Error('no draft');
  return draft.history.protocol;
}

const wayOf = (test: TestDesk, id: string): Pressing | undefined =>
  draftOf(test).steps.find((step) => step.id === id)?.pressed;

async function difference(): Promise<readonly string[]> {
  const user = userEvent.setup();
  await user.click(screen.getByRole('radio', { name: 'Changes and effect' }));
  return within(screen.getByRole('list', { name: 'Changes' }))
    .getAllByRole('listitem')
    .map((item) => plain(item.textContent));
}

describe('how a step is pressed, in its sheet', () => {
  it('offers the ways that fit with what each says of the limits, and one press for each in one tap', async () => {
    const user = userEvent.setup();
    const test = await showDesk(steps, shipped, 'here', [shipped]);
    await user.click(button('Edit Acid'));
    await openSection(PRESSES);
    expect(dialog().queryByRole('radio', { name: 'Paced light' })).not.toBeInTheDocument();
    expect(way('A sweep')).toBeChecked();
    expect(note('One press for each')).toContain('Acid, 20 s to 1 min: exact to the press.');
    expect(note('A sweep')).toContain(
      'to within 29 s for the last of two, 51 s for the last of four; “kept” can be said of rounds of up to 3.',
    );
    await user.click(way('One press for each'));
    await user.click(apply());
    expect(wayOf(test, 'acid')).toBeUndefined();
    expect(await difference()).toEqual([
      'Acid: how it is pressed a sweep at the start, 3 s to 8 s for each; a sweep at the end, 4 s to 10 s for each → One press for each',
    ]);
    await user.click(button('Undo'));
    expect(wayOf(test, 'acid')).toEqual(PRESSED['acid']);
  });

  it('names a limit that nobody could judge any more, and says what is wrong beside the choice', async () => {
    const user = userEvent.setup();
    const how = { kind: 'implied', by: ['etch-dry'] };
    const hidden = read(withPressed(pressedTemplate, { 'adhesive-mixed': how }));
    const test = await showDesk(steps, hidden, 'here', [shipped]);
    await user.click(button('Edit Mix adhesive'));
    await openSection(PRESSES);
    expect(note('Said by a later press')).toContain(
      'Can no longer be judged: Warm-up, adhesive, at least 20 min.',
    );
    await user.click(dialog().getByRole('checkbox', { name: 'Dry' }));
    expect(dialog().getByText(/Name the later step whose press/)).toBeVisible();
    await user.click(dialog().getByRole('button', { name: 'As shipped' }));
    await user.click(apply());
    expect(wayOf(test, 'adhesive-mixed')).toBeUndefined();
  });

  it('takes the way that shipped again, with its list', async () => {
    const user = userEvent.setup();
    const test = await showDesk(steps, read(plainTemplate), 'here', [shipped]);
    await user.click(button('Edit Tablet charge'));
    await openSection(PRESSES);
    await user.click(dialog().getByRole('button', { name: 'As shipped' }));
    await user.click(apply());
    expect(wayOf(test, 'charge')).toEqual(PRESSED['charge']);
    expect(draftOf(test).lists).toEqual(shipped.lists);
    expect(await difference()).toEqual([
      'Tablet charge: how it is pressed One press for each → a line of “Pause”',
      'List Pause added',
    ]);
  });
});

describe('the lists of a protocol', () => {
  it('are renamed, get lines, and are removed with the way their lines are pressed', async () => {
    const user = userEvent.setup();
    const test = await showDesk((draft) => `/lead/draft/${draft}/around`, shipped, 'here', [
      shipped,
    ]);
    await user.click(button('Edit Pause'));
    const title = dialog().getByRole('textbox', { name: 'Title' });
    await user.clear(title);
    await user.click(apply());
    expect(title).toHaveAccessibleDescription(/Give the list a title\./);
    await user.type(title, 'Team pause');
    await user.click(dialog().getByRole('checkbox', { name: 'Eyes' }));
    await user.click(apply());
    expect(draftOf(test).lists?.[0]?.title).toBe('Team pause');
    expect(wayOf(test, 'eyes-covered')).toEqual({ kind: 'list', list: 'pause' });
    await user.click(button('Add a list'));
    await user.type(dialog().getByRole('textbox', { name: 'Title' }), 'End');
    await user.type(dialog().getByRole('textbox', { name: 'What the bar says' }), 'All told');
    await user.click(dialog().getByRole('checkbox', { name: 'Count tray' }));
    await user.click(apply());
    expect(wayOf(test, 'counted')).toEqual({ kind: 'list', list: 'end' });
    await user.click(button('Remove Team pause'));
    expect(draftOf(test).lists?.map(({ id }) => id)).toEqual(['end']);
    expect(wayOf(test, 'eyes-covered')).toBeUndefined();
  });
});
