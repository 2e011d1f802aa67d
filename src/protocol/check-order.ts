/**
 * Whether the steps can be put in an order at all. Steps are laid out for a representative case,
 * because "after the previous unit's seat" is no circle while "after every unit's seat" is one.
 */

import { flatConditions } from './conditions.ts';
import type { Where } from './facts.ts';
import { type Finding, fault } from './finding.ts';
import { FOUR_UNITS } from './representative.ts';
import { buildSubjects, type SubjectId } from './subjects.ts';
import type { Link, Protocol, Step } from './types.ts';

type Waits = readonly (readonly number[])[];

/** One step on one subject of the representative case. */
interface StepOfSubject {
  readonly step: Step;
  readonly stepIndex: number;
  readonly subject: SubjectId;
}

/**
 * Every way to take those choices together that what a step waits for depends on; a few of each where
 * there are very many.
 */
function choiceSets(protocol: Protocol): readonly Readonly<Record<string, string>>[] {
  const { choices = [], steps } = protocol;
  const waits = steps.flatMap(({ after }) => after.flatMap(({ where }) => flatConditions(where)));
  const asked = new Set(waits.flatMap((each) => ('choice' in each ? [each.choice] : [])));
  const own = choices.filter(({ id }) => asked.has(id));
  return own.reduce<readonly Readonly<Record<string, string>>[]>(
    (sets, { id, options }) =>
      options
        .flatMap((option) => sets.map((set) => ({ ...set, [id]: option.id })))
        .slice(0, CHOICE_SETS_MAX),
    [{}],
  );
}

const CHOICE_SETS_MAX = 64;

/** Whether choices allow it. What a tooth shows is left open: it only ever leaves steps out. */
function mayHold(where: readonly Where[] = [], chosen: Readonly<Record<string, string>>): boolean {
  return where.every((each) => {
    if ('anyOf' in each) return each.anyOf.some((other) => mayHold([other], chosen));
    return !('choice' in each) || each.is.includes(chosen[each.choice] ?? '');
  });
}

function waitsOf(
  protocol: Protocol,
  chosen: Readonly<Record<string, string>>,
): { readonly instances: readonly StepOfSubject[]; waits: Waits } {
  const subjects = buildSubjects(FOUR_UNITS, FOUR_UNITS);
  const instances = protocol.steps.flatMap((step, stepIndex) =>
    subjects.order[step.per].map((subject): StepOfSubject => ({ step, stepIndex, subject })),
  );
  const indexOf = new Map<string, number>();
  const scopeOf = new Map<string, Step['per']>();
  instances.forEach(({ step, subject }, i) => {
    // With a doubled id the first step counts, as it does everywhere else.
    if (scopeOf.get(step.id) === undefined) scopeOf.set(step.id, step.per);
    const key = `${step.id}@${subject}`;
    if (!indexOf.has(key)) indexOf.set(key, i);
  });
  const led = (from: StepOfSubject, to: { readonly step: string; readonly link: Link }) => {
    const scope = scopeOf.get(to.step);
    // A reference that leads nowhere is told by the check of references.
    if (scope === undefined) return [];
    return subjects
      .follow(from.subject, { link: to.link, scope })
      .flatMap((subject) => indexOf.get(`${to.step}@${subject}`) ?? []);
  };
  const waits = instances.map((instance) => {
    const { after, beginsWith } = instance.step;
    const begins = beginsWith === undefined ? [] : [{ step: beginsWith, link: 'same' as const }];
    const held = after.filter(({ where }) => mayHold(where, chosen));
    return [...held, ...begins].flatMap((to) => led(instance, to));
  });
  return { instances, waits };
}

/** Instances that never come free: those on a circle and those that wait for one. */
function stuckOnes(waits: Waits): ReadonlySet<number> {
  const open = waits.map((list) => list.length);
  const waiters: number[][] = waits.map(() => []);
  waits.forEach((list, i) => {
    for (const other of list) waiters[other]?.push(i);
  });
  const free = open.flatMap((count, i) => (count === 0 ? [i] : []));
  for (let next = free.pop(); next !== undefined; next = free.pop()) {
    for (const waiter of waiters[next] ?? []) {
      const left = (open[waiter] ?? 0) - 1;
      open[waiter] = left;
      if (left === 0) free.push(waiter);
    }
  }
  return new Set(open.flatMap((count, i) => (count > 0 ? [i] : [])));
}

/** The shortest way from `start` back to itself, or null; breadth first. */
function shortestCircle(waits: Waits, start: number, inside: ReadonlySet<number>): number[] | null {
  const cameFrom = new Map<number, number>();
  let edge = [start];
  while (edge.length > 0) {
    const next: number[] = [];
    for (const at of edge) {
      for (const other of waits[at] ?? []) {
        if (other === start) {
          const circle = [at];
          for (let i = at; i !== start; ) {
            i = cameFrom.get(i) ?? start;
            circle.unshift(i);
          }
          return circle;
        }
        if (!inside.has(other) || cameFrom.has(other)) continue;
        cameFrom.set(other, at);
        next.push(other);
      }
    }
    edge = next;
  }
  return null;
}

/** Some instance on a circle: following what a stuck one waits for must come round. */
function someOnCircle(waits: Waits, stuck: ReadonlySet<number>): number | null {
  const seen = new Set<number>();
  let at = [...stuck][0];
  while (at !== undefined && !seen.has(at)) {
    seen.add(at);
    at = waits[at]?.find((other) => stuck.has(other));
  }
  return at ?? null;
}

/** One finding with the circle in order, each step waiting for the next; none when all is well. */
export function checkOrder(protocol: Protocol): readonly Finding[] {
  for (const chosen of choiceSets(protocol)) {
    const found = circleOf(protocol, chosen);
    if (found.length > 0) return found;
  }
  return [];
}

function circleOf(
  protocol: Protocol,
  chosen: Readonly<Record<string, string>>,
): readonly Finding[] {
  const { instances, waits } = waitsOf(protocol, chosen);
  const stuck = stuckOnes(waits);
  const start = someOnCircle(waits, stuck);
  if (start === null) return [];
  const circle = shortestCircle(waits, start, stuck) ?? [start];
  const steps = [...circle, start].flatMap((i) => instances[i] ?? []);
  const titles = steps
    .map(({ step }) => step.title)
    .filter((t, i, all) => i === 0 || t !== all[i - 1]);
  const first = steps[0];
  const chain = titles.length > 1 ? titles : [...titles, ...titles];
  return [fault('waits-in-a-circle', `protocol.steps[${first?.stepIndex ?? 0}].after`, { chain })];
}
