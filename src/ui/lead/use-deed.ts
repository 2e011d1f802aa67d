/** Runs a deed of the desk and keeps why it did not work. */
import { useState } from 'react';
import type { Problem } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import { leadProblemWords } from '../../words/lead-words.ts';

/** Answers with what was done; null where it was refused. */
export type Act = <T>(deed: Promise<Result<T, Problem>>) => Promise<T | null>;

export function useDeed(): { readonly act: Act; readonly words: string | null } {
  const [words, setWords] = useState<string | null>(null);
  const act: Act = async (deed) => {
    const done = await deed;
    setWords(done.ok ? null : leadProblemWords(done.error));
    return done.ok ? done.value : null;
  };
  return { act, words };
}
