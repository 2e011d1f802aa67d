import { history } from './en/history.ts';
import { spoken } from './language.ts';

export const historyWords = spoken('history', history);
