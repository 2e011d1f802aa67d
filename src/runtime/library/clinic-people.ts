/** The people of the clinic. What is said of them are facts, the same on every tablet of it. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import { NAME_LENGTH_MAX } from '../../base/caps.ts';
import { personKey } from '../../base/person-key.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { factDocument, listFacts } from '../facts/fact.ts';
import { byItem } from '../facts/fact-history.ts';
import { type FactParts, say } from '../facts/fact-writer.ts';
import type { Readable } from '../readable.ts';
import type { ClinicPerson, PersonSaid } from './people-facts.ts';

export interface PeopleState {
  /** By name. */
  readonly people: readonly ClinicPerson[];
}

const PERSON = 'person';

type Done = Promise<Result<null, Problem>>;

export class ClinicPeople {
  readonly #parts: FactParts;
  readonly #state: StoreApi<PeopleState> = createStore<PeopleState>(() => ({ people: [] }));

  constructor(parts: FactParts) {
    this.#parts = parts;
    parts.journal.subscribe((news) => {
      if (news.type === 'document' && news.kind === factDocument(PERSON)) void this.refresh();
    });
  }

  get state(): Readable<PeopleState> {
    return this.#state;
  }

  /** Reads everybody again. What cannot be read leaves the list as it was. */
  async refresh(): Promise<void> {
    const listed = await listFacts(this.#parts.journal, PERSON);
    const code = await import('./people-facts.ts').catch(() => null);
    if (!listed.ok || code === null) return;
    const people = [...byItem(listed.value.facts).values()].flatMap((facts) => {
      const shown = code.personSides(facts).at(-1);
      return shown === undefined ? [] : [{ name: shown.name, role: shown.role }];
    });
    const order = (a: ClinicPerson, b: ClinicPerson): number => (a.name < b.name ? -1 : 1);
    this.#state.setState({ people: people.toSorted(order) });
  }

  /** Puts somebody on the list, or says their role anew. Errors: `empty`, `too-long`, `not-writer`, and the journal's. */
  async list({ name: typed, role }: ClinicPerson): Done {
    const name = typed.trim();
    const item = personKey(name);
    if (item === '') return err(problem('name', 'a name or initials', typed, 'empty'));
    if (name.length > NAME_LENGTH_MAX) {
      return err(problem('name', `at most ${NAME_LENGTH_MAX} characters`, name, 'too-long'));
    }
    return this.#say(item, { type: 'listed', name, role });
  }

  /** Takes somebody off the list; records that name them keep the name. Errors: `not-writer`, and the journal's. */
  takeOff({ name }: Pick<ClinicPerson, 'name'>): Done {
    return this.#say(personKey(name), { type: 'taken-off' });
  }

  async #say(item: string, said: PersonSaid): Done {
    const kept = await say(this.#parts, { kind: PERSON, item, said: [said], by: null });
    if (!kept.ok) return kept;
    await this.refresh();
    return ok(null);
  }
}
