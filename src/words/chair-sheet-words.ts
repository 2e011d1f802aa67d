/** Words of the sheets over the chair: read with the first sheet that is opened. */
import { extra, sheet, sign, stop, wipe } from './en/chair-sheets.ts';
import { spoken } from './language.ts';

export const sheetWords = spoken('sheet', sheet);
export const wipeWords = spoken('wipe', wipe);
export const extraWords = spoken('extra', extra);
export const signWords = spoken('sign', sign);
export const stopWords = spoken('stop', stop);
