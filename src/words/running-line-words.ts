import { runningLine } from './en/running-line.ts';
import { spoken } from './language.ts';

export const runningLineWords = spoken('runningLine', runningLine);
