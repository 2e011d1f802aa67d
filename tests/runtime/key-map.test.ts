import { describe, expect, test } from 'vitest';
import { DEFAULT_KEYS, keyName, teachKey } from '../../src/runtime/keys/key-map.ts';

test.each([
  [{ key: ' ', code: 'Space' }, 'Space'],
  [{ key: 'PageDown', code: 'PageDown' }, 'PageDown'],
  [{ key: 'B', code: 'KeyB' }, 'b'],
  [{ key: 'Unidentified', code: 'MediaSelect' }, 'MediaSelect'],
  [{ key: 'Unidentified', code: '' }, 'Unidentified'],
])('the key %o is called %s', (event, name) => {
  expect(keyName(event)).toBe(name);
});

describe('teaching keys', () => {
  test('adds a key and leaves the others', () => {
    const taught = teachKey(DEFAULT_KEYS, { key: 'ArrowRight', verb: 'press' });
    expect(taught).toEqual({ ok: true, value: { ...DEFAULT_KEYS, ArrowRight: 'press' } });
  });

  test.each(['Tab', 'Shift', 'F5', 'Unidentified'])(
    'refuses %s, which is needed elsewhere',
    (key) => {
      const taught = teachKey(DEFAULT_KEYS, { key, verb: 'press' });
      expect(taught).toMatchObject({ ok: false, error: { code: 'key-not-teachable' } });
    },
  );

  test('refuses to take away the last key that presses', () => {
    const taught = teachKey({ b: 'press' }, { key: 'b', verb: 'undo' });
    expect(taught).toMatchObject({ ok: false, error: { code: 'no-press' } });
  });
});
