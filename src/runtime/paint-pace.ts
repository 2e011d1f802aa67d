/**
 * When the next picture is wanted although nothing happens: at the instant at which a figure on the
 * screen turns over. Figures are whole seconds, each clock with its own beat; those of the clock
 * that the bar waits for turn over on time, the others may be late by {@link OTHERS_LATE_MS}. Pure.
 * Times in ms of the case's clock.
 */
import type { Clock, View } from '../engine/view-types.ts';

const SECOND_MS = 1000;
/** Nothing to count: the picture is still made once a second. */
const IDLE_MS = SECOND_MS;
/** How late the figure of a clock that is not called for may turn over. */
export const OTHERS_LATE_MS = 250;
/**
 * Before something turns on time nothing else is drawn for so long: on a slow tablet one picture takes a
 * tenth of a second and more, and what is due would have to wait for it. Shorter than what the others may
 * be late anyway, so it makes none of them later.
 */
export const QUIET_MS = 200;
/** A short clock's vessel fills in half seconds, so that it is seen to move. */
const SHORT_CLOCK_MS = 120_000;

/** Time until a figure that stands `atMs` from a whole second turns over, above 0. */
function untilTurn(atMs: number, beatMs = SECOND_MS): number {
  const rest = atMs % beatMs;
  return rest > 0 ? rest : rest + beatMs;
}

/** What is left until each bound, and what has passed, counts down and up in whole seconds. */
function turnsOf(clock: Clock, beatMs?: number): number[] {
  const { elapsed, minMs, targetMs, maxMs } = clock;
  const bounds = [0, minMs, targetMs, maxMs].filter((ms) => ms !== null);
  // An end that nobody knows shows no figure that could turn over.
  const isOpenEnded = !Number.isFinite(elapsed.hiMs);
  const isInterval = elapsed.hiMs > elapsed.loMs && !isOpenEnded;
  const passed = isInterval ? [elapsed.loMs, elapsed.hiMs] : [elapsed.loMs];
  return bounds.flatMap((bound) => passed.map((ms) => untilTurn(bound - ms, beatMs)));
}

/**
 * Time until the next picture.
 *
 * @param view the picture that is shown now.
 * @param o.undoLeftMs what is left of the undo, 0 when there is none.
 * @param o.gapMs no two pictures follow each other more closely than this.
 */
export function nextPaintMs(
  view: Pick<View, 'clocks' | 'offers' | 'nextChangeInMs'>,
  o: { readonly undoLeftMs: number; readonly gapMs: number },
): number {
  const top = view.offers[0];
  const isCalled = (clock: Clock): boolean =>
    clock.of === top?.step && clock.subjects.some((s) => top.subjects.includes(s));
  const called = view.clocks.filter(isCalled).flatMap((clock) => {
    const isShort = (clock.targetMs ?? clock.maxMs ?? SHORT_CLOCK_MS) < SHORT_CLOCK_MS;
    return turnsOf(clock, isShort ? SECOND_MS / 2 : SECOND_MS);
  });
  if (top && top.dueInMs > 0) called.push(untilTurn(top.dueInMs));
  const others = view.clocks.filter((clock) => !isCalled(clock)).flatMap((clock) => turnsOf(clock));
  if (o.undoLeftMs > 0) others.push(untilTurn(o.undoLeftMs));
  const onTime = Math.min(view.nextChangeInMs ?? Number.POSITIVE_INFINITY, ...called);
  const soonestOther = Math.min(IDLE_MS, ...others);
  const together = Math.max(soonestOther, OTHERS_LATE_MS);
  const isQuiet = together > onTime - QUIET_MS;
  // What has turned over by then is drawn before the quiet; the rest comes with what is on time.
  const before = soonestOther <= onTime - QUIET_MS ? onTime - QUIET_MS : onTime;
  return Math.max(o.gapMs, Math.min(IDLE_MS, onTime, isQuiet ? before : together));
}
