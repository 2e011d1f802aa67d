import { useEffect } from 'react';
import { useStore } from 'zustand';
import type { ClinicPerson } from '../../runtime/library/people-facts.ts';
import { peopleWords } from '../../words/people-words.ts';
import { Button } from '../parts/Button.tsx';
import { useSession } from './session-context.ts';
import './people-choices.css';

/** Who works at the clinic; read when a screen that asks for names opens. */
export function useClinicPeople(): readonly ClinicPerson[] {
  const { people } = useSession();
  useEffect(() => void people.refresh(), [people]);
  return useStore(people.state, (state) => state.people);
}

/** The people of the clinic beside a field that asks who; nothing where nobody is on the list. */
export function PeopleChoices(o: {
  /** Who stands in the field already; not offered again. */
  readonly named?: readonly string[];
  readonly onChoose: (person: ClinicPerson) => void;
}) {
  const { named = [] } = o;
  const people = useClinicPeople().filter(({ name }) => !named.includes(name));
  if (people.length === 0) return null;
  return (
    <fieldset className="people-choices">
      <legend className="lw-field-hint">{peopleWords.choices}</legend>
      {people.map((person) => (
        <Button
          key={person.name}
          name={peopleWords.choose(person.name)}
          onPress={() => o.onChoose(person)}
        >
          {person.name}
        </Button>
      ))}
    </fieldset>
  );
}
