import { pen } from './en/pen.ts';
import { spoken } from './language.ts';

export const penWords = spoken('pen', pen);
