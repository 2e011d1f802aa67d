/** Testing and teaching keys and pedals. */
import type { KeyVerb } from '../codes.ts';

export const key = {
  test: 'Test a pedal or key',
  waiting: 'Press the pedal or key now. It does nothing else during the test.',
  seenUnknown: (name: string): string => `${name} works. It does nothing yet.`,
  seen: {
    press: (name: string): string => `${name} works: it presses the bar.`,
    undo: (name: string): string => `${name} works: it takes back the last press.`,
    acknowledge: (name: string): string => `${name} works: it marks an alert as seen.`,
  } satisfies Record<KeyVerb, (name: string) => string>,
  teach: (name: string): string => `Let ${name} press the bar`,
  notTeachable: 'The browser needs this key itself. Set the pedal to another one.',
  done: 'End the test',
  forget: (name: string): string => `Forget ${name}`,
  forgetShort: 'Forget',
};
