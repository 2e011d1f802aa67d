/**
 * The one map from a case to bounds between its moments: two moments for each step on each subject,
 * and what holds them apart or together. The agenda, the plan and the check of a protocol all read
 * it, so a window or an order means the same in each. Input: the layout of a case and the paces of
 * the hands. Output: bounds in milliseconds, each with what it comes from.
 *
 * `start` is the press that begins a step and `end` the one that ends it. A step of one press has
 * only its `end`; its `start` stands for the hands that begin it, and whatever refers to a moment of
 * such a step means the press. What the hands do before they press `start` lies before it: putting
 * a dwell on, the first of several coats.
 */
import { present, unreachable } from '../base/assert.ts';
import { paceOf } from '../protocol/pace.ts';
import type { Edge, Step } from '../protocol/types.ts';
import {
  type Instance,
  instanceKey,
  type Layout,
  surfacePlans,
  type WindowPair,
} from './layout.ts';
import type { InstanceKey } from './types.ts';

export interface Moment {
  readonly key: InstanceKey;
  readonly edge: Edge;
}

/**
 * `length`: one step on one subject. `order`: what it waits for, with what the hands do before they
 * press. `handover`: its clock begins as another step ends. `hands`: from subject to subject.
 */
export type BoundOrigin =
  | { readonly kind: 'length' | 'order' | 'handover' | 'hands'; readonly instance: Instance }
  | { readonly kind: 'window'; readonly pair: WindowPair };

/** `to` comes at least `minMs` and at most `maxMs` after `from`; an absent side is open. */
export interface CaseBound {
  readonly from: Moment;
  readonly to: Moment;
  readonly minMs?: number;
  readonly maxMs?: number;
  readonly origin: BoundOrigin;
}

interface BoundInput {
  readonly layout: Layout;
  /** How long the hands take for one press of a step that stands for so many subjects. */
  readonly paceMs: (step: Step, subjects: number) => number;
  /** The longest that one window may last as things stand; undefined where nothing limits it. */
  readonly windowMaxMs: (pair: WindowPair) => number | undefined;
}

/** The pace that the protocol itself names. */
export const usualPaceMs = (step: Step, subjects: number): number =>
  paceOf(step, subjects).medianMs;

/** How many subjects one press of this step stands for. */
function pressSize({ rounds }: Layout, { step, round }: Instance): number {
  if (step.together !== true) return 1;
  const own = rounds.get(step.id)?.find((list) => list[0]?.round === round);
  return own?.length ?? 1;
}

/**
 * The hands stay on a dwell to its end when they are busy for so much of its target. A design choice of this
 * project: what is put on and left to act takes a third of its target or less in every protocol that ships, a
 * rinse all of it.
 */
const KEEPS_HANDS_SHARE = 0.75;

/**
 * A dwell on which the hands are busy for most of its target keeps them from begin to end, as a rinse does.
 * Judged by the pace of the protocol: people who are a little quicker do not leave a rinse alone.
 */
export function keepsHands(step: Step, subjects: number): boolean {
  const { action, hands } = step;
  if (action.kind !== 'dwell' || hands) return false;
  return usualPaceMs(step, subjects) >= KEEPS_HANDS_SHARE * action.targetMs.value;
}

/** Steps that may be left out, or that open only now and then, take no time here. */
const isSometimes = (step: Step): boolean =>
  step.optional === true || (step.onlyIf?.length ?? 0) > 0;

/** Shortest time from the first press to the last, and the longest by the step's own bounds. */
function lengthOf({ layout, paceMs }: BoundInput, instance: Instance) {
  const { step } = instance;
  const { action } = step;
  if (isSometimes(step)) return { minMs: 0 };
  const size = pressSize(layout, instance);
  const handsMs = paceMs(step, size);
  switch (action.kind) {
    case 'dwell': {
      const { maxMs } = action;
      const bareMs = action.minMs?.value ?? action.targetMs.value;
      if (!keepsHands(step, size)) return { minMs: bareMs, ...(maxMs && { maxMs: maxMs.value }) };
      // The hands stay on it for as long as they take, as far as its own maximum lets them.
      const heldMs = Math.min(handsMs, maxMs?.value ?? handsMs);
      return { minMs: Math.max(bareMs, heldMs), ...(maxMs && { maxMs: maxMs.value }) };
    }
    case 'coats': {
      const gaps = action.count.value - 1;
      const atPaceMs = (handsMs * gaps) / action.count.value;
      return { minMs: Math.max(gaps * (action.gapMsMin?.value ?? 0), atPaceMs) };
    }
    case 'expose': {
      const plans = surfacePlans(layout, instance);
      return { minMs: plans.reduce((ms, p) => ms + p.setMs * p.positions, 0) };
    }
    case 'confirm':
    case 'choose':
    case 'tally':
      return { minMs: handsMs };
    default:
      return unreachable(action);
  }
}

