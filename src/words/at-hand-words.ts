/** Words for what is one tap away while cement is out. */
import { formatWords } from './duration.ts';

export const atHandWords = {
  title: 'At hand',
  probeNow: (mix: string): string =>
    `Probe the bead of ${mix} now. It flatters: mouths are warmer.`,
  probed: (o: { readonly mix: string; readonly sinceMs: number }): string =>
    `Bead of ${o.mix}, probed ${formatWords(o.sinceMs)} ago`,
  laid: (o: { readonly mix: string; readonly sinceMs: number }): string =>
    `Bead of ${o.mix}, laid ${formatWords(o.sinceMs)} ago`,
  found: (o: { readonly mix: string; readonly found: string }): string =>
    `Bead of ${o.mix}: ${o.found}`,
  mishap: {
    'unit-will-not-seat': (unit: string): string => `${unit} will not go down`,
    'unit-dropped': (unit: string): string => `${unit} fell`,
  },
  swap: (o: { readonly first: string; readonly second: string }): string =>
    `${o.second} before ${o.first}`,
  swapReason: 'Swapped while seating',
} as const;
