/** What the handing on of a follow-up says. */
import { followUpExport } from './en/follow-up-export.ts';
import { spoken } from './language.ts';

export const followUpExportWords = spoken('followUpExport', followUpExport);
