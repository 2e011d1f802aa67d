import { openCase } from './en/open-case.ts';
import { spoken } from './language.ts';

export const openCaseWords = spoken('openCase', openCase);
