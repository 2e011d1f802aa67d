// @vitest-environment jsdom
// What a lead reads and presses, by roles and names (W3C accname 1.2). That a number which nobody read
// is not confirmed is common practice, no source; the ranges said in words are those of the format.
import { act, screen, within } from '@testing-library/react';
import userEvent, { type UserEvent } from '@testing-library/user-event';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { replayEdits } from '../../src/protocol/edit.ts';
import { addEdit } from '../../src/protocol/edit-history.ts';
import { unconfirmedFigures } from '../../src/protocol/edit-types.ts';
import type { Basis, Figure, Protocol } from '../../src/protocol/types.ts';
import { smallProtocol } from '../protocol/edit-support.ts';
import { PERSON, type TestDesk } from './lead-support.ts';
import { dialogsInJsdom, plain, showDesk } from './show-desk.tsx';

vi.setConfig({ testTimeout: 60_000 });

beforeAll(dialogsInJsdom);

const PRACTICE: Basis = { kind: 'practice' };
const read: Basis = {
  kind: 'instructions',
  document: 'Etching gel, instructions for use',
  revision: '2026-04',
  page: '2',
  asWritten: 'Leave for 20 s.',
  confirmedBy: 'Somebody before',
  confirmedOn: '2025-01-31',
};

/** A protocol with an etch of 20 s that somebody read on page 2. */
function confirmedEtch(): Protocol {
  const whole = smallProtocol();
  const steps = whole.steps.map((step) =>
    step.id === 'etch' && step.action.kind === 'dwell'
      ? { ...step, action: { ...step.action, targetMs: { value: 20_000, basis: read } } }
      : step,
  );
  return { ...whole, steps };
}

/** The same with a light that is given by its radiant exposure. */
function withDose(): Protocol {
  const whole = smallProtocol();
  const steps = whole.steps.map((step) =>
    step.action.kind === 'expose'
      ? { ...step, action: { ...step.action, doseJPerCm2: { value: 16, basis: PRACTICE } } }
      : step,
  );
  return { ...whole, steps };
}

const numbers = (draft: string): string => `/lead/draft/${draft}/numbers`;
const confirm = (draft: string): string => `/lead/draft/${draft}/confirm`;
const dialog = () => within(screen.getByRole('dialog'));
const field = (name: string) => dialog().getByRole<HTMLInputElement>('textbox', { name });
const apply = () => dialog().getByRole('button', { name: 'Apply' });

async function type(user: UserEvent, name: string, text: string): Promise<void> {
  await user.clear(field(name));
  if (text !== '') await user.type(field(name), text);
}

function etchTarget(test: TestDesk): unknown {
  const { steps } = test.desk.state.getState().drafts[0]?.history.protocol ?? { steps: [] };
  const action = steps.find(({ id }) => id === 'etch')?.action;
  return action?.kind === 'dwell' ? action.targetMs : undefined;
}

describe('a confirmed number that is changed', () => {
  it('loses page and quote, and has to be looked up again before it is applied', async () => {
    const user = userEvent.setup();
    const test = await showDesk(numbers, confirmedEtch());
    await user.click(screen.getByRole('button', { name: /^Etch, target:/ }));
    expect(field('Page').value).toBe('2');
    await type(user, 'Number', '22');
    expect(field('Page').value).toBe('');
    expect(field('As written there').value).toBe('');
    expect(field('Document').value).toBe('Etching gel, instructions for use');
    expect(field('Compared by').value).toBe(PERSON);
    await user.click(apply());
    expect(field('Page')).toHaveFocus();
    expect(field('Page')).toHaveAccessibleDescription(/Give the page it stands on/);
    await type(user, 'Page', '3');
    await user.click(apply());
    expect(screen.queryByRole('dialog')).toBeNull();
    expect(etchTarget(test)).toMatchObject({
      value: 22_000,
      basis: { page: '3', confirmedBy: PERSON, document: 'Etching gel, instructions for use' },
    });
    expect(JSON.stringify(etchTarget(test))).not.toContain('Leave for 20 s');
  });

  it('has them back once the number is the old one again', async () => {
    const user = userEvent.setup();
    await showDesk(numbers, confirmedEtch());
    await user.click(screen.getByRole('button', { name: /^Etch, target:/ }));
    await type(user, 'Number', '22');
    await type(user, 'Number', '20');
    expect(field('Page').value).toBe('2');
    expect(field('As written there').value).toBe('Leave for 20 s.');
  });

  it('is told where its quote gives another number, and cannot be confirmed so', async () => {
    const user = userEvent.setup();
    const test = await showDesk(numbers, confirmedEtch());
    await user.click(screen.getByRole('button', { name: /^Etch, target:/ }));
    await type(user, 'Number', '22');
    await type(user, 'As written there', 'Leave for 25 seconds.');
    await user.click(apply());
    const said = /Etch.*The number is 22.s; the words quoted for it say 25 seconds/;
    expect(screen.getByRole('button', { name: said, hidden: true })).toBeInTheDocument();
    const id = test.desk.state.getState().drafts[0]?.id ?? '';
    expect(await test.desk.confirm(id)).toMatchObject({ error: { code: 'quote-differs' } });
  });
});

