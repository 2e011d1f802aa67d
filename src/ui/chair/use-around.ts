/**
 * Which picture stands around the heading, the clock and the bar. When something becomes due, those three
 * are painted first and alone; what stands around them follows once that frame is on the screen. All
 * together would come late on a slow tablet.
 */
import { useEffect, useRef, useState } from 'react';
import type { RunningCase } from '../../runtime/app-state.ts';
import { hasTurned } from './chair-model.ts';

/** A hidden page paints no frames; what stands around must not wait for one. */
const FRAME_MS_MAX = 200;

/** Calls `then` once the next frame is painted, or soon after where none is. Returned: forget it. */
function afterPaint(then: () => void): () => void {
  let isOver = false;
  const end = (): void => {
    if (isOver) return;
    isOver = true;
    then();
  };
  const late = setTimeout(end, FRAME_MS_MAX);
  const frame = requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      end();
    };
    port2.postMessage(null);
  });
  return () => {
    isOver = true;
    clearTimeout(late);
    cancelAnimationFrame(frame);
  };
}

/** The running case itself, but for the frame in which something has just become due: then that of before. */
export function useAround(running: RunningCase): RunningCase {
  const [around, setAround] = useState(running);
  const newest = useRef(running);
  const isBehind = around !== running && hasTurned(around, running);
  if (around !== running && !isBehind) setAround(running);
  useEffect(() => {
    newest.current = running;
  }, [running]);
  const behind = isBehind ? around : null;
  useEffect(
    () => (behind === null ? undefined : afterPaint(() => setAround(newest.current))),
    [behind],
  );
  return behind ?? running;
}
