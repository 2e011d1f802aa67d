import { today } from './en/today.ts';
import { spoken } from './language.ts';

export const todayWords = spoken('today', today);
