import { setUpWords } from '../../words/set-up-words.ts';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { choicesOf } from '../shared/choices.ts';
import { PeopleChoices } from '../shared/PeopleChoices.tsx';
import type { DraftPartProps } from './set-up-drafts.ts';
import { addPerson, changePerson, namePerson } from './set-up-model.ts';

const rolesToChoose = () => choicesOf(['dentist', 'assistant'], setUpWords.roles);

/** Who will be there: a label and a role. */
export function SetUpPeople({ draft, change, problemAt }: DraftPartProps) {
  const problem = problemAt('case.people');
  const without = (id: string) =>
    change({ ...draft, people: draft.people.filter((p) => p.id !== id) });
  return (
    <Section title={setUpWords.people} lede={setUpWords.peopleLede}>
      <ul className="set-up-people">
        {draft.people.map((person, index) => (
          <li key={person.id} aria-label={setUpWords.person(index + 1)}>
            <TextField
              label={setUpWords.label}
              value={person.label}
              onChange={(label) => change(changePerson(draft, { index, change: { label } }))}
              problem={problemAt(`case.people[${index}].label`)}
            />
            <Segmented
              label={setUpWords.role}
              value={person.role}
              options={rolesToChoose()}
              onChange={(role) => change(changePerson(draft, { index, change: { role } }))}
            />
            {draft.people.length > 1 && (
              <Button
                name={setUpWords.removePersonName(index + 1)}
                onPress={() => without(person.id)}
              >
                {setUpWords.removePerson}
              </Button>
            )}
          </li>
        ))}
      </ul>
      {problem !== undefined && <p className="lw-field-problem">{problem}</p>}
      <PeopleChoices
        named={draft.people.map(({ label }) => label)}
        onChoose={(person) => change(namePerson(draft, person))}
      />
      <div>
        <Button onPress={() => change(addPerson(draft))}>{setUpWords.addPerson}</Button>
      </div>
    </Section>
  );
}
