import { describe, expect, test } from 'vitest';
import type { Command, Pressed } from '../../src/engine/commands.ts';
import { BOUNCE_MS, createBounceGuard } from '../../src/runtime/keys/bounce.ts';
import { createPressDoor } from '../../src/runtime/keys/press-door.ts';

const GEL: Pressed = { kind: 'start', step: 'etch', subjects: ['tooth:11'] };

/** A door before a case that writes down what reaches it, and each hush. */
function door(standing: { cue: string | null; canUndo: boolean } | null = NOTHING) {
  let nowMs = 10_000;
  const heard: string[] = [];
  const toWords = (command: Command): string =>
    command.do === 'press' ? `press ${command.offer.step}` : command.do;
  const made = createPressDoor({
    guard: createBounceGuard({ realNowMs: () => nowMs }),
    hush: () => heard.push('hush'),
    refused: () => heard.push('refused'),
    behind: {
      do: (command) => {
        heard.push(toWords(command));
        return command.do === 'add-mix' ? { code: 'unknown-unit', values: {}, missing: [] } : null;
      },
      pressNext: () => {
        heard.push('press next');
        return null;
      },
      standing: () => standing,
    },
  });
  const later = (ms: number): void => {
    nowMs += ms;
  };
  return { ...made, heard, later };
}
const NOTHING = { cue: null, canUndo: false };

describe('the door for presses', () => {
  test.each([
    ['the bar', (d: ReturnType<typeof door>) => d.press(), ['hush', 'press next']],
    ['an offer that is touched', (d) => d.press(GEL), ['hush', 'press etch']],
    ['a key', (d) => d.verb('press'), ['hush', 'press next']],
    [
      'what is one tap away',
      (d) => d.do({ do: 'probe-bead', mix: 'mix:1', found: 'soft' }),
      ['hush', 'probe-bead'],
    ],
  ] satisfies [string, (d: ReturnType<typeof door>) => unknown, string[]][])(
    '%s hushes what sounds, then acts',
    (_, act, heard) => {
      const d = door();
      act(d);
      expect(d.heard).toEqual(heard);
    },
  );

  test('what the case refuses is heard, and what it takes is not', () => {
    const d = door();
    d.do({ do: 'add-mix', units: ['99'], reason: 'for a test' });
    expect(d.heard).toEqual(['hush', 'add-mix', 'refused']);
  });

  test('key and bar share one guard: a glove on the bar and a pedal do not press twice', () => {
    const d = door();
    d.press(GEL);
    d.later(BOUNCE_MS - 1);
    expect(d.verb('press')).toBe(false);
    expect(d.heard).toEqual(['hush', 'press etch']);
    d.later(1);
    expect(d.verb('press')).toBe(true);
    expect(d.heard).toEqual(['hush', 'press etch', 'hush', 'press next']);
  });

  test('an undo that follows a press at once is no bounce of it', () => {
    const d = door({ cue: null, canUndo: true });
    d.press(GEL);
    d.verb('undo');
    d.verb('undo');
    expect(d.heard).toEqual(['hush', 'press etch', 'hush', 'undo']);
  });

  test('undo and acknowledge do nothing where there is nothing to undo or acknowledge', () => {
    const d = door();
    d.verb('undo');
    d.verb('acknowledge');
    expect(d.heard).toEqual(['hush', 'hush']);
    const standing = door({ cue: 'now etch', canUndo: false });
    standing.verb('acknowledge');
    expect(standing.heard).toEqual(['hush', 'acknowledge']);
  });

  test('a press reaches who waits for one, also when no case runs; a bounce does not', () => {
    const d = door(null);
    let pressed = 0;
    const forget = d.onPress(() => {
      pressed += 1;
    });
    d.verb('press');
    d.verb('press');
    expect(pressed).toBe(1);
    expect(d.heard).toEqual(['hush']);
    forget();
    d.later(BOUNCE_MS);
    d.verb('press');
    expect(pressed).toBe(1);
  });

  test('while the screen is wiped nothing comes through: no touch, no key, no hush', () => {
    const d = door();
    d.setLocked({ isLocked: true });
    d.press(GEL);
    d.verb('press');
    d.do({ do: 'note', words: 'x' });
    expect(d.heard).toEqual([]);
    d.setLocked({ isLocked: false });
    d.press(GEL);
    expect(d.heard).toEqual(['hush', 'press etch']);
  });
});
