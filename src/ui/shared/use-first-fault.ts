/** Leads from a press that could not be done to the first field that says why. */
import { type RefObject, useEffect, useRef, useState } from 'react';

const FIELD = 'input, select, textarea, button';

/** Brings the first thing that is wrong into sight, and the keys to its field. */
export function showFirst(body: HTMLElement): void {
  const wrong = body.querySelector<HTMLElement>('[aria-invalid="true"], .lw-field-problem');
  if (wrong === null) return;
  const field = wrong.matches(FIELD)
    ? wrong
    : wrong.parentElement?.querySelector<HTMLElement>(FIELD);
  field?.focus({ preventScroll: true });
  // jsdom lays nothing out and has no such method.
  wrong.scrollIntoView?.({ block: 'center' });
}

/** `tries` counts the presses that could not be done; each leads to the first fault inside of `body`. */
export function useFirstFault<E extends HTMLElement>(): {
  readonly body: RefObject<E | null>;
  readonly tries: number;
  readonly fail: () => void;
} {
  const body = useRef<E>(null);
  const [tries, setTries] = useState(0);
  useEffect(() => {
    if (tries > 0 && body.current !== null) showFirst(body.current);
  }, [tries]);
  return { body, tries, fail: () => setTries((count) => count + 1) };
}
