import { explainedLine } from './en/explained-line.ts';
import { spoken } from './language.ts';

export const explainedLineWords = spoken('explainedLine', explainedLine);
