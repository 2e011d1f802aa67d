import { part } from './en/part.ts';
import { spoken } from './language.ts';

export const partWords = spoken('part', part);
