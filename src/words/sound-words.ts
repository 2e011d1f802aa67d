/** Words about whether the sound is heard. */
import type { SoundMemory } from './codes.ts';
import type { Times } from './date-words.ts';
import { sound } from './en/sound.ts';
import { spoken } from './language.ts';

export const soundWords = spoken('sound', sound);

function heardWords(
  { atMs, by }: { readonly atMs: number; readonly by: string },
  times: Times,
): string {
  const who = by === 'dentist' || by === 'assistant' ? by : 'team';
  return soundWords.heard[who](times.dayAndMonth(atMs));
}

/** What is known, and what to do about it when it is not enough. */
export function soundMemoryWords(
  memory: SoundMemory,
  times: Times,
): {
  readonly words: string;
  readonly advice: string | null;
} {
  if (memory.state === 'never') return { words: soundWords.never, advice: soundWords.todo };
  const words = heardWords(memory, times);
  if (memory.state === 'fresh') return { words, advice: null };
  return { words, advice: memory.state === 'old' ? soundWords.old : soundWords.quieter };
}
