/**
 * Whether the windows of a protocol can be kept at all. A representative case (two units on
 * neighbouring teeth) becomes a simple temporal network: dwells take at least their minimum,
 * everything else the pace of the hands; what cannot be kept shows as a negative cycle, and the
 * steps on it are the explanation. Times in milliseconds, findings in seconds.
 * Source of the method: Dechter, Meiri & Pearl, Artificial Intelligence 49:61-95, 1991.
 */
import { present, unreachable } from '../base/assert.ts';
import { caution, type Finding, fault } from '../protocol/finding.ts';
import { type Expanded, expand, type Instance, TWO_UNITS } from '../protocol/representative.ts';
import type { Edge, Moment, Protocol, Step, Window } from '../protocol/types.ts';
import { compileNetwork } from '../temporal/compile-network.ts';
import { explainConflict } from '../temporal/conflict.ts';
import type { Constraint } from '../temporal/constraint.ts';
import { solve } from '../temporal/solve.ts';

type Pace = 'usual' | 'slow';

type Origin =
  | { readonly kind: 'length' | 'hands' | 'order'; readonly step: Step }
  | { readonly kind: 'window'; readonly window: Window; readonly index: number };

interface Bound {
  readonly constraint: Constraint;
  readonly origin: Origin;
}

const momentId = (instance: Instance, edge: Edge): string => `${instance.index}/${edge}`;

function handsMs(step: Step, pace: Pace): number {
  return pace === 'usual' ? step.pace.medianMs.value : step.pace.p90Ms.value;
}

/** Steps that may be left out, or that open only now and then, take no time here. */
const isSometimes = (step: Step): boolean =>
  step.optional === true || (step.onlyIf?.length ?? 0) > 0;

function lengthOf(step: Step, pace: Pace): { readonly minMs: number; readonly maxMs?: number } {
  const { action } = step;
  if (isSometimes(step)) return { minMs: 0 };
  switch (action.kind) {
    case 'dwell': {
      const minMs = action.minMs?.value ?? action.targetMs.value;
      return action.maxMs === undefined ? { minMs } : { minMs, maxMs: action.maxMs.value };
    }
    case 'coats': {
      const gaps = action.count.value - 1;
      const paceMs = (handsMs(step, pace) * gaps) / action.count.value;
      return { minMs: Math.max(gaps * (action.gapMsMin?.value ?? 0), paceMs) };
    }
    case 'expose':
      return { minMs: action.surfaces.length * (action.perSurfaceMs?.value ?? 0) };
    case 'confirm':
    case 'tally':
    case 'choose':
      return { minMs: handsMs(step, pace) };
    default:
      return unreachable(action);
  }
}

/** What the hands do before the first press: a dwell starts when it is applied, coats with the first. */
function beforeStartMs(step: Step, pace: Pace): number {
  if (isSometimes(step) || step.beginsWith !== undefined) return 0;
  if (step.action.kind === 'dwell') return step.hands?.applyMs.value ?? handsMs(step, pace);
  return step.action.kind === 'coats' ? handsMs(step, pace) / step.action.count.value : 0;
}

/** One pair of hands goes from subject to subject, unless one press stands for all. */
function betweenSubjectsMs(step: Step, pace: Pace): number {
  if (step.together === true || step.beginsWith !== undefined || isSometimes(step)) return 0;
  if (step.action.kind === 'dwell') return step.hands?.applyMs.value ?? 0;
  if (step.action.kind === 'expose') return step.action.perSurfaceMs?.value ?? 0;
  return handsMs(step, pace);
}

function stepBounds(expanded: Expanded, instance: Instance, pace: Pace): readonly Bound[] {
  const { step } = instance;
  const start = momentId(instance, 'start');
  const length: Bound = {
    constraint: { from: start, to: momentId(instance, 'end'), ...lengthOf(step, pace) },
    origin: { kind: 'length', step },
  };
  const waits = step.after.flatMap((after) =>
    expanded.follow(instance, after).map((other): Bound => {
      const from = momentId(other, after.edge ?? 'end');
      const minMs = beforeStartMs(step, pace);
      return { constraint: { from, to: start, minMs }, origin: { kind: 'order', step } };
    }),
  );
  const begins =
    step.beginsWith === undefined
      ? []
      : expanded.follow(instance, { step: step.beginsWith, link: 'same' }).map((other): Bound => {
          const from = momentId(other, 'end');
          const constraint = { from, to: start, minMs: 0, maxMs: 0 };
          return { constraint, origin: { kind: 'order', step } };
        });
  return [length, ...waits, ...begins];
}

function handsBounds(expanded: Expanded, step: Step, pace: Pace): readonly Bound[] {
  const ms = betweenSubjectsMs(step, pace);
  const all = expanded.of(step.id);
  if (ms === 0) return [];
  return all.slice(1).map((instance, i) => ({
    constraint: {
      from: momentId(present(all[i], 'the subject before'), 'start'),
      to: momentId(instance, 'start'),
      minMs: ms,
    },
    origin: { kind: 'hands', step },
  }));
}

