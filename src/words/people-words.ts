import { people } from './en/people.ts';
import { spoken } from './language.ts';

export const peopleWords = spoken('people', people);
