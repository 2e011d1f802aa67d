/** Words about whether the sound is heard. */

import type { SoundMemory } from './codes.ts';
import { writeDate } from './written-date.ts';

const BY: Readonly<Record<string, string>> = { dentist: 'dentist', assistant: 'assistant' };

export const soundWords = {
  test: 'Sound the test',
  asked: 'Who heard it?',
  dentist: 'The dentist',
  assistant: 'The assistant',
  nobody: 'Nobody',
  nobodyTodo:
    'Turn the tablet’s own volume up, switch off its silent mode, unplug headphones, then test again. Until it is heard, watch the screen.',
  never: 'Sound not heard yet',
  heard: (o: { readonly atMs: number; readonly by: string }): string =>
    `Sound heard ${writeDate(o.atMs, 'd MMM')} by the ${BY[o.by] ?? 'team'}`,
  old: 'Longer than a week ago: test again.',
  quieter: 'The loudness was turned down since: test again.',
  todo: 'Sound it in its place, with the suction on.',
} as const;

/** What is known, and what to do about it when it is not enough. */
export function soundMemoryWords(memory: SoundMemory): {
  readonly words: string;
  readonly advice: string | null;
} {
  if (memory.state === 'never') return { words: soundWords.never, advice: soundWords.todo };
  const words = soundWords.heard(memory);
  if (memory.state === 'fresh') return { words, advice: null };
  return { words, advice: memory.state === 'old' ? soundWords.old : soundWords.quieter };
}
