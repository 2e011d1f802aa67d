/** What every kind of store says and checks alike. */
import { problem } from '../base/problem.ts';
import type { StoreProblem, StoreProblemCode } from './store-types.ts';

/** The largest message that the store keeps, in bytes. */
export const MESSAGE_BYTES_MAX = 200_000;

const EXPECTED: Readonly<Record<StoreProblemCode, string>> = {
  'not-connected': 'a line to the store',
  'no-answer': 'an answer of the store in time',
  refused: 'a right to do this',
  'too-large': `at most ${MESSAGE_BYTES_MAX} bytes`,
  'store-full': 'room in the store',
  'wrong-store': "an answer of this clinic's own stream",
  closed: 'a store that is in use',
};

/** `came` is what the store said, or what it was asked for. */
export const storeProblem = (code: StoreProblemCode, came: string): StoreProblem => ({
  ...problem('store', EXPECTED[code], came),
  code,
});

/** Whether a subject is the one listened to: `*` stands for any one part, `>` at the end for all that follow. */
export function isWithin(listened: string, subject: string): boolean {
  const asked = listened.split('.');
  const parts = subject.split('.');
  const isOpen = asked.at(-1) === '>';
  if (isOpen ? parts.length < asked.length : parts.length !== asked.length) return false;
  const named = isOpen ? asked.slice(0, -1) : asked;
  return named.every((part, n) => part === '*' || part === parts[n]);
}
