import { lazy } from 'react';
import { Late } from '../parts/Late.tsx';
import { useApp } from './session-context.ts';

// Only a tablet that takes part in a clinic of several loads it.
const SharingLine = lazy(async () => ({
  default: (await import('./SharingLine.tsx')).SharingLine,
}));

/**
 * Where the line about sharing stands; nothing at all where this tablet shares with nobody.
 * @param o.as `demo` for that alone: the store is for trying.
 */
export function SharingSpot(o: { readonly as?: 'demo' }) {
  const isAlone = useApp((s) => s.sharing.standing === 'alone');
  const isDemo = useApp((s) => s.sharing.isDemo);
  if (isAlone || (o.as === 'demo' && !isDemo)) return null;
  return (
    <Late>
      <SharingLine {...o} />
    </Late>
  );
}
