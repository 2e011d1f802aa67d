/**
 * How closely the limits around a step can be judged by the way it is pressed, and by one press for each.
 * A sweep knows the moment of the n-th of a round to within n times the longest less what the others took
 * at least (`engine/sweep.ts`), one alone is pressed, and so is each start of a time with a short limit; an implied step lies between what it waited for and the press that says so;
 * the light of a pass may come a change-over early or late (`engine/light-pass.ts`). Times in ms.
 */
import { isSameJson } from '../base/json.ts';
import { SHORT_LIMIT_MS } from './short-limit.ts';
import type { DwellTimes, Edge, Moment, Pressing, Protocol, Step, Window } from './types.ts';

/** What keeps a moment from being exact, with titles of steps and lists. */
export type Blur =
  | { readonly kind: 'list'; readonly list: string }
  | {
      readonly kind: 'sweep';
      readonly step: string;
      readonly shortestMs: number;
      readonly longestMs: number;
    }
  | {
      readonly kind: 'implied';
      readonly step: string;
      readonly since: readonly string[];
      readonly by: readonly string[];
    }
  | { readonly kind: 'paced'; readonly step: string; readonly changeMs: number };

/** How one limit is judged. */
export interface Judged {
  /** Nothing where every moment is exact. */
  readonly blurs: readonly Blur[];
  /** The most subjects of a round for which "kept" can be said; null where the round does not matter. */
  readonly roundMax: number | null;
  /** Nobody could say any more that it was kept. */
  readonly isLost: boolean;
}

/** A limit that the way of pressing a step touches. */
export interface TouchedLimit {
  /** The step or window that it belongs to. */
  readonly id: string;
  readonly of: 'step' | 'window';
  readonly title: string;
  readonly minMs: number | null;
  readonly maxMs: number | null;
  /** With one press for each. */
  readonly each: Judged;
  readonly pressed: Judged;
}

/** How far apart the earliest and the latest of one subject lie, by its number in the round. */
export function sweepWidthMs(
  { shortestMs, longestMs }: { readonly shortestMs: number; readonly longestMs: number },
  number: number,
): number {
  return number * longestMs - (number - 1) * shortestMs;
}

type Steps = ReadonlyMap<string, Step>;

interface Look {
  readonly protocol: Protocol;
  readonly steps: Steps;
}

/** Titles of the last things that are known before an implied step. */
function knownBefore(steps: Steps, step: Step, seen = new Set<string>()): readonly string[] {
  return step.after.flatMap(({ step: id }): readonly string[] => {
    const other = steps.get(id);
    if (other === undefined || seen.has(id)) return [];
    seen.add(id);
    return other.pressed?.kind === 'implied' ? knownBefore(steps, other, seen) : [other.title];
  });
}

function sweepBlur(step: Step, edge: Edge): readonly Blur[] {
  const time = step.pressed?.kind === 'sweep' ? step.pressed[edge] : undefined;
  if (time === undefined) return [];
  const { shortestMs, longestMs } = time;
  return [
    {
      kind: 'sweep',
      step: step.title,
      shortestMs: shortestMs.value,
      longestMs: longestMs.value,
    },
  ];
}

/** Whether a clock with a short limit always begins with the end of this step: then each end is pressed. */
function beginsShort({ protocol }: Look, id: string): boolean {
  return protocol.steps.some((step) => {
    if (step.beginsWith !== id || step.where !== undefined || step.onlyIf !== undefined)
      return false;
    const times = allTimes(step);
    return times.length > 0 && times.every(isShort);
  });
}

/** What keeps one edge of a step from being exact. */
function blursAt(look: Look, { step: id, edge }: Moment): readonly Blur[] {
  const { protocol, steps } = look;
  const step = steps.get(id);
  if (step === undefined) return [];
  const { pressed, beginsWith } = step;
  if (edge === 'start' && beginsWith !== undefined) {
    return blursAt(look, { step: beginsWith, edge: 'end' });
  }
  switch (pressed?.kind) {
    case undefined:
      return [];
    case 'list': {
      const list = protocol.lists?.find((each) => each.id === pressed.list);
      return [{ kind: 'list', list: list?.title ?? pressed.list }];
    }
    case 'sweep':
      return edge === 'end' && beginsShort(look, id) ? [] : sweepBlur(step, edge);
    case 'implied': {
      // The first coat and the last have a press of their own.
      if (pressed.by.includes(id)) return [];
      const by = pressed.by.flatMap((later) => steps.get(later)?.title ?? []);
      return [{ kind: 'implied', step: step.title, since: knownBefore(steps, step), by }];
    }
    case 'paced':
      return [{ kind: 'paced', step: step.title, changeMs: pressed.changeMs.value }];
    default:
      return pressed satisfies never;
  }
}

interface Limit {
  readonly id: string;
  readonly of: 'step' | 'window';
  readonly title: string;
  readonly minMs: number | null;
  readonly maxMs: number | null;
  readonly from: Moment;
  readonly to: Moment;
}

const ROUND_MOST = 32;

const isSweep = (blur: Blur) => blur.kind === 'sweep';

