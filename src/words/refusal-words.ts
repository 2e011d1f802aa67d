/** Why a press was not taken, and what to do. */
import type { Refusal } from '../engine/commands.ts';
import { refusal as english } from './en/refusal.ts';
import { spoken } from './language.ts';

const words = spoken('refusal', english);

export function refusalWords({ code }: Pick<Refusal, 'code'>): {
  readonly what: string;
  readonly todo: string;
} {
  return words[code];
}
