import { calendar, exportTexts } from './en/export.ts';
import { spoken } from './language.ts';

export const exportWords = spoken('exportTexts', exportTexts);
export const calendarWords = spoken('calendar', calendar);
