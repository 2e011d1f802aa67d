import { useEffect, useState } from 'react';
import { MS_PER_SECOND } from '../../base/units.ts';
import { useTablet } from './session-context.ts';

/** The wall clock, drawn again each second: for what is told as so long ago. */
export function useWallNow(): number {
  const tablet = useTablet();
  const [nowMs, setNowMs] = useState(() => tablet.wallNowMs());
  useEffect(() => {
    const timer = setInterval(() => setNowMs(tablet.wallNowMs()), MS_PER_SECOND);
    return () => clearInterval(timer);
  }, [tablet]);
  return nowMs;
}
