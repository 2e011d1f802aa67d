/** Words that the commands print for people. */
import { terminal } from './en/terminal.ts';
import { spoken } from './language.ts';

export const terminalWords = spoken('terminal', terminal);
