/** One pairing of this page: it ends with the page, so that no code counts that nobody looks at. */
import { useEffect, useRef, useState } from 'react';
import type { Pairing } from '../../../runtime/sharing/sharing-state.ts';

const isGoing = (pairing: Pairing): boolean => {
  const { step } = pairing.state.getState();
  return step === 'waiting' || step === 'compare';
};

export function usePairing(): {
  readonly pairing: Pairing | null;
  readonly begin: (pairing: Pairing) => void;
  readonly end: () => void;
} {
  const [pairing, setPairing] = useState<Pairing | null>(null);
  const held = useRef<Pairing | null>(null);
  const isGone = useRef(false);
  const end = (): void => {
    if (held.current !== null && isGoing(held.current)) held.current.stop();
    held.current = null;
    setPairing(null);
  };
  useEffect(() => {
    isGone.current = false;
    return () => {
      isGone.current = true;
      if (held.current !== null && isGoing(held.current)) held.current.stop();
    };
  }, []);
  const begin = (begun: Pairing): void => {
    // It was asked for, and the page left before it came.
    if (isGone.current) {
      begun.stop();
      return;
    }
    held.current = begun;
    setPairing(begun);
  };
  return { pairing, begin, end };
}
