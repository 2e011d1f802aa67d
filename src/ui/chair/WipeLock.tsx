import { useEffect, useRef, useState } from 'react';
import { wipeWords } from '../../words/chair-sheet-words.ts';
import { useTablet } from '../shared/session-context.ts';

const HOLD_MS = 1500;

/** Whether one key alone is down. What a key means at the chair is locked away meanwhile. */
function useHeldKey(onHeld: (isHeld: boolean) => void): void {
  useEffect(() => {
    const down = new Set<string>();
    const turn = (event: KeyboardEvent) => {
      if (event.repeat) return;
      if (event.type === 'keydown') down.add(event.code || event.key);
      else down.delete(event.code || event.key);
      onHeld(down.size === 1 && event.type === 'keydown');
    };
    const listening = new AbortController();
    const options = { capture: true, signal: listening.signal };
    window.addEventListener('keydown', turn, options);
    window.addEventListener('keyup', turn, options);
    // A key that is let go elsewhere is never seen to be let go.
    window.addEventListener('blur', () => down.clear(), options);
    return () => listening.abort();
  }, [onHeld]);
}

/**
 * Covers the chair while the screen is wiped: touches and keys do nothing, the clocks run on and
 * stay readable. Holding the one button, one key or the pedal for a moment and a half ends it and
 * records nothing; a wipe passes over them.
 */
export function WipeLock({ onEnd }: { readonly onEnd: () => void }) {
  const tablet = useTablet();
  const [isHeld, setHeld] = useState(false);
  const end = useRef(onEnd);
  end.current = onEnd;
  useEffect(() => {
    tablet.lockKeys({ isLocked: true });
    return () => tablet.lockKeys({ isLocked: false });
  }, [tablet]);
  useEffect(() => {
    if (!isHeld) return undefined;
    const timer = setTimeout(() => end.current(), HOLD_MS);
    return () => clearTimeout(timer);
  }, [isHeld]);
  useHeldKey(setHeld);
  return (
    <div className="chair-wipe" role="alertdialog" aria-label={wipeWords.title}>
      <p className="chair-wipe-words">{wipeWords.title}</p>
      <button
        type="button"
        className="chair-wipe-button"
        data-held={isHeld}
        onPointerDown={() => setHeld(true)}
        onPointerUp={() => setHeld(false)}
        onPointerLeave={() => setHeld(false)}
        onPointerCancel={() => setHeld(false)}
      >
        {wipeWords.hold}
      </button>
    </div>
  );
}
