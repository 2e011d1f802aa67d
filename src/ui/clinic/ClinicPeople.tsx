import { useState } from 'react';
import type { Problem } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import { type ClinicPerson, PERSON_ROLES } from '../../runtime/library/people-facts.ts';
import { peopleWords } from '../../words/people-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { choicesOf } from '../shared/choices.ts';
import { useClinicPeople } from '../shared/PeopleChoices.tsx';
import { useSession } from '../shared/session-context.ts';

const NOBODY: ClinicPerson = { name: '', role: 'assistant' };

function nameProblem(code: string | null): string | undefined {
  if (code === 'empty') return peopleWords.empty;
  return code === 'too-long' ? peopleWords.tooLong : undefined;
}

/** Who works at the clinic: put on the list, and taken off it. */
export function ClinicPeople() {
  const { people } = useSession();
  const listed = useClinicPeople();
  const [typed, setTyped] = useState(NOBODY);
  const [code, setCode] = useState<string | null>(null);
  const told = async (done: Promise<Result<null, Problem>>): Promise<boolean> => {
    const kept = await done;
    setCode(kept.ok ? null : kept.error.code);
    return kept.ok;
  };
  const add = async (): Promise<void> => {
    if (await told(people.list(typed))) setTyped({ ...NOBODY, role: typed.role });
  };
  const problem = nameProblem(code);
  return (
    <Section title={peopleWords.title} lede={peopleWords.lede}>
      {code !== null && problem === undefined && (
        <Banner tone="attention" words={peopleWords.lost} />
      )}
      {listed.length === 0 && <p>{peopleWords.none}</p>}
      <ul className="clinic-people">
        {listed.map((person) => (
          <li key={person.name}>
            <span>{peopleWords.line({ ...person, role: peopleWords.roles[person.role] })}</span>
            <Button
              name={peopleWords.takeOffName(person.name)}
              onPress={() => void told(people.takeOff(person))}
            >
              {peopleWords.takeOff}
            </Button>
          </li>
        ))}
      </ul>
      <form
        className="clinic-fields"
        onSubmit={(event) => {
          event.preventDefault();
          void add();
        }}
      >
        <TextField
          label={peopleWords.name}
          hint={peopleWords.nameHint}
          problem={problem}
          value={typed.name}
          onChange={(name) => setTyped({ ...typed, name })}
        />
        <Segmented
          label={peopleWords.role}
          value={typed.role}
          options={choicesOf(PERSON_ROLES, peopleWords.roles)}
          onChange={(role) => setTyped({ ...typed, role })}
        />
        <div>
          <Button type="submit">{peopleWords.add}</Button>
        </div>
      </form>
    </Section>
  );
}
