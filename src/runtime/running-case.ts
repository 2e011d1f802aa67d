/**
 * A case as it runs in one window: the chair, the clock that it runs on, and the heart that notices
 * when nobody watched.
 */
import type { CaseLog } from '../engine/log.ts';
import type { Explanation } from '../plan/explanation.ts';
import type { JournalEntry } from '../storage/journal-types.ts';
import { Chair } from './chair.ts';
import { type AcceleratedClock, acceleratedClock, type RehearsalSpeed } from './device/clock.ts';
import { createHeartbeat } from './device/heartbeat.ts';
import type { SessionParts } from './session-parts.ts';

export interface RunningCase {
  readonly chair: Chair;
  readonly clock: AcceleratedClock;
  start(): void;
  stop(): void;
}

/** The clock of one case, in a run of its own. */
export function caseClock(
  { clock, newId }: SessionParts,
  o: {
    readonly speed: RehearsalSpeed;
    readonly startWallMs: number;
    readonly startMonoMs?: number;
  },
): AcceleratedClock {
  return acceleratedClock(clock, { ...o, runId: newId() });
}

/** Sets a case up to run. It does so once it is started. */
export function runningCase(
  parts: SessionParts,
  o: {
    readonly caseId: string;
    readonly log: CaseLog;
    readonly by: string;
    readonly clock: AcceleratedClock;
    readonly epoch: number;
    readonly stored: readonly JournalEntry[];
  },
): RunningCase {
  const { journal, alarm, timers, realNowMs, visibility, store, pictures } = parts;
  const { caseId, log, by, clock, epoch, stored } = o;
  const chair = new Chair(
    {
      journal,
      epoch,
      clock,
      alarm,
      timers,
      realNowMs,
      onFault: (fault) => store.setState({ fault }),
      onPicture: (running) => {
        store.setState({ running });
        const { log, view, now, speed, typed, answers, by: presser } = running;
        const told = { view, now, speed, typed, answers, by: presser };
        const { mode } = log.state.opened;
        pictures?.publish({ caseId, mode, entries: log.records.length, ...told });
      },
    },
    { caseId, log, by, stored },
  );
  const heart = createHeartbeat({
    clock,
    timers,
    visibility,
    onReport: (report) => {
      if (report.kind === 'beat') chair.beat(report.stamp);
      else chair.noteGap(report);
    },
  });
  return {
    chair,
    clock,
    start() {
      heart.start();
      chair.start();
    },
    stop() {
      heart.stop();
      chair.stop();
    },
  };
}

/** How each number of the plan came about that a case was opened with; nothing where none runs. */
export async function explainedPlan(
  { shipped }: Pick<SessionParts, 'shipped'>,
  chair: Chair | null,
): Promise<readonly Explanation[]> {
  if (chair === null) return [];
  const { makeExplainedPlan } = await import('../plan/run-plan.ts');
  return makeExplainedPlan({ ...chair.log.state.opened, tables: shipped.tables }).why;
}
