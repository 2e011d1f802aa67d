/** Words of a list at the chair. */
import { list } from './en/list.ts';
import { spoken } from './language.ts';

export const listWords = spoken('list', list);
