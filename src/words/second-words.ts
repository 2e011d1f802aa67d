/** Words of the second person who confirms a revision. */
import { second } from './en/second.ts';
import { spoken } from './language.ts';

export const secondWords = spoken('second', second);
