import { useEffect, useRef, useState } from 'react';
import { wipeWords } from '../../words/chair-sheet-words.ts';
import { useTablet } from '../shared/session-context.ts';

const HOLD_MS = 1500;

/**
 * Covers the chair while the screen is wiped: touches and keys do nothing, the clocks run on and
 * stay readable. Holding the one button for a moment and a half ends it; a wipe passes over it.
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
        onKeyDown={(event) => {
          if (!event.repeat) setHeld(true);
        }}
        onKeyUp={() => setHeld(false)}
      >
        {wipeWords.hold}
      </button>
    </div>
  );
}
