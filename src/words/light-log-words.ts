/** Words of the light log. */
import { lightLog } from './en/light-log.ts';
import { spoken } from './language.ts';

export const lightWords = spoken('lightLog', lightLog);