/** The last of a round is known to be within its limit when the whole sweep fits into the room there is. */
function roundMaxOf(
  { minMs, maxMs }: Limit,
  ends: { readonly from: readonly Blur[]; readonly to: readonly Blur[] },
): number | null {
  const sweeps = [...ends.from, ...ends.to].filter(isSweep);
  if (sweeps.length === 0 || maxMs === null) return null;
  // A sweep that ends a time begins when that time has begun on all of them.
  const longestMs = ends.to.filter(isSweep).reduce((ms, sweep) => ms + sweep.longestMs, 0);
  const fits = (number: number): boolean =>
    number * longestMs <= maxMs &&
    sweeps.reduce((ms, sweep) => ms + sweepWidthMs(sweep, number), 0) <= maxMs - (minMs ?? 0);
  // One alone is pressed like any other.
  let most = 1;
  while (most < ROUND_MOST && fits(most + 1)) most += 1;
  return most === ROUND_MOST ? null : most;
}

function judged(look: Look, limit: Limit): Judged {
  const isPressed = limit.of === 'step' && isShort(limit);
  const from = blursAt(look, limit.from).filter((blur) => !isPressed || !isSweep(blur));
  const ends = { from, to: blursAt(look, limit.to) };
  const roundMax = roundMaxOf(limit, ends);
  const [list, other] = [ends.from, ends.to].map((end) => end.find(({ kind }) => kind === 'list'));
  const isOnePress =
    limit.from.step !== limit.to.step && list !== undefined && isSameJson(list, other);
  // It may have been done as soon as the step before it: nothing says that the least had passed.
  const isUnknown = limit.minMs !== null && ends.to.some(({ kind }) => kind === 'implied');
  const blurs = [...ends.from, ...ends.to];
  return { blurs, roundMax, isLost: isOnePress || isUnknown };
}

interface Times {
  readonly minMs: number | null;
  readonly maxMs: number | null;
}

const timesOf = ({ minMs, maxMs }: DwellTimes): Times => ({
  minMs: minMs?.value ?? null,
  maxMs: maxMs?.value ?? null,
});

const isShort = ({ maxMs }: Times): boolean => maxMs !== null && maxMs < SHORT_LIMIT_MS;

const roomMs = ({ minMs, maxMs }: Times): number =>
  maxMs === null ? Number.MAX_SAFE_INTEGER : maxMs - (minMs ?? 0);

/** All times that a dwell may have, by what it is done to. */
function allTimes({ action }: Step): readonly Times[] {
  if (action.kind !== 'dwell') return [];
  const { byMaterial = {}, variants = [] } = action;
  return [action, ...Object.values(byMaterial), ...variants].map(timesOf);
}

/** The times that leave the least room, of those with a short limit and of the others: each start differs. */
function limitsOfStep(step: Step): readonly Limit[] {
  const { id, title } = step;
  const told = allTimes(step).filter(({ minMs, maxMs }) => minMs !== null || maxMs !== null);
  const tightest = (times: readonly Times[]) => times.toSorted((a, b) => roomMs(a) - roomMs(b))[0];
  const kinds = [
    tightest(told.filter((times) => !isShort(times))),
    tightest(told.filter((times) => isShort(times))),
  ];
  const from = { step: id, edge: 'start' } as const;
  const to = { step: id, edge: 'end' } as const;
  return kinds.flatMap((times) =>
    times === undefined ? [] : [{ id, of: 'step', title, ...times, from, to }],
  );
}

function limitOfWindow({ id, title, minMs, maxMs, from, to }: Window): Limit {
  const times = { minMs: minMs?.value ?? null, maxMs: maxMs?.value ?? null };
  return { id, of: 'window', title, ...times, from, to };
}

/** A moment that begins with another step is pressed there. */
function isPressedAt(steps: Steps, moment: Moment, id: string): boolean {
  const before = moment.edge === 'start' ? steps.get(moment.step)?.beginsWith : undefined;
  if (before === undefined) return moment.step === id;
  return isPressedAt(steps, { step: before, edge: 'end' }, id);
}

/** The protocol with a step pressed in this way; `null` for one press for each. */
export function withPressing(protocol: Protocol, id: string, pressed: Pressing | null): Protocol {
  const steps = protocol.steps.map((step): Step => {
    if (step.id !== id) return step;
    const { pressed: _was, ...rest } = step;
    return pressed === null ? rest : { ...rest, pressed };
  });
  return { ...protocol, steps };
}

const lookAt = (protocol: Protocol): Look => ({
  protocol,
  steps: new Map(protocol.steps.toReversed().map((step) => [step.id, step])),
});

/** Every limit that the presses of a step decide, as it would be judged if it were `pressed` so. */
export function howClosely(
  protocol: Protocol,
  id: string,
  pressed: Pressing | null,
): readonly TouchedLimit[] {
  const each = lookAt(withPressing(protocol, id, null));
  const coarse = lookAt(withPressing(protocol, id, pressed));
  const limits = [...protocol.steps.flatMap(limitsOfStep), ...protocol.windows.map(limitOfWindow)];
  return limits
    .filter(({ from, to }) => [from, to].some((moment) => isPressedAt(each.steps, moment, id)))
    .map((limit): TouchedLimit => {
      const { id: owner, of, title, minMs, maxMs } = limit;
      const told = { id: owner, of, title, minMs, maxMs };
      return { ...told, each: judged(each, limit), pressed: judged(coarse, limit) };
    });
}