describe('what cannot be applied', () => {
  it('says the range in words at the field, and never a place in a file', async () => {
    const user = userEvent.setup();
    await showDesk(numbers, withDose());
    await user.click(screen.getAllByRole('button', { name: /J\/cm²/ })[0] as HTMLElement);
    await type(user, 'Number', '9999');
    await user.click(apply());
    expect(plain(field('Number').getAttribute('aria-describedby'))).not.toBe('');
    expect(field('Number')).toHaveAccessibleDescription(/above 0, at most 1000.J\/cm²/);
    expect(field('Number')).toHaveFocus();
    expect(document.body.textContent).not.toContain('protocol.');
  });
});

describe('numbers that are confirmed together', () => {
  it('are those of one material; each is ticked for itself, and none beforehand', async () => {
    const user = userEvent.setup();
    const test = await showDesk(confirm, smallProtocol());
    expect(screen.queryByRole('checkbox')).toBeNull();
    const compare = screen.getByRole('button', { name: 'Compare the numbers of Gel' });
    await user.click(compare);
    const boxes = screen.getAllByRole<HTMLInputElement>('checkbox');
    expect(boxes.every((box) => !box.checked)).toBe(true);
    expect(boxes.every((box) => /\d/.test(box.labels?.[0]?.textContent ?? ''))).toBe(true);
    expect(screen.queryByRole('button', { name: /^all/i })).toBeNull();
    const go = () => screen.getByRole('button', { name: /^Confirm \d+ numbers? against it$/ });
    await user.click(go());
    expect(screen.getByText('Tick the numbers that you have read in the document.')).toBeVisible();
    await user.click(boxes[0] as HTMLElement);
    await user.click(go());
    expect(screen.getByRole('textbox', { name: 'Document' })).toHaveFocus();
    await user.type(screen.getByRole('textbox', { name: 'Document' }), 'Gel, IFU');
    await user.type(screen.getByRole('textbox', { name: 'Revision or date' }), '7');
    await user.click(go());
    const text = JSON.stringify(test.desk.state.getState().drafts[0]?.history.protocol);
    expect(text.split('"document":"Gel, IFU"')).toHaveLength(2);
  });

  it('never go across materials', async () => {
    const user = userEvent.setup();
    await showDesk(confirm, smallProtocol());
    await user.click(screen.getByRole('button', { name: 'Compare the numbers of Curing light' }));
    expect(screen.getAllByRole('checkbox').length).toBeGreaterThan(0);
    expect(screen.queryByRole('checkbox', { name: /^Etch: target/ })).toBeNull();
  });

  it('say what is open when the revision is to be confirmed too early', async () => {
    const user = userEvent.setup();
    await showDesk(confirm, smallProtocol());
    await user.click(screen.getByRole('button', { name: /^Confirm as revision/ }));
    expect(screen.getByText(/^Before that: \d+ numbers to compare/)).toBeVisible();
  });
});

/** The small protocol with a document behind every number. */
function allConfirmed(): Protocol {
  const basis: Basis = {
    kind: 'instructions',
    document: 'Bonding in this clinic',
    revision: '3',
    confirmedBy: PERSON,
    confirmedOn: '2026-11-25',
  };
  const spots = unconfirmedFigures(smallProtocol()).map(({ spot }) => spot);
  const next = replayEdits(smallProtocol(), [{ do: 'set-basis', spots, basis }]);
  if (!next.ok) throw new Error('it does not parse');
  return next.value;
}

describe('what was read', () => {
  it('stands beside its number with document, page and quote', async () => {
    await showDesk(confirm, confirmedEtch());
    const row = screen.getByText(/^Etch: target 20.s/, { selector: 'p' });
    expect(plain(row.textContent)).toContain('page 2');
    expect(plain(row.textContent)).toMatch(/: “Leave for 20 s\.”$/);
  });
});

