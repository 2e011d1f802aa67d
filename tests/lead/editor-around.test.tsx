// @vitest-environment jsdom
// Roles, names and descriptions follow the accessible name computation that Testing Library
// implements (W3C accname 1.2). Every form is given something wrong first: it must say so beside the
// field what belongs there (common practice, no source), and keep what was typed.
import { act, screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { IDLE_MS } from '../../src/runtime/lead/desk-idle.ts';
import { smallProtocol } from '../protocol/edit-support.ts';
import { PASSPHRASE, type TestDesk } from './lead-support.ts';
import { dialogsInJsdom, openSection, plain, showDesk } from './show-desk.tsx';

vi.setConfig({ testTimeout: 60_000 });

beforeAll(dialogsInJsdom);

const around = (draft: string): string => `/lead/draft/${draft}/around`;
const dialog = () => within(screen.getByRole('dialog'));
const field = (name: string) => dialog().getByRole('textbox', { name });
const button = (name: string | RegExp) => screen.getByRole('button', { name });
const list = (name: string) => within(screen.getByRole('list', { name }));
const apply = () => dialog().getByRole('button', { name: 'Apply' });

function draftOf(test: TestDesk): Protocol {
  const draft = test.desk.state.getState().drafts[0];
  if (draft === undefined) throw new Error('no draft');
  return draft.history.protocol;
}

async function undoAll(test: TestDesk): Promise<void> {
  const user = userEvent.setup();
  while ((test.desk.state.getState().drafts[0]?.history.done ?? 0) > 0) {
    await user.click(button('Undo'));
  }
  expect(canonicalText(draftOf(test))).toBe(canonicalText(smallProtocol()));
}

/** The lines of the difference, after going there. */
async function difference(): Promise<readonly string[]> {
  const user = userEvent.setup();
  await user.click(screen.getByRole('radio', { name: 'Changes and effect' }));
  return list('Changes')
    .getAllByRole('listitem')
    .map((item) => plain(item.textContent));
}

describe('the language of the texts', () => {
  it('is a tag; another text is refused beside the field, and empty means English', async () => {
    const user = userEvent.setup();
    const test = await showDesk(around, smallProtocol());
    const language = () => screen.getByRole('textbox', { name: 'Language of the texts' });
    await user.type(language(), 'de_AT');
    expect(language()).toBeInvalid();
    expect(language()).toHaveAccessibleDescription(/Write a language tag/);
    await user.click(button('Apply'));
    expect(language()).toHaveFocus();
    expect(draftOf(test).language).toBeUndefined();
    await user.clear(language());
    await user.type(language(), 'de-AT');
    await user.click(button('Apply'));
    expect(draftOf(test).language).toBe('de-AT');
    expect(await difference()).toEqual(['Small: language none → de-AT']);
    await undoAll(test);
  });
});

describe('cautions', () => {
  it('are changed and bound to steps; empty words are refused beside the field', async () => {
    const user = userEvent.setup();
    const test = await showDesk(around, smallProtocol());
    await user.click(button('Edit Acid burns.'));
    await user.clear(field('Words'));
    await user.click(apply());
    expect(field('Words')).toBeInvalid();
    expect(field('Words')).toHaveAccessibleDescription(/Write the words of the caution\./);
    expect(field('Words')).toHaveFocus();
    await user.type(field('Words'), 'Acid burns skin.');
    await user.click(dialog().getByRole('checkbox', { name: 'Rinse' }));
    await user.click(apply());
    expect(screen.queryByRole('dialog')).not.toBeInTheDocument();
    expect(list('Cautions').getByText('Shown at Etch and Rinse')).toBeVisible();
    expect(draftOf(test).steps[1]?.cautions).toEqual(['acid']);
    expect(await difference()).toEqual([
      'Rinse: cautions none → “Acid burns skin.”',
      'Caution “Acid burns.”: words “Acid burns.” → “Acid burns skin.”',
    ]);
    await undoAll(test);
  });

  it('are added and removed, also where they were bound', async () => {
    const user = userEvent.setup();
    const test = await showDesk(around, smallProtocol());
    await user.click(button('Add a caution'));
    await user.type(field('Words'), 'Resin sensitises.');
    await user.click(dialog().getByRole('checkbox', { name: 'Seat' }));
    await user.click(apply());
    expect(draftOf(test).steps.find(({ id }) => id === 'seat')?.cautions).toEqual([
      'resin-sensitises',
    ]);
    await user.click(button('Remove Acid burns.'));
    expect(draftOf(test).steps[0]?.cautions).toBeUndefined();
    expect(await difference()).toEqual([
      'Etch: cautions “Acid burns.” → none',
      'Seat: cautions none → “Resin sensitises.”',
      'Caution “Acid burns.” removed',
      'Caution “Resin sensitises.” added',
    ]);
    await undoAll(test);
  });

  it('that were typed and not applied are there again after the desk closed itself', async () => {
    const user = userEvent.setup();
    const test = await showDesk(around, smallProtocol());
    await user.click(button('Add a caution'));
    await user.type(field('Words'), 'Half a sent');
    await act(() => test.pass(IDLE_MS + 1));
    expect(screen.queryByRole('dialog')).not.toBeInTheDocument();
    await act(async () => {
      await test.desk.open(PASSPHRASE);
    });
    expect(field('Words')).toHaveValue('Half a sent');
    await user.click(dialog().getByRole('button', { name: 'Close' }));
    await user.click(button('Add a caution'));
    expect(field('Words')).toHaveValue('');
  });
});

describe('sources', () => {
  it('in use are not removed, and what stands on them is named', async () => {
    const user = userEvent.setup();
    const protocol = smallProtocol();
    const etch = protocol.steps[0];
    if (etch?.action.kind !== 'dwell') throw new Error('etch is no dwell');
    const basis = { kind: 'published', source: 'wang-lu-1991' } as const;
    const action = { ...etch.action, targetMs: { ...etch.action.targetMs, basis } };
    const steps = [{ ...etch, action }, ...protocol.steps.slice(1)];
    const test = await showDesk(around, { ...protocol, steps });
    await user.click(button('Remove Wang 1991'));
    expect(screen.getByRole('alert')).toHaveTextContent(
      'Not removed: Etch: target rests on it. Give another basis there first.',
    );
    expect(draftOf(test).sources).toHaveLength(1);
  });

  it('take a DOI as people copy it and refuse what is none', async () => {
    const user = userEvent.setup();
    const test = await showDesk(around, smallProtocol());
    await user.click(button('Add a source'));
    await user.type(field('DOI'), '11.1000/182');
    await user.click(apply());
    expect(field('Citation')).toHaveAccessibleDescription(/Write author, journal or standard/);
    expect(field('DOI')).toHaveAccessibleDescription(/This is not a DOI\. A DOI looks like/);
    expect(field('DOI')).toHaveValue('11.1000/182');
    // The DOI of the DOI Handbook (International DOI Foundation), and its form in ISO 26324:2022.
    await user.clear(field('DOI'));
    await user.type(field('DOI'), 'https://doi.org/10.1000/182');
    expect(field('DOI')).toHaveAccessibleDescription(/Understood: 10\.1000\/182/);
    await user.type(field('Citation'), 'Rivers A, Tide Journal 2024;3:1-9');
    expect(field('Citation')).toHaveAccessibleDescription(/Under a number: Rivers 2024/);
    await user.click(apply());
    expect(draftOf(test).sources.at(-1)).toEqual({
      id: 'rivers-2024',
      citation: 'Rivers A, Tide Journal 2024;3:1-9',
      doi: '10.1000/182',
    });
    await user.click(button('Remove Wang 1991'));
    expect(await difference()).toEqual([
      'Source Wang WN, Lu TC, AJODO 1991;100:72-79 removed',
      'Source Rivers A, Tide Journal 2024;3:1-9, 10.1000/182 added',
    ]);
    await undoAll(test);
  });
});

describe('ways back', () => {
  it('are changed in what they void and when they fit, with what the checks say beside it', async () => {
    const user = userEvent.setup();
    const test = await showDesk(around, smallProtocol());
    await user.click(button('Edit Etch again'));
    await user.click(dialog().getByRole('button', { name: 'Add a step to do again' }));
    const [, step] = dialog().getAllByRole('combobox', { name: 'Step' });
    const [, link] = dialog().getAllByRole('combobox', { name: 'On' });
    if (step === undefined || link === undefined) throw new Error('no second row');
    await user.selectOptions(step, 'Rinse');
    await user.selectOptions(link, 'what belongs to it');
    expect(link).toHaveAccessibleDescription(/joins different kinds of subjects/);
    await user.selectOptions(link, 'the same subject');
    await user.selectOptions(dialog().getByRole('combobox', { name: 'Fits until' }), 'Rinse');
    await user.clear(field('What the app proposes'));
    await user.click(apply());
    expect(field('What the app proposes')).toHaveAccessibleDescription(
      /Write what the app proposes\./,
    );
    await user.type(field('What the app proposes'), 'Etch for 10 s.');
    await user.type(field('Note'), 'a written rule');
    await user.click(apply());
    expect(await difference()).toEqual([
      'Way back Etch again: to be done again: added Rinse on the same subject',
      'Way back Etch again: what the app proposes “Etch again.” → “Etch for 10 s.”',
      'Way back Etch again: basis Common practice, no source: To be checked against the product instructions → Common practice, no source: a written rule',
      'Way back Etch again: fits until Any time → the end of Rinse',
    ]);
    await undoAll(test);
  });

  it('are removed only with a reason, which stands in the difference', async () => {
    const user = userEvent.setup();
    const test = await showDesk(around, smallProtocol());
    await user.click(button('Remove Etch again'));
    const takeOut = () => dialog().getByRole('button', { name: 'Remove it' });
    await user.click(takeOut());
    expect(field('Why it is removed')).toHaveAccessibleDescription(
      /Say in a few words why it is removed\./,
    );
    await user.type(field('Why it is removed'), 'We stop and call.');
    await user.click(takeOut());
    expect(draftOf(test).waysBack).toEqual([]);
    expect(await difference()).toContainEqual(
      expect.stringMatching(/^Way back Etch again removed: We stop and call\./),
    );
    await undoAll(test);
  });

  it('are added', async () => {
    const user = userEvent.setup();
    const test = await showDesk(around, smallProtocol());
    await user.click(button('Add a way back'));
    await user.type(field('Title'), 'Blood on it');
    await user.selectOptions(dialog().getByRole('combobox', { name: 'What went wrong' }), 'Blood');
    await user.type(field('What the app proposes'), 'Stop it first.');
    await user.click(apply());
    expect(draftOf(test).waysBack.at(-1)).toMatchObject({ id: 'blood-on-it', mishap: 'blood' });
    expect(await difference()).toEqual([
      'Way back Blood on it added: what went wrong Blood; happens to each tooth; to be done again none; what the app proposes “Stop it first.”; basis Common practice, no source: To be checked against the product instructions',
    ]);
    await undoAll(test);
  });
});

describe('stages and conditions', () => {
  it('stages are renamed and ordered, and kept while steps are in them', async () => {
    const user = userEvent.setup();
    const test = await showDesk(around, smallProtocol());
    await user.click(button('Remove Seat'));
    expect(screen.getByRole('alert')).toHaveTextContent(/^Not removed: .* in it\./);
    await user.click(button('Edit Seat'));
    await user.clear(field('Title'));
    await user.click(apply());
    expect(field('Title')).toHaveAccessibleDescription(/Give the stage a title\./);
    await user.type(field('Title'), 'Cement');
    await user.click(apply());
    await user.click(button('Move Cement up'));
    expect(draftOf(test).stages.map(({ title }) => title)).toEqual(['Cement', 'Etch']);
    expect(await difference()).toContain('Stage Seat: title Seat → Cement');
    await undoAll(test);
  });

  it('a step moves to another stage and depends on a way back; what leads nowhere is said', async () => {
    const user = userEvent.setup();
    const protocol = smallProtocol();
    const steps = protocol.steps.map((step) =>
      step.id === 'rinse' ? { ...step, onlyIf: [{ wayBack: 'gone' }] } : step,
    );
    const test = await showDesk((draft) => `/lead/draft/${draft}/steps`, { ...protocol, steps });
    await user.click(button('Edit Rinse'));
    await user.selectOptions(dialog().getByRole('combobox', { name: 'Stage' }), 'Seat');
    await openSection('What it waits for');
    const condition = dialog().getByRole('combobox', { name: 'Condition' });
    expect(condition).toHaveAccessibleDescription(/There is no way back “gone”\./);
    await user.selectOptions(condition, 'way back taken: Etch again');
    expect(condition).not.toHaveAccessibleDescription();
    await openSection('What it uses');
    await user.click(dialog().getByRole('checkbox', { name: 'Acid burns.' }));
    await user.click(apply());
    expect(draftOf(test).steps.find(({ id }) => id === 'rinse')).toMatchObject({
      stage: 'seat',
      onlyIf: [{ wayBack: 'again' }],
      cautions: ['acid'],
    });
    expect(await difference()).toEqual([
      'Rinse: stage Etch → Seat',
      'Rinse: only if way back taken: gone → way back taken: Etch again',
      'Rinse: cautions none → “Acid burns.”',
    ]);
  });
});
