/** Words about whether the sound is heard. */
import type { SoundMemory } from './codes.ts';
import { sound } from './en/sound.ts';
import { spoken } from './language.ts';
import { writeDate } from './written-date.ts';

export const soundWords = spoken('sound', sound);

function heardWords({ atMs, by }: { readonly atMs: number; readonly by: string }): string {
  const who = by === 'dentist' || by === 'assistant' ? by : 'team';
  return soundWords.heard[who](writeDate(atMs, 'd MMM'));
}

/** What is known, and what to do about it when it is not enough. */
export function soundMemoryWords(memory: SoundMemory): {
  readonly words: string;
  readonly advice: string | null;
} {
  if (memory.state === 'never') return { words: soundWords.never, advice: soundWords.todo };
  const words = heardWords(memory);
  if (memory.state === 'fresh') return { words, advice: null };
  return { words, advice: memory.state === 'old' ? soundWords.old : soundWords.quieter };
}