/** What the hands do before the first press: they put a dwell on, or lay the first coat. */
function beforeStartMs(step: Step, o: { readonly paceMs: number; readonly size: number }): number {
  const { paceMs, size } = o;
  const { action, hands, beginsWith } = step;
  if (isSometimes(step) || beginsWith !== undefined) return 0;
  if (action.kind === 'coats') return paceMs / action.count.value;
  if (action.kind !== 'dwell' || keepsHands(step, size)) return 0;
  return hands?.applyMs.value ?? paceMs;
}

/** One pair of hands goes from subject to subject, unless one press stands for all. */
function betweenSubjectsMs({ layout, paceMs }: BoundInput, instance: Instance): number {
  const { step } = instance;
  if (step.together === true || step.beginsWith !== undefined || isSometimes(step)) return 0;
  if (step.action.kind === 'dwell') return step.hands?.applyMs.value ?? 0;
  if (step.action.kind === 'expose') {
    const [first] = surfacePlans(layout, instance);
    return first?.presses?.[0] ?? first?.setMs ?? 0;
  }
  return paceMs(step, 1);
}

/** A confirmed step is one press: what counts as its start is its end. */
function pressed({ byKey }: Layout, key: InstanceKey, edge: Edge): Moment {
  const kind = byKey.get(key)?.step.action.kind;
  return { key, edge: kind === 'confirm' || kind === 'choose' ? 'end' : edge };
}

function stepBounds(input: BoundInput, instance: Instance): CaseBound[] {
  const { layout, paceMs } = input;
  const { step, key, subject } = instance;
  const start: Moment = { key, edge: 'start' };
  const size = pressSize(layout, instance);
  const minMs = beforeStartMs(step, { paceMs: paceMs(step, size), size });
  const waits = instance.needs.map(
    (need): CaseBound => ({
      from: pressed(layout, need.key, need.edge),
      to: start,
      minMs,
      origin: { kind: 'order', instance },
    }),
  );
  const { beginsWith } = step;
  const scope = layout.byStep.get(beginsWith ?? '')?.[0]?.step.per;
  const before =
    beginsWith === undefined || scope === undefined ? [] : layout.subjects.linked(subject, scope);
  const handovers = before.map(
    (other): CaseBound => ({
      from: { key: instanceKey(beginsWith ?? '', other), edge: 'end' },
      to: start,
      minMs: 0,
      maxMs: 0,
      origin: { kind: 'handover', instance },
    }),
  );
  const end: Moment = { key, edge: 'end' };
  const length: CaseBound = {
    from: start,
    to: end,
    ...lengthOf(input, instance),
    origin: { kind: 'length', instance },
  };
  return [length, ...waits, ...handovers];
}

function handsBounds(input: BoundInput, list: readonly Instance[]): CaseBound[] {
  return list.slice(1).flatMap((instance, i) => {
    const before = present(list[i], 'the subject before');
    const minMs = betweenSubjectsMs(input, before);
    if (minMs === 0) return [];
    const from = { key: before.key, edge: 'start' } as const;
    const to = { key: instance.key, edge: 'start' } as const;
    return [{ from, to, minMs, origin: { kind: 'hands', instance: before } }];
  });
}

function windowBound({ layout, windowMaxMs }: BoundInput, pair: WindowPair): CaseBound {
  const { window, from, to } = pair;
  const maxMs = windowMaxMs(pair);
  return {
    from: pressed(layout, from, window.from.edge),
    to: pressed(layout, to, window.to.edge),
    ...(window.minMs === undefined ? {} : { minMs: window.minMs.value }),
    ...(maxMs === undefined ? {} : { maxMs }),
    origin: { kind: 'window', pair },
  };
}

/** Every bound of a case: by step and subject, then the hands, then the windows, in document order. */
export function caseBounds(input: BoundInput): readonly CaseBound[] {
  const { layout } = input;
  return [
    ...layout.instances.flatMap((instance) => stepBounds(input, instance)),
    ...[...layout.byStep.values()].flatMap((list) => handsBounds(input, list)),
    ...layout.windows.map((pair) => windowBound(input, pair)),
  ];
}
