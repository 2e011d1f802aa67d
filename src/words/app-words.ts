import { app } from './en/app.ts';
import { spoken } from './language.ts';

export const appWords = spoken('app', app);

/** What to do about a fault; its own line where the window writes and nothing better is known. */
export function faultWords(o: {
  readonly fault: { readonly code?: string; readonly line: string };
  readonly isReader: boolean;
}): string {
  const { fault, isReader } = o;
  const known: Readonly<Record<string, string>> = appWords.faults;
  return known[fault.code ?? ''] ?? (isReader ? appWords.faultOfReader : fault.line);
}
