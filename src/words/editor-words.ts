/** Words of the editor of protocols: numbers, steps, windows, differences, confirmation. */
import { editor } from './en/editor.ts';
import { spoken } from './language.ts';

export const editorWords = spoken('editor', editor);

/** What an entry of a list can be made to do by a button beside it. */
export type EntryDeed = keyof typeof editor.named;
