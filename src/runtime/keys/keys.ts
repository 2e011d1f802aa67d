/**
 * Runs the app with one key. The keys are caught on their way down from the window, so that a lost
 * focus cannot make a pedal dead.
 */

import { createStore } from 'zustand/vanilla';
import type { Readable } from '../readable.ts';
import { signal } from '../signal.ts';
import type { Verb } from './bounce.ts';
import { type KeyMap, keyName } from './key-map.ts';
import { TypedRun } from './typed-run.ts';

/** Marks the press bar in the document: keys work on it even inside an open dialog. */
export const PRESS_BAR_ATTRIBUTE = 'data-press-bar';

/** Marks a form that keeps what was typed with Enter: there it presses nothing. */
const OWN_ENTER_ATTRIBUTE = 'data-own-enter';

/** Why a known key did nothing. The screen may show it; `repeat` is better unseen. */
type KeyRefusal = 'repeat' | 'locked' | 'typing' | 'dialog' | 'other-control' | 'scanner';

/** A key as it arrived, for the alive test and the learn-a-key screen. */
export interface KeySeen {
  readonly key: string;
  readonly isRepeat: boolean;
  /** What it means now; null for a key that means nothing. */
  readonly verb: Verb | null;
}

export interface Keys {
  /** Calls `listener` for each press of a known key; the door behind it takes bounces away. */
  onVerb(listener: (verb: Verb) => void): () => void;
  /** Calls `listener` for each press of a known key that does not count. */
  onRefused(listener: (refused: { verb: Verb; why: KeyRefusal }) => void): () => void;
  /** The keys in use. */
  readonly map: Readable<KeyMap>;
  setMap(map: KeyMap): void;
  /**
   * Hands every key to `listener` and lets none do anything, until the returned function is called:
   * for the alive test of a pedal and for learning a key.
   */
  testKeys(listener: (seen: KeySeen) => void): () => void;
  /** Wipe lock: while it is on, keys do nothing and are refused as `locked`. */
  readonly isLocked: Readable<boolean>;
  setLocked(options: { readonly isLocked: boolean }): void;
  dispose(): void;
}

const CONTROLS = 'a[href], button, summary, [role="button"], [role="tab"], [role="link"]';
const OWN_KEYS = '[role="radio"], [role="slider"], [role="option"], [role="menuitem"]';
/** Inputs that take no text, but use some of our keys for themselves. */
const FORM_FIELDS = 'input, textarea, select, [contenteditable]:not([contenteditable="false"])';
/** What types nothing into a line of text: a pedal must not be dead after a reading was typed. */
const TYPES_NOTHING: ReadonlySet<string> = new Set(['Enter', 'PageDown', 'PageUp']);
const OPEN_DIALOG = 'dialog[open], [role="dialog"], [role="alertdialog"]';

/** Listens on `window`. */
export function createKeys(options: {
  readonly window: EventTarget;
  readonly document: Document;
  readonly map: KeyMap;
  /** Whether what a press records is in sight; elsewhere a key is the page's own. Always by default. */
  readonly isInSight?: () => boolean;
}): Keys {
  const { document } = options;
  const map = createStore<KeyMap>(() => options.map);
  const isLocked = createStore<boolean>(() => false);
  const verbs = signal<Verb>();
  const refusals = signal<{ verb: Verb; why: KeyRefusal }>();
  const swallowed = new Set<string>();
  const run = new TypedRun();
  let tester: ((seen: KeySeen) => void) | undefined;
  let focusCameByTab = false;

  const swallow = (event: KeyboardEvent): void => {
    event.preventDefault();
    event.stopPropagation();
    swallowed.add(event.code);
  };

  const onKeyDown = (event: Event): void => {
    if (!(event instanceof KeyboardEvent)) return;
    if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
    if (event.key === 'Tab') focusCameByTab = true;
    const isInField = document.activeElement?.matches(FORM_FIELDS) === true;
    const isScanner = run.takes(event, { isInField });
    const key = keyName(event);
    const verb = map.getState()[key] ?? null;
    if (tester !== undefined) {
      // Tab and Escape must still lead out of the test.
      if (key === 'Tab' || key === 'Escape') return;
      swallow(event);
      tester({ key, isRepeat: event.repeat, verb });
      return;
    }
    if (verb === null || options.isInSight?.() === false) return;
    const own = refusal(event, { document, isLocked: isLocked.getState(), focusCameByTab });
    // Of a scanner's keys only what fills a field goes on: its Enter must not click a button either.
    const isFilling = own === 'typing' || (own === 'dialog' && isInField);
    const why = isScanner && !isFilling ? 'scanner' : own;
    // A key that belongs to someone else goes on to them.
    if (why !== 'typing' && why !== 'dialog' && why !== 'other-control') swallow(event);
    if (why !== undefined) refusals.emit({ verb, why });
    else verbs.emit(verb);
  };
  const onKeyUp = (event: Event): void => {
    // A button under the focus is clicked by the release of the space bar.
    if (event instanceof KeyboardEvent && swallowed.delete(event.code)) event.preventDefault();
  };
  const onPointerDown = (): void => {
    focusCameByTab = false;
  };

  const listeners = [
    ['keydown', onKeyDown],
    ['keyup', onKeyUp],
    ['pointerdown', onPointerDown],
  ] as const;
  for (const [type, listener] of listeners) {
    options.window.addEventListener(type, listener, { capture: true });
  }
  return {
    onVerb: verbs.listen,
    onRefused: refusals.listen,
    map,
    setMap: (next) => map.setState(next, true),
    testKeys(listener) {
      tester = listener;
      return () => {
        if (tester === listener) tester = undefined;
      };
    },
    isLocked,
    setLocked: ({ isLocked: next }) => isLocked.setState(next),
    dispose() {
      for (const [type, listener] of listeners) {
        options.window.removeEventListener(type, listener, { capture: true });
      }
    },
  };
}

/** Why the key must not act now; undefined when it may. */
function refusal(
  event: KeyboardEvent,
  now: {
    readonly document: Document;
    readonly isLocked: boolean;
    readonly focusCameByTab: boolean;
  },
): KeyRefusal | undefined {
  if (now.isLocked) return 'locked';
  const focused = now.document.activeElement;
  const isOnBar = focused?.closest(`[${PRESS_BAR_ATTRIBUTE}]`) != null;
  if (!isOnBar) {
    const isKept = event.key === 'Enter' && focused?.closest(`[${OWN_ENTER_ATTRIBUTE}]`) != null;
    const isOwn = focused?.matches('input') === true && TYPES_NOTHING.has(event.key) && !isKept;
    if (focused?.matches(FORM_FIELDS) === true && !isOwn) return 'typing';
    if (now.document.querySelector(OPEN_DIALOG) !== null) return 'dialog';
    if (focused?.closest(OWN_KEYS) != null) return 'other-control';
    // A control reached with Tab keeps the keys that activate it. One that was touched does not:
    // the focus it was left with must not turn the next step of a pedal into a second touch.
    const isActivation = event.key === ' ' || event.key === 'Enter';
    if (isActivation && now.focusCameByTab && focused?.closest(CONTROLS) != null) {
      return 'other-control';
    }
  }
  return event.repeat ? 'repeat' : undefined;
}
