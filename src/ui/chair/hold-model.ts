/** What the chair says of a hold that began at an earlier visit. Pure. */
import { followsFrom, holdOf } from '../../engine/follow-on.ts';
import type { CaseState } from '../../engine/types.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { Window } from '../../protocol/types.ts';
import type { ProtocolEntry, RunningCase } from '../../runtime/app-state.ts';
import { FINISHING_VISIT } from '../../runtime/library/finishing-visit.ts';
import { stepOf } from '../../words/offer-words.ts';
import { namingOf } from '../shared/arch-model.ts';

interface HoldTold {
  /** Before anything was done, or at a step that the hold protects. */
  readonly at: 'beginning' | 'step';
  readonly untilMs: number;
  /** The titles of all that it protects, or of the hold itself. */
  readonly titles: readonly string[];
}

interface RunningHold {
  readonly window: Window;
  readonly untilMs: number;
}

/** Holds whose shortest time is not over, each with the instant on the wall at which it is. */
function runningHolds({ view, now, log }: RunningCase): readonly RunningHold[] {
  const { windows } = log.state.opened.protocol;
  return view.clocks.flatMap(({ of, elapsed }) => {
    const window = windows.find((w) => w.id === of && w.protects === 'hold');
    const leftMs = (window?.minMs?.value ?? 0) - elapsed.loMs;
    return window && leftMs > 0 ? [{ window, untilMs: now.wallMs + leftMs }] : [];
  });
}

/** What has to be said of the hold now; null where there is nothing. */
export function holdTold(running: RunningCase): HoldTold | null {
  const { state, records } = running.log;
  const top = running.view.offers[0];
  if (state.opened.spec.follows === undefined || state.closed !== null || !top) return null;
  const holds = runningHolds(running);
  const own = holds.filter(({ window }) => window.to.step === top.step);
  const isAtStep = own.length > 0;
  const isUntouched = records.every(({ event }) => event.type === 'case-opened');
  if (!isAtStep && (holds.length === 0 || !isUntouched)) return null;
  const { protocol } = namingOf(running);
  const told = isAtStep ? own : holds;
  const titles = told.map(({ window: { title, to } }) =>
    isAtStep ? title : (stepOf(protocol, to.step)?.title ?? to.step),
  );
  return {
    at: isAtStep ? 'step' : 'beginning',
    untilMs: Math.max(...told.map(({ untilMs }) => untilMs)),
    titles: [...new Set(titles)],
  };
}

const isDone = ({ runs }: CaseState, step: string): boolean =>
  Object.entries(runs).some(([key, run]) => key.startsWith(`${step}@`) && run?.status === 'done');

/** Until when the contacts stay closed after this case; null once that is over, or without light. */
export function contactsClosedUntilMs(
  { log, now }: RunningCase,
  protocols: readonly ProtocolEntry[],
): number | null {
  const { spec, protocol: own } = log.state.opened;
  const follows = spec.follows ?? followsFrom(log);
  const protocol =
    spec.follows === undefined
      ? protocols.find((p) => p.protocol.id === FINISHING_VISIT)?.protocol
      : own;
  if (follows === null || protocol === undefined) return null;
  // What the hold protects was done all the same: nothing stays as it was.
  const isOpened =
    spec.follows !== undefined &&
    own.windows.some(({ protects, to }) => protects === 'hold' && isDone(log.state, to.step));
  if (isOpened) return null;
  const endsMs = holdOf({ follows }, protocol)?.endsMs ?? 0;
  return endsMs > now.wallMs ? endsMs : null;
}

/** Whether this open case has a finishing visit that was prepared when it was closed, and kept since. */
export function visitStays({ log }: RunningCase, prepared: readonly CaseFile[]): boolean {
  const { closed, opened } = log.state;
  if (closed !== null || opened.mode !== 'patient') return false;
  return prepared.some(({ follows }) => follows?.caseId === opened.spec.id);
}