/** A confirmed step is one press: what counts as its start is its end. */
function pressedMoment(instance: Instance, moment: Moment): string {
  const { kind } = instance.step.action;
  const isOnePress = kind === 'confirm' || kind === 'choose';
  return momentId(instance, isOnePress ? 'end' : moment.edge);
}

function windowBounds(expanded: Expanded, window: Window, index: number): readonly Bound[] {
  return expanded.of(window.from.step).flatMap((from) =>
    expanded.follow(from, { step: window.to.step, link: window.match }).map((to) => ({
      constraint: {
        from: pressedMoment(from, window.from),
        to: pressedMoment(to, window.to),
        ...(window.minMs === undefined ? {} : { minMs: window.minMs.value }),
        ...(window.maxMs === undefined ? {} : { maxMs: window.maxMs.value }),
      },
      origin: { kind: 'window', window, index },
    })),
  );
}

function boundsOf(protocol: Protocol, expanded: Expanded, pace: Pace): readonly Bound[] {
  return [
    ...expanded.instances.flatMap((instance) => stepBounds(expanded, instance, pace)),
    ...protocol.steps.flatMap((step) => handsBounds(expanded, step, pace)),
    ...protocol.windows.flatMap((window, i) => windowBounds(expanded, window, i)),
  ];
}

interface Broken {
  readonly window: Window | null;
  readonly index: number;
  /** Titles of the steps that lie between, each once, in order. */
  readonly steps: readonly string[];
  readonly stepSeconds: readonly number[];
  readonly otherWindows: readonly string[];
  readonly missingMs: number;
}

function brokenOf(
  bounds: readonly Bound[],
  explanation: ReturnType<typeof explainConflict>,
): Broken {
  const around = explanation.steps.map((part) => ({
    origin: present(bounds[part.edge], 'bound of a conflict').origin,
    ...part,
  }));
  // The circle is told from the window onwards, so that its steps stand in the order of work.
  const at = around.findIndex(({ origin, side }) => origin.kind === 'window' && side === 'max');
  const origins = [...around.slice(Math.max(0, at)), ...around.slice(0, Math.max(0, at))];
  const windows = origins.flatMap(({ origin }) => (origin.kind === 'window' ? [origin] : []));
  const main = windows[0];
  const busyMs = new Map<Step, number>();
  for (const { origin, boundMs, side } of origins) {
    if (origin.kind === 'window' || side === 'max' || boundMs === 0) continue;
    busyMs.set(origin.step, (busyMs.get(origin.step) ?? 0) + boundMs);
  }
  const others = windows.filter(({ window }) => window !== main?.window);
  return {
    window: main?.window ?? null,
    index: main?.index ?? -1,
    steps: [...busyMs.keys()].map((step) => step.title),
    stepSeconds: [...busyMs.values()].map((ms) => Math.round(ms / 1000)),
    otherWindows: [...new Set(others.map(({ window }) => window.title))],
    missingMs: explanation.shortByMs,
  };
}

/** Everything that cannot be kept at this pace, the worst of each window only. */
function brokenWindows(protocol: Protocol, expanded: Expanded, pace: Pace): readonly Broken[] {
  const bounds = boundsOf(protocol, expanded, pace).filter(
    // Bounds that cross by themselves are told by the check of figures.
    ({ constraint: { minMs = -Infinity, maxMs = Infinity } }) => minMs <= maxMs,
  );
  const nodes = expanded.instances.flatMap((i) => [momentId(i, 'start'), momentId(i, 'end')]);
  const network = compileNetwork({ nodes, edges: bounds.map((bound) => bound.constraint) });
  const solution = solve({ network, fixed: new Map(), nowMs: 0, onBroken: 'relax' });
  const worst = new Map<number, Broken>();
  for (const conflict of solution.conflicts) {
    const broken = brokenOf(bounds, explainConflict({ network, conflict }));
    const before = worst.get(broken.index);
    if (before === undefined || before.missingMs < broken.missingMs) {
      worst.set(broken.index, broken);
    }
  }
  return [...worst.values()].toSorted((a, b) => a.index - b.index);
}

function valuesOf(broken: Broken) {
  return {
    title: broken.window?.title ?? '',
    limitSeconds: (broken.window?.maxMs?.value ?? 0) / 1000,
    missingSeconds: Math.ceil(broken.missingMs / 1000),
    steps: broken.steps,
    stepSeconds: broken.stepSeconds,
    otherWindows: broken.otherWindows,
  };
}

/**
 * Windows that cannot be kept at the usual pace (errors), and those that are lost when every step
 * takes its 90th percentile (cautions). Call it only for documents without errors of meaning.
 */
export function checkWindows(protocol: Protocol): readonly Finding[] {
  const expanded = expand(protocol, TWO_UNITS);
  const usual = brokenWindows(protocol, expanded, 'usual');
  const told = new Set(usual.map(({ index }) => index));
  const slow = brokenWindows(protocol, expanded, 'slow').filter(({ index }) => !told.has(index));
  const place = ({ index }: Broken) =>
    index < 0 ? 'protocol.steps' : `protocol.windows[${index}]`;
  return [
    ...usual.map((b) => fault('window-cannot-be-kept', place(b), valuesOf(b))),
    ...slow.map((b) => caution('window-tight-on-a-slow-day', place(b), valuesOf(b))),
  ];
}
