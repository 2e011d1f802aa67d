/** The drill that runs on the chair, as it stands at this instant. */
import { useEffect, useMemo, useRef, useState } from 'react';
import { problemLine } from '../../base/problem.ts';
import { type DrillNow, DrillWatch, lastPressMs, nowOn } from '../../drill/course.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { useSession, useTablet } from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';

/** Seconds that count down are drawn anew so often, in ms. */
const TURN_MS = 250;

export interface DrillStanding extends DrillNow {
  /** Ms since the opening. */
  readonly nowMs: number;
  /** Whether anything was pressed since a card came. */
  readonly isPressedSince: (shownAtMs: number) => boolean;
}

/** Null where this version draws something else from the seed; `failed` until it was asked again. */
export function useDrill(running: RunningCase): {
  readonly drill: DrillStanding | null | 'loading' | 'failed';
  readonly askAgain: () => void;
} {
  const session = useSession();
  const tablet = useTablet();
  const { caseId, log, now } = running;
  const first = useRef(log);
  const [asked, setAsked] = useState(0);
  const watch = useLoaded(async () => {
    const course = await (await session.drills()).course(caseId, first.current);
    if (!course.ok) throw new Error(problemLine(course.error));
    return course.value === null ? null : new DrillWatch(course.value);
  }, [session, caseId, asked]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another reading of the clock is seen at another instant.
  const seenAtMs = useMemo(() => running.madeAtRealMs ?? tablet.realNowMs(), [now]);
  const [, turn] = useState(0);
  const isOver = log.state.closed !== null;
  useEffect(() => {
    if (isOver || running.isStale) return;
    const turning = window.setInterval(() => turn((n) => n + 1), TURN_MS);
    return () => window.clearInterval(turning);
  }, [isOver, running.isStale]);
  const askAgain = (): void => setAsked((n) => n + 1);
  if (watch.state !== 'loaded') return { drill: watch.state, askAgain };
  if (watch.value === null) return { drill: null, askAgain };
  const agoMs = running.isStale ? 0 : Math.max(0, tablet.realNowMs() - seenAtMs);
  const nowMs = nowOn(log.state, now) + agoMs;
  watch.value.take(log);
  const pressedMs = lastPressMs(log);
  const drill: DrillStanding = {
    ...watch.value.at(nowMs),
    nowMs,
    isPressedSince: (shownAtMs) => pressedMs > shownAtMs,
  };
  return { drill, askAgain };
}
