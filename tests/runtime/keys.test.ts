// @vitest-environment jsdom
import { afterEach, describe, expect, test } from 'vitest';
import { DEFAULT_KEYS } from '../../src/runtime/keys/key-map.ts';
import { createKeys, type KeySeen, PRESS_BAR_ATTRIBUTE } from '../../src/runtime/keys/keys.ts';

const disposals: (() => void)[] = [];
afterEach(() => {
  for (const dispose of disposals.splice(0)) dispose();
  document.body.replaceChildren();
});

function listening(html = '', o: { readonly isInSight?: () => boolean } = {}) {
  document.body.innerHTML = html;
  const keys = createKeys({
    window,
    document,
    map: DEFAULT_KEYS,
    ...o,
  });
  disposals.push(keys.dispose);
  const heard: string[] = [];
  keys.onVerb((verb) => heard.push(verb));
  keys.onRefused(({ verb, why }) => heard.push(`${verb} refused: ${why}`));
  const send = (type: string, key: string, more: KeyboardEventInit = {}) => {
    const code = key === ' ' ? 'Space' : key;
    const event = new KeyboardEvent(type, {
      key,
      code,
      bubbles: true,
      cancelable: true,
      ...more,
    });
    (document.activeElement ?? document.body).dispatchEvent(event);
    return event;
  };
  return {
    keys,
    heard,
    down: (key: string, more?: KeyboardEventInit) => send('keydown', key, more),
    up: (key: string) => send('keyup', key),
    focus: (selector: string) => document.querySelector<HTMLElement>(selector)?.focus(),
  };
}

describe('one key', () => {
  test.each([
    [' ', 'press'],
    ['Enter', 'press'],
    ['PageDown', 'press'],
    ['Backspace', 'undo'],
    ['PageUp', 'undo'],
    ['Escape', 'acknowledge'],
  ])('%j means %s, wherever the focus is lost, and does nothing else', (key, verb) => {
    const { down, heard } = listening();
    expect(down(key).defaultPrevented).toBe(true);
    expect(heard).toEqual([verb]);
  });

  test.each(['Delete', 'a', 'ArrowRight', 'Home', 'F5'])('%s means nothing', (key) => {
    const { down, heard } = listening();
    expect(down(key).defaultPrevented).toBe(false);
    expect(heard).toEqual([]);
  });

  test('where what it would record is out of sight, a key is the page’s own', () => {
    let isInSight = false;
    const { down, heard } = listening('', { isInSight: () => isInSight });
    for (const key of [' ', 'Enter', 'PageDown', 'Backspace', 'Escape']) {
      expect(down(key).defaultPrevented, key).toBe(false);
    }
    expect(heard).toEqual([]);
    isInSight = true;
    expect(down(' ').defaultPrevented).toBe(true);
    expect(heard).toEqual(['press']);
  });

  test('a held key presses once', () => {
    const { down, heard } = listening();
    down(' ');
    for (let i = 0; i < 20; i += 1) {
      down(' ', { repeat: true });
    }
    expect(heard.filter((word) => word === 'press')).toHaveLength(1);
    expect(heard).toContain('press refused: repeat');
  });

  test('shortcuts with Ctrl, Alt or Meta stay the browser’s', () => {
    const { down, heard } = listening();
    for (const more of [{ ctrlKey: true }, { altKey: true }, { metaKey: true }])
      down('Enter', more);
    expect(heard).toEqual([]);
  });

  test('an extra key works once it is learnt', () => {
    const { keys, down, heard } = listening();
    keys.setMap({ ...DEFAULT_KEYS, ArrowRight: 'press' });
    down('ArrowRight');
    expect(heard).toEqual(['press']);
  });
});

describe('keys that belong to someone else', () => {
  test.each([
    ['input', '<input>'],
    ['textarea', '<textarea></textarea>'],
    ['select', '<select><option>x</select>'],
  ])('typing into %s presses nothing', (selector, html) => {
    const { down, focus, heard } = listening(html);
    focus(selector);
    expect(down(' ').defaultPrevented).toBe(false);
    expect(heard).toEqual(['press refused: typing']);
  });

  test('a pedal still presses after a reading was typed, but not in a dialog or where lines are written', () => {
    const { down, focus, heard } = listening(
      '<input id="line"><textarea></textarea><input type="text" id="other">',
    );
    focus('#line');
    expect(down('PageDown').defaultPrevented).toBe(true);
    expect(down('Enter').defaultPrevented).toBe(true);
    down('7');
    down('Backspace');
    focus('textarea');
    expect(down('Enter').defaultPrevented).toBe(false);
    document.body.insertAdjacentHTML('beforeend', '<dialog open></dialog>');
    focus('#other');
    expect(down('Enter').defaultPrevented).toBe(false);
    expect(heard).toEqual([
      'press',
      'press',
      'undo refused: typing',
      'press refused: typing',
      'press refused: dialog',
    ]);
  });

  test('a form that keeps what was typed with Enter has it; the pedal still presses', () => {
    const { down, focus, heard } = listening('<form data-own-enter=""><input></form>');
    focus('input');
    expect(down('Enter').defaultPrevented).toBe(false);
    expect(down('PageDown').defaultPrevented).toBe(true);
    expect(heard).toEqual(['press refused: typing', 'press']);
  });

  test('an open dialog keeps its keys', () => {
    const { down, focus, heard } = listening('<dialog open><button>x</button></dialog>');
    focus('button');
    expect(down('Enter').defaultPrevented).toBe(false);
    expect(down('Escape').defaultPrevented).toBe(false);
    expect(heard).toEqual(['press refused: dialog', 'acknowledge refused: dialog']);
  });

  test('the press bar takes them even beside an open dialog', () => {
    const bar = `<dialog open></dialog><button ${PRESS_BAR_ATTRIBUTE}>x</button>`;
    const { down, focus, heard } = listening(bar);
    focus('button');
    down(' ');
    expect(heard).toEqual(['press']);
  });

  test('a button reached with Tab is activated by its own keys; a pedal’s PageDown still presses', () => {
    const { down, focus, heard } = listening('<button>x</button>');
    down('Tab');
    focus('button');
    expect(down('Enter').defaultPrevented).toBe(false);
    down('PageDown');
    expect(heard).toEqual(['press refused: other-control', 'press']);
  });

  test('a button left with the focus by a touch is not touched again by the pedal', () => {
    const { down, up, focus, heard } = listening('<button>undo</button>');
    down('Tab');
    document.querySelector('button')?.dispatchEvent(new Event('pointerdown', { bubbles: true }));
    focus('button');
    expect(down(' ').defaultPrevented).toBe(true);
    expect(up(' ').defaultPrevented).toBe(true);
    expect(heard).toEqual(['press']);
  });
});

describe('wipe lock', () => {
  test('takes every known key and lets none act', () => {
    const { keys, down, heard } = listening();
    keys.setLocked({ isLocked: true });
    expect(down(' ').defaultPrevented).toBe(true);
    keys.setLocked({ isLocked: false });
    down(' ');
    expect(heard).toEqual(['press refused: locked', 'press']);
  });
});

describe('key test', () => {
  test('shows every key, known or not, and lets none act', () => {
    const { keys, down, heard } = listening();
    const seen: KeySeen[] = [];
    const end = keys.testKeys((one) => seen.push(one));
    down(' ');
    down('b');
    down('Tab');
    expect(seen).toEqual([
      { key: 'Space', isRepeat: false, verb: 'press' },
      { key: 'b', isRepeat: false, verb: null },
    ]);
    expect(heard).toEqual([]);
    end();
    down(' ');
    expect(heard).toEqual(['press']);
  });
});
