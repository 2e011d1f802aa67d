/** Which key means what. A pedal is a keyboard with one or two keys. Pure. */
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { Verb } from './bounce.ts';

/** Key names as {@link keyName} gives them, each with its verb. */
export type KeyMap = Readonly<Record<string, Verb>>;

/** What every keyboard and most pedals can do without being taught. */
export const DEFAULT_KEYS: KeyMap = {
  Space: 'press',
  Enter: 'press',
  PageDown: 'press',
  Backspace: 'undo',
  PageUp: 'undo',
  Escape: 'acknowledge',
};

/** Keys that the browser, the screen reader or the keyboard itself needs. */
const UNTEACHABLE: ReadonlySet<string> = new Set([
  'Tab',
  'Shift',
  'Control',
  'Alt',
  'AltGraph',
  'Meta',
  'CapsLock',
  'NumLock',
  'Fn',
  'Dead',
  'Process',
  'Unidentified',
  'F5',
  'F11',
  'F12',
]);

/** The name of a key: what it types, or where it sits when it types nothing known. */
export function keyName(event: { readonly key: string; readonly code: string }): string {
  if (event.key === ' ') return 'Space';
  if (event.key === 'Unidentified' || event.key === '') return event.code || 'Unidentified';
  return event.key.length === 1 ? event.key.toLowerCase() : event.key;
}

/** `map` with `key` meaning `verb`, or why that key cannot be taught. */
export function teachKey(
  map: KeyMap,
  lesson: { readonly key: string; readonly verb: Verb },
): Result<KeyMap, Problem> {
  if (UNTEACHABLE.has(lesson.key)) {
    const what = 'a key that the browser does not need';
    return err(problem('keys.learn', what, lesson.key, 'key-not-teachable'));
  }
  const next = { ...map, [lesson.key]: lesson.verb };
  if (!Object.values(next).includes('press')) {
    return err(problem('keys.learn', 'at least one key left that presses', lesson.key, 'no-press'));
  }
  return ok(next);
}
