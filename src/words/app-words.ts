import { app } from './en/app.ts';
import { spoken } from './language.ts';

export const appWords = spoken('app', app);

/** What to do about a fault; its own line where nothing better is known. */
export function faultWords(fault: { readonly code?: string; readonly line: string }): string {
  const known: Readonly<Record<string, string>> = appWords.faults;
  return known[fault.code ?? ''] ?? fault.line;
}
