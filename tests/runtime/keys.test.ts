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
  const send = (type: string, key: string, o: KeyboardEventInit & { at?: number } = {}) => {
    const { at, ...more } = o;
    const code = key === ' ' ? 'Space' : key;
    const event = new KeyboardEvent(type, {
      key,
      code,
      bubbles: true,
      cancelable: true,
      ...more,
    });
    if (at !== undefined) Object.defineProperty(event, 'timeStamp', { value: at });
    (document.activeElement ?? document.body).dispatchEvent(event);
    return event;
  };
  return {
    keys,
    heard,
    down: (key: string, more?: KeyboardEventInit & { at?: number }) => send('keydown', key, more),
    up: (key: string) => send('keyup', key),
    focus: (selector: string) => document.querySelector<HTMLElement>(selector)?.focus(),
  };
}

/** Keys that come `gapMs` apart, as a scanner sends them; the clock of the events is faked. */
function scanned(page: ReturnType<typeof listening>, text: string, gapMs: number) {
  const from = performance.now();
  const keys = [...text, 'Enter'];
  return keys.map((key, n) => page.down(key, { at: from + n * gapMs }));
}

describe('a scanner that types', () => {
  test.each([2, 20, 50, 80, 150, 250])('presses nothing, with keys %i ms apart', (gapMs) => {
    const page = listening();
    const sent = scanned(page, '0104012345678901 10AB', gapMs);
    expect(page.heard.filter((said) => !said.includes('refused'))).toEqual([]);
    // Nor may its Enter or its blank click what happens to have the focus.
    expect(sent.at(-1)?.defaultPrevented).toBe(true);
    page.down('Enter', { at: performance.now() + 60_000 });
    expect(page.heard.at(-1)).toBe('press');
  });

  test.each([2, 50, 90])('presses nothing in a field, with keys %i ms apart', (gapMs) => {
    const page = listening('<input>');
    page.focus('input');
    scanned(page, '+A99912345/10X3', gapMs);
    expect(page.heard).not.toContain('press');
  });

  test('clicks no button that was reached with Tab, nor one of an open sheet', () => {
    for (const html of ['<button>More</button>', '<dialog open><button>Stop</button></dialog>']) {
      const page = listening(html);
      page.down('Tab');
      page.focus('button');
      expect(scanned(page, '0104012345678901', 30).at(-1)?.defaultPrevented).toBe(true);
      expect(page.heard).not.toContain('press');
    }
  });

  test('is not a pedal, whose key comes alone, comes twice, or comes while a scanner types', () => {
    const page = listening();
    const at = performance.now();
    page.down('PageDown', { at });
    page.down('Enter', { at: at + 30 });
    for (let n = 0; n < 8; n += 1) page.down('b', { at: at + 1000 + n * 30 });
    page.down('Enter', { at: at + 1240 });
    for (const [n, key] of [...'0104012'].entries()) page.down(key, { at: at + 5000 + n * 60 });
    page.down('PageDown', { at: at + 5400 });
    expect(page.heard).toEqual(['press', 'press', 'press', 'press']);
  });

  test('is not a reading that somebody typed, after which the pedal presses', () => {
    const page = listening('<input>');
    page.focus('input');
    const at = performance.now();
    for (const [n, key] of [...'1250.5'].entries()) page.down(key, { at: at + n * 140 });
    page.down('Enter', { at: at + 900 });
    expect(page.heard).toEqual(['press']);
  });
});

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
