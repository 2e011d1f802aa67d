import { overdue } from './en/overdue.ts';
import { spoken } from './language.ts';

export const overdueWords = spoken('overdue', overdue);
