import { filing } from './en/filing.ts';
import { spoken } from './language.ts';

export const filingWords = spoken('filing', filing);
