/**
 * Whether the windows of a protocol can be kept at all. A representative case (two units on
 * neighbouring teeth) becomes a simple temporal network: dwells take at least their minimum,
 * everything else the pace of the hands; what cannot be kept shows as a negative cycle, and the
 * steps on it are the explanation. Times in milliseconds, findings in seconds.
 * Source of the method: Dechter, Meiri & Pearl, Artificial Intelligence 49:61-95, 1991.
 */
import { present, unreachable } from '../base/assert.ts';
import { type CaseBound, caseBounds, usualPaceMs } from '../engine/case-bounds.ts';
import { buildLayout, type Layout } from '../engine/layout.ts';
import { compileBounds } from '../engine/network.ts';
import { plannedMaxMs } from '../engine/window-bounds.ts';
import type { Unit } from '../protocol/case-types.ts';
import { checkProtocol } from '../protocol/check-protocol.ts';
import { type Asked, conditionsOf, flatConditions } from '../protocol/conditions.ts';
import type { Fact, ToothFacts } from '../protocol/facts.ts';
import { caution, type Finding, fault } from '../protocol/finding.ts';
import { paceOf } from '../protocol/pace.ts';
import { TWO_UNITS } from '../protocol/representative.ts';
import type { Protocol, Step, Window } from '../protocol/types.ts';
import { CONDITIONED, OPACITIES, PROVISIONALS, SUBSTRATES } from '../protocol/vocabulary.ts';
import { explainConflict } from '../temporal/conflict.ts';
import { solve } from '../temporal/solve.ts';
import { productLightFindings } from './check-light.ts';

type Pace = 'usual' | 'slow';

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
  layout: Layout,
  bounds: readonly CaseBound[],
  explanation: ReturnType<typeof explainConflict>,
): Broken {
  const around = explanation.steps.map((part) => ({
    origin: present(bounds[part.edge], 'bound of a conflict').origin,
    ...part,
  }));
  // The circle is told from the window onwards, so that its steps stand in the order of work.
  const at = around.findIndex(({ origin, side }) => origin.kind === 'window' && side === 'max');
  const origins = [...around.slice(Math.max(0, at)), ...around.slice(0, Math.max(0, at))];
  const windows = origins.flatMap(({ origin }) =>
    origin.kind === 'window' ? [origin.pair.window] : [],
  );
  const main = windows[0] ?? null;
  const busyMs = new Map<Step, number>();
  for (const { origin, boundMs, side } of origins) {
    if (origin.kind === 'window' || side === 'max' || boundMs === 0) continue;
    const { step } = origin.instance;
    busyMs.set(step, (busyMs.get(step) ?? 0) + boundMs);
  }
  const others = windows.filter((window) => window !== main);
  return {
    window: main,
    index: main === null ? -1 : layout.protocol.windows.indexOf(main),
    steps: [...busyMs.keys()].map((step) => step.title),
    stepSeconds: [...busyMs.values()].map((ms) => Math.round(ms / 1000)),
    otherWindows: [...new Set(others.map((window) => window.title))],
    missingMs: explanation.shortByMs,
  };
}

const paces: Readonly<Record<Pace, (step: Step, subjects: number) => number>> = {
  usual: usualPaceMs,
  slow: (step, subjects) => paceOf(step, subjects).p90Ms,
};

/** Everything that cannot be kept at this pace, the worst of each window only. */
function brokenWindows(layout: Layout, pace: Pace): readonly Broken[] {
  const bounds = caseBounds({
    layout,
    paceMs: paces[pace],
    windowMaxMs: ({ window }) => plannedMaxMs(window, layout.plan),
    // Bounds that cross by themselves are told by the check of figures.
  }).filter(({ minMs = -Infinity, maxMs = Infinity }) => minMs <= maxMs);
  const network = compileBounds(layout, bounds);
  const solution = solve({ network, fixed: new Map(), nowMs: 0, onBroken: 'relax' });
  const worst = new Map<number, Broken>();
  for (const conflict of solution.conflicts) {
    const broken = brokenOf(layout, bounds, explainConflict({ network, conflict }));
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
  const found = representatives(protocol).flatMap((spec) => windowsOf(protocol, spec));
  const isFirst = (finding: Finding, i: number) =>
    found.findIndex((other) => other.place === finding.place) === i;
  const rank = ({ level }: Finding) => (level === 'error' ? 0 : 1);
  found.sort((a, b) => rank(a) - rank(b));
  return found.filter(isFirst);
}

/** The two units as they are, and again for each answer and each choice that steps depend on. */
function representatives(protocol: Protocol): readonly Asked[] {
  const single = conditionsOf(protocol).flatMap(({ where }) => flatConditions(where));
  const others = single.flatMap((each): readonly Asked[] => {
    if ('overMm' in each) return [withUnits({ thicknessMm: each.overMm + 1 })];
    if ('choice' in each)
      return each.is.map((option) => ({ ...TWO_UNITS, choices: { [each.choice]: option } }));
    return ('is' in each ? each.is : each.isNot).flatMap((value) => answering(each.fact, value));
  });
  const texts = new Set<string>();
  return [TWO_UNITS, ...others].filter((spec) => {
    const text = JSON.stringify(spec);
    return !texts.has(text) && texts.add(text);
  });
}

const withUnits = (own: Partial<Unit>): Asked => ({
  units: TWO_UNITS.units.map((unit) => ({ ...unit, ...own })),
});

function answering(fact: Fact, value: string): readonly Asked[] {
  const is = <T extends string>(known: readonly T[]): T[] => known.filter((one) => one === value);
  const ofTeeth = (facts: Omit<ToothFacts, 'tooth'>): Asked => ({
    ...withUnits({}),
    teeth: TWO_UNITS.units.flatMap(({ teeth }) => teeth.map((tooth) => ({ tooth, ...facts }))),
  });
  switch (fact) {
    case 'substrate':
      return is(SUBSTRATES).map((substrate) => ofTeeth({ substrate: [substrate] }));
    case 'provisional':
      return is(PROVISIONALS).map((provisional) => ofTeeth({ provisional }));
    case 'conditioned':
      return is(CONDITIONED).map((conditioned) => withUnits({ conditioned }));
    case 'opacity':
      return is(OPACITIES).map((opacity) => withUnits({ opacity }));
    case 'material':
      return [withUnits({ material: value })];
    case 'restoration':
      return [withUnits({ restoration: value })];
    case 'pontics':
      return [];
    default:
      return unreachable(fact);
  }
}

function windowsOf(protocol: Protocol, spec: Asked): Finding[] {
  const plan = { ...TWO_UNITS, rounds: {}, exposures: {} };
  const layout = buildLayout({ spec, protocol }, plan);
  const usual = brokenWindows(layout, 'usual');
  const told = new Set(usual.map(({ index }) => index));
  const slow = brokenWindows(layout, 'slow').filter(({ index }) => !told.has(index));
  const place = ({ index }: Broken) =>
    index < 0 ? 'protocol.steps' : `protocol.windows[${index}]`;
  return [
    ...usual.map((b) => fault('window-cannot-be-kept', place(b), valuesOf(b))),
    ...slow.map((b) => caution('window-tight-on-a-slow-day', place(b), valuesOf(b))),
  ];
}

/** Meaning first; the question of time is asked only of a document that means something. */
export function checkDocument(protocol: Protocol): readonly Finding[] {
  const found = [...checkProtocol(protocol), ...productLightFindings(protocol)];
  const hasErrors = found.some(({ level }) => level === 'error');
  return hasErrors ? found : [...found, ...checkWindows(protocol)];
}
