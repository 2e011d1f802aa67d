/** The ways of pressing that a step could take: those about which the checks find no fault. */
import { canConfirm, canImply, checkPressing, pressingFits } from './check-pressing.ts';
import { withPressing } from './how-closely.ts';
import type { Figure, Pressing, Protocol, Step, SweepTime } from './types.ts';

const figure = (value: number): Figure => ({ value, basis: { kind: 'practice' } });

/** What a new sweep and a new pass begin with, in ms: common practice, no source. */
const SHORTEST_MS = 3000;
const LONGEST_MS = 10_000;
const CHANGE_MS = 4000;

export const newSweepTime = (): SweepTime => ({
  shortestMs: figure(SHORTEST_MS),
  longestMs: figure(LONGEST_MS),
});

/** Later steps whose press could say that this one is done. */
export function couldImply({ steps }: Protocol, step: Step): readonly Step[] {
  const byId = new Map(steps.map((each) => [each.id, each]));
  return steps.filter((later) => later.id !== step.id && canImply(byId, step, later));
}

/** Later steps whose press could confirm a pass of this light. */
export function couldConfirm({ steps }: Protocol, step: Step): readonly Step[] {
  const byId = new Map(steps.map((each) => [each.id, each]));
  return steps.filter((later) => later.id !== step.id && canConfirm(byId, step, later));
}

function candidates(protocol: Protocol, step: Step): readonly Pressing[] {
  const time = newSweepTime();
  const by = couldImply(protocol, step)[0]?.id;
  const confirmedBy = couldConfirm(protocol, step)[0]?.id;
  const changeMs = figure(CHANGE_MS);
  const own = step.pressed === undefined ? [] : [step.pressed];
  return [
    ...own,
    ...(protocol.lists ?? []).map(({ id }): Pressing => ({ kind: 'list', list: id })),
    { kind: 'sweep', end: time },
    { kind: 'sweep', start: time },
    ...(by === undefined ? [] : [{ kind: 'implied', by: [by] } as const]),
    // Of coats, the press of the last one also says those after the first.
    ...(step.action.kind === 'coats' ? [{ kind: 'implied', by: [step.id] } as const] : []),
    { kind: 'paced', changeMs, ...(confirmedBy === undefined ? {} : { confirmedBy }) },
  ];
}

const faultsOf = (protocol: Protocol): number =>
  checkPressing(protocol).filter(({ level }) => level === 'error').length;

/**
 * One for each kind that fits the step, with what it could begin with; the way it is pressed now comes
 * first of its kind.
 */
export function waysToPress(protocol: Protocol, step: Step): readonly Pressing[] {
  const here = { ...protocol, steps: protocol.steps.map((s) => (s.id === step.id ? step : s)) };
  const least = faultsOf(withPressing(here, step.id, null));
  const fitting = candidates(here, step).filter((pressed) => {
    if (!pressingFits(pressed.kind, step)) return false;
    const isOwn = pressed === step.pressed;
    return isOwn || faultsOf(withPressing(here, step.id, pressed)) <= least;
  });
  return fitting.filter(({ kind }, i) => fitting.findIndex((each) => each.kind === kind) === i);
}
