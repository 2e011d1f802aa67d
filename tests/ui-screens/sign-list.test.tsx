/** At the signature stands what was missed, voided, not watched and skipped, each with a place for a word. */
import { screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';
import { signItems } from '../../src/engine/sign-list.ts';
import { ChairInstruction } from '../../src/ui/chair/ChairInstruction.tsx';
import { isSigning } from '../../src/ui/chair/sign-model.ts';
import { Chair } from '../engine/chair.ts';
import { SMALL_WHOLE, settingOf } from '../engine/fixture.ts';
import { follow } from '../engine/walks.ts';
import { FamilyChair } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

/** A short etch, a long one, saliva, a sleep and a skipped step; then followed to the signature. */
function toSign(): Chair {
  const chair = new Chair(settingOf(SMALL_WHOLE, ['11', '21', '22']));
  chair.rows(`
    at 5 s     confirm ready case
    at 20 s    confirm fit 11 21 22
    at 60 s    choose shade case accepted
    at 70 s    start etch 11 21 22
    at 83 s    end etch 11
    at 92 s    end etch 21
    at 110 s   end etch 22
    at 140 s   end rinse 11 21 22
    at 150 s   confirm dry 11 21 22
    at 155 s   way-back wet saliva tooth:21 because drool
    at 170 s   start etch 21
    at 190 s   end etch 21
    at 205 s   end rinse 21
    at 210 s   confirm dry 21
  `);
  chair.rows('sleep 7 s');
  const [offer] = chair.view.offers;
  const { step = '', subjects = [] } = offer ?? {};
  chair.do({ do: 'skip', step, subjects, reason: 'no time' });
  follow(chair, 500);
  return chair;
}

function shown(chair: Chair) {
  const session = fakeSession();
  session.do.mockImplementation((command) => chair.do(command));
  show(<ChairInstruction running={runningOf(chair)} />, { session });
  return session;
}

it('lists each missed limit, void, gap and skip once', async () => {
  const chair = toSign();
  expect(isSigning(runningOf(chair))).toBe(true);
  shown(chair);
  const list = await screen.findByRole('list', { name: 'Kept and missed' });
  const lines = within(list)
    .getAllByRole('listitem')
    .map((li) => li.textContent);
  expect(lines).toHaveLength(signItems(chair.log.state).length);
  const all = lines.join('\n');
  for (const words of [
    /11: .*short of the minimum by 2\ss/,
    /22: .*over the limit by 10\ss/,
    /drool/,
    /slept/i,
    /no time/,
  ]) {
    expect(all).toMatch(words);
  }
});

it('opens a field with one press, keeps the word by keyboard alone, and shows it', async () => {
  const user = userEvent.setup();
  const chair = toSign();
  const session = shown(chair);
  const [add] = await screen.findAllByRole('button', { name: /^Add a word: / });
  add?.focus();
  await user.keyboard('{Enter}');
  expect(screen.getByRole('textbox')).toHaveFocus();
  await user.keyboard('thin enamel{Enter}');
  const [first] = signItems(chair.log.state);
  expect(session.do).toHaveBeenCalledWith({ do: 'note', words: 'thin enamel', about: first?.id });
  expect(screen.queryByRole('textbox')).toBeNull();
  shown(chair);
  expect(await screen.findByText('Said: thin enamel')).toBeDefined();
});

it('asks for nothing: an empty field is closed and nothing is recorded', async () => {
  const user = userEvent.setup();
  const session = shown(toSign());
  const [add] = await screen.findAllByRole('button', { name: /^Add a word: / });
  if (add) await user.click(add);
  await user.click(screen.getByRole('button', { name: 'Keep it' }));
  expect([session.do.mock.calls.length, screen.queryByRole('textbox')]).toEqual([0, null]);
});

it('stands at the last step of a shipped protocol, and before that at none', () => {
  const chair = FamilyChair.of('veneers, universal');
  const last = chair.log.state.opened.protocol.steps.at(-1)?.id;
  expect(last).toBe('sign-off');
  const seen = new Map<string, boolean>();
  while (!chair.view.finished) {
    seen.set(chair.view.offers[0]?.step ?? '', isSigning(runningOf(chair)));
    chair.next();
  }
  expect([...seen].filter(([, isNow]) => isNow)).toEqual([['sign-off', true]]);
});

it('keeps what was typed for one line while another is open', async () => {
  shown(toSign());
  const list = await screen.findByRole('list', { name: 'Kept and missed' });
  const user = userEvent.setup();
  const addTo = async (n: number) =>
    user.click(
      within(within(list).getAllByRole('listitem')[n] ?? list).getByRole('button', {
        name: /^Add a word/,
      }),
    );
  await addTo(0);
  await user.type(screen.getByRole('textbox'), 'gel was thin');
  await addTo(1);
  expect(screen.getByRole('textbox')).toHaveValue('');
  await addTo(0);
  expect(screen.getByRole('textbox')).toHaveValue('gel was thin');
});