describe('a second person on the page “Confirm”', () => {
  it('reads every number, gives a name that is not the first one’s, and presses', async () => {
    const user = userEvent.setup();
    const test = await showDesk(confirm, allConfirmed(), 'here', []);
    expect(screen.queryByRole('textbox', { name: 'Second person' })).toBeNull();
    await act(() => test.desk.askSecond(true));
    const press = () => user.click(screen.getByRole('button', { name: /^Confirm as revision/ }));
    await press();
    expect(screen.getByText(/^Read these too, and tick them: Gel, /)).toBeVisible();
    expect(screen.getAllByText(/^Etch: target 20.s/).length).toBeGreaterThan(0);
    for (const box of screen.getAllByRole('checkbox')) await user.click(box);
    const name = screen.getByRole('textbox', { name: 'Second person' });
    await user.type(name, PERSON);
    await press();
    expect(name).toHaveAccessibleDescription(/It has to be somebody else/);
    expect(test.desk.state.getState().revisions).toEqual([]);
    await user.clear(name);
    await user.type(name, 'Dentist D');
    await press();
    await vi.waitFor(() =>
      expect(test.desk.state.getState().revisions[0]?.approval).toMatchObject({
        by: PERSON,
        second: 'Dentist D',
      }),
    );
  });
});

/** Another etch target in the draft, by any other way than the page that shows it. */
async function setEtch({ desk }: TestDesk, figure: Figure): Promise<void> {
  const draft = desk.state.getState().drafts[0];
  if (draft === undefined) throw new Error('no draft');
  const spot = { part: 'steps', id: 'etch', key: 'action.targetMs' } as const;
  const edited = addEdit(draft.history, { do: 'set-figure', spot, figure });
  if (!edited.ok) throw new Error(edited.error.place);
  await act(async () => void (await desk.saveDraft(draft.id, edited.value)));
}

describe('a tick beside a number', () => {
  it('of the second person goes with the number that was read', async () => {
    const user = userEvent.setup();
    const test = await showDesk(confirm, allConfirmed(), 'here', []);
    await act(() => test.desk.askSecond(true));
    const boxes = () => screen.getAllByRole<HTMLInputElement>('checkbox');
    for (const box of boxes()) await user.click(box);
    await user.type(screen.getByRole('textbox', { name: 'Second person' }), 'Dentist D');
    expect(boxes().every(({ checked }) => checked)).toBe(true);
    await setEtch(test, { value: 25_000, basis: { ...read, asWritten: 'Leave for 25 s.' } });
    expect(boxes().filter(({ checked }) => !checked)).toHaveLength(1);
    await user.click(screen.getByRole('button', { name: /^Confirm as revision/ }));
    expect(screen.getByText(/^Read these too, and tick them: Gel\./)).toBeVisible();
    expect(test.desk.state.getState().revisions).toEqual([]);
  });

  it('that waits for its document goes with it too', async () => {
    const user = userEvent.setup();
    const test = await showDesk(confirm, smallProtocol());
    await user.click(screen.getByRole('button', { name: 'Compare the numbers of Gel' }));
    const target = () => screen.getByRole('checkbox', { name: /^Etch: target/ });
    await user.click(target());
    expect(target()).toBeChecked();
    await setEtch(test, { value: 25_000, basis: PRACTICE });
    expect(target()).not.toBeChecked();
  });
});

describe('a title', () => {
  it('over its length is refused at the field, with the length', async () => {
    const user = userEvent.setup();
    await showDesk((draft) => `/lead/draft/${draft}/steps`, smallProtocol());
    await user.click(screen.getByRole('button', { name: 'Edit Rinse' }));
    await type(user, 'Title', 'Rinse for a while');
    await user.click(apply());
    expect(field('Title')).toHaveFocus();
    expect(field('Title')).toHaveAccessibleDescription(/has 17 characters\. At most 14/);
    await type(user, 'Title', 'Rinse well');
    await user.click(apply());
    expect(screen.queryByRole('dialog')).toBeNull();
  });
});

describe('a fault', () => {
  it('names its step, stays in sight under the parts of the draft, and leads to its place', async () => {
    const user = userEvent.setup();
    const whole = smallProtocol();
    const steps = whole.steps.map((step) =>
      step.id === 'etch' && step.action.kind === 'dwell'
        ? { ...step, action: { ...step.action, minMs: { value: 25_000, basis: PRACTICE } } }
        : step,
    );
    await showDesk(confirm, { ...whole, steps });
    const go = screen.getByRole('button', { name: 'Go to the first fault' });
    expect(plain(go.parentElement?.textContent ?? null)).toMatch(
      /^Fault Etch, minimum: The minimum, 25 s, is above the target, 20 s\./,
    );
    expect(go.closest('.editor-bar')).not.toBeNull();
    await user.click(go);
    expect(screen.getByRole('dialog', { name: 'Etch: minimum' })).toBeInTheDocument();
  });
});
