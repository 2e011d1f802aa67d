/** The list of people at the clinic's page, and the places that offer it. */
import { fireEvent, screen, waitFor } from '@testing-library/react';
import { expect, it } from 'vitest';
import { createStore } from 'zustand/vanilla';
import { problem } from '../../src/base/problem.ts';
import { err } from '../../src/base/result.ts';
import type { PeopleState } from '../../src/runtime/library/clinic-people.ts';
import { ClinicPeople } from '../../src/ui/clinic/ClinicPeople.tsx';
import { addPerson, namePerson, newDraft } from '../../src/ui/set-up/set-up-model.ts';
import { PeopleChoices } from '../../src/ui/shared/PeopleChoices.tsx';
import { peopleWords } from '../../src/words/people-words.ts';
import { fakeSession, show } from './fake-session.tsx';

const PEOPLE: PeopleState['people'] = [
  { name: 'Dr Ilves', role: 'dentist' },
  { name: 'MK', role: 'assistant' },
];

function sessionWithPeople() {
  const session = fakeSession();
  const state = createStore<PeopleState>(() => ({ people: PEOPLE }));
  return { ...session, people: { ...session.people, state } };
}

it('somebody is put on the list with a role, and taken off it', async () => {
  const session = sessionWithPeople();
  show(<ClinicPeople />, { session });
  fireEvent.change(screen.getByLabelText(peopleWords.name), { target: { value: 'AB' } });
  fireEvent.click(screen.getByRole('radio', { name: peopleWords.roles.lead }));
  fireEvent.click(screen.getByRole('button', { name: peopleWords.add }));
  await waitFor(() =>
    expect(session.people.list).toHaveBeenCalledWith({ name: 'AB', role: 'lead' }),
  );
  await waitFor(() => expect(screen.getByLabelText(peopleWords.name)).toHaveProperty('value', ''));
  fireEvent.click(screen.getByRole('button', { name: peopleWords.takeOffName('MK') }));
  await waitFor(() => expect(session.people.takeOff).toHaveBeenCalledWith(PEOPLE[1]));
});

it('what cannot be kept is told, and what was typed stays', async () => {
  const session = sessionWithPeople();
  session.people.list.mockResolvedValue(err(problem('window', 'w', 'r', 'not-writer')));
  show(<ClinicPeople />, { session });
  fireEvent.change(screen.getByLabelText(peopleWords.name), { target: { value: 'AB' } });
  fireEvent.click(screen.getByRole('button', { name: peopleWords.add }));
  expect(await screen.findByText(peopleWords.lost)).toBeTruthy();
  expect(screen.getByLabelText(peopleWords.name)).toHaveProperty('value', 'AB');
});

it('a field that asks who offers everybody who is not named yet', () => {
  const chosen: string[] = [];
  show(<PeopleChoices named={['MK']} onChoose={({ name }) => chosen.push(name)} />, {
    session: sessionWithPeople(),
  });
  expect(screen.queryByRole('button', { name: peopleWords.choose('MK') })).toBeNull();
  fireEvent.click(screen.getByRole('button', { name: peopleWords.choose('Dr Ilves') }));
  expect(chosen).toEqual(['Dr Ilves']);
});

it('a case takes somebody in the place of their role, then in any free one, then behind the others', () => {
  const draft = newDraft({ id: 'x', notation: 'fdi', protocol: 'p', like: undefined });
  const named = (from: typeof draft) => from.people.map(({ label, role }) => `${label} ${role}`);
  const one = namePerson(draft, { name: 'MK', role: 'assistant' });
  expect(named(one)).toEqual([' dentist', 'MK assistant']);
  const two = namePerson(one, { name: 'AB', role: 'assistant' });
  expect(named(two)).toEqual(['AB assistant', 'MK assistant']);
  const three = namePerson(two, { name: 'Dr Ilves', role: 'lead' });
  expect(named(three)).toEqual(['AB assistant', 'MK assistant', 'Dr Ilves dentist']);
  expect(three.people.map(({ id }) => id)).toEqual(addPerson(two).people.map(({ id }) => id));
});
