/** Words that the commands print for people. */
import { terminal } from './en/terminal.ts';
import { terminalPlan } from './en/terminal-plan.ts';
import { spoken } from './language.ts';

export const terminalWords = spoken('terminal', terminal);

export const terminalPlanWords = spoken('terminalPlan', terminalPlan);
