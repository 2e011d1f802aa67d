/** Words of what two tablets tell differently. */
import { conflict } from './en/conflict.ts';
import { spoken } from './language.ts';

export const conflictWords = spoken('conflict', conflict);
