/**
 * Whether the ways of pressing fit their steps, and still let every limit be judged that needs a press
 * of its own. Times in ms.
 */
import { caution, type Finding, fault } from './finding.ts';
import { SHORT_LIMIT_MS } from './short-limit.ts';
import type { Action, Evidence, Pressing, Protocol, Step } from './types.ts';

/** The limit of a dwell on each thing that it is done to; null where it has none there. */
function limitsMs(action: Action): readonly (number | null)[] {
  if (action.kind !== 'dwell') return [];
  const times = [action, ...Object.values(action.byMaterial ?? {}), ...(action.variants ?? [])];
  return times.map(({ maxMs }) => maxMs?.value ?? null);
}

/** The shortest limit of a dwell, on whatever it is done to; null where it has none. */
export function shortestLimitMs(action: Action): number | null {
  const limits = limitsMs(action).filter((ms) => ms !== null);
  return limits.length === 0 ? null : Math.min(...limits);
}

/** What only a person can tell is no part of a press for something else. */
export function isAnswered(evidence: Evidence | undefined): boolean {
  return evidence !== undefined && evidence.kind !== 'read-back';
}

/** Ways to press that fit what is done. */
export function pressingFits(kind: Pressing['kind'], step: Step): boolean {
  const { action } = step;
  switch (kind) {
    case 'list':
      return action.kind === 'confirm' || action.kind === 'choose';
    case 'sweep':
      return (
        action.kind === 'dwell' &&
        (step.hands !== undefined || step.together === true || step.roundOf !== undefined)
      );
    case 'implied':
      return action.kind === 'confirm' || action.kind === 'coats';
    case 'paced':
      return action.kind === 'expose';
    default:
      return kind satisfies never;
  }
}

const needsOf = ({ after, beginsWith }: Step): readonly string[] => [
  ...after.map(({ step }) => step),
  ...(beginsWith === undefined ? [] : [beginsWith]),
];

/** Steps that some cases leave out hand the waiting on. */
const isLeftOut = ({ where, onlyIf }: Step): boolean => where !== undefined || onlyIf !== undefined;

/** Whether `later` waits for `earlier` itself, or through steps that `isThrough` lets pass. */
function waitsFor(
  steps: ReadonlyMap<string, Step>,
  o: {
    readonly later: Step;
    readonly earlier: string;
    readonly isThrough: (between: Step, waiter: Step) => boolean;
  },
): boolean {
  const seen = new Set<string>();
  const edge = [o.later];
  for (let at = edge.pop(); at !== undefined; at = edge.pop()) {
    for (const need of needsOf(at)) {
      if (need === o.earlier) return true;
      const between = steps.get(need);
      if (between === undefined || seen.has(need)) continue;
      if (!isLeftOut(between) && !o.isThrough(between, at)) continue;
      seen.add(need);
      edge.push(between);
    }
  }
  return false;
}

interface Look {
  readonly protocol: Protocol;
  readonly steps: ReadonlyMap<string, Step>;
}

/** Whether a step always waits for the one between, on what belongs to the same unit and not to the one before. */
const isOfSame = ({ id }: Step, { after, beginsWith }: Step): boolean =>
  beginsWith === id ||
  after.some(
    ({ step, link, where }) =>
      step === id && link !== 'previous' && link !== 'earlier' && where === undefined,
  );

/** Whether the press of `by` can say that `step` is done: nothing else is in its way. */
export function canImply(steps: ReadonlyMap<string, Step>, step: Step, by: Step): boolean {
  const isThrough = ({ pressed }: Step, waiter: Step): boolean =>
    pressed?.kind === 'implied' && (pressed.by.includes(by.id) || pressed.by.includes(waiter.id));
  return waitsFor(steps, { later: by, earlier: step.id, isThrough });
}

/** Whether the press of `by` can confirm the pass of `step`: it is the next to be done there. */
export function canConfirm(steps: ReadonlyMap<string, Step>, step: Step, by: Step): boolean {
  return waitsFor(steps, { later: by, earlier: step.id, isThrough: () => false });
}

function listFindings({ protocol }: Look, list: string, place: string): readonly Finding[] {
  const isThere = protocol.lists?.some(({ id }) => id === list) ?? false;
  return isThere ? [] : [fault('unknown-list', `${place}.list`, { id: list })];
}

function sweepFindings(
  { steps }: Look,
  { pressed, beginsWith }: Step,
  place: string,
): readonly Finding[] {
  const { start, end } = pressed?.kind === 'sweep' ? pressed : {};
  if (start === undefined && end === undefined) return [fault('sweep-without-edge', place)];
  const crossed = (['start', 'end'] as const).flatMap((edge) => {
    const time = edge === 'start' ? start : end;
    if (time === undefined || time.shortestMs.value <= time.longestMs.value) return [];
    const low = { low: 'shortestMs', lowValue: time.shortestMs.value };
    const high = { high: 'longestMs', highValue: time.longestMs.value };
    return [fault('bounds-crossed', `${place}.${edge}.shortestMs.value`, { ...low, ...high })];
  });
  if (start === undefined || beginsWith === undefined) return crossed;
  const title = steps.get(beginsWith)?.title ?? beginsWith;
  return [...crossed, fault('sweep-start-not-pressed', `${place}.start`, { title })];
}

/** The press of the last coat also says those after the first; a gap between coats could not be judged then. */
function coatsFindings(
  { id, title, action }: Step,
  { by, place }: { readonly by: readonly string[]; readonly place: string },
): readonly Finding[] {
  const isOwn = by.length === 1 && by[0] === id;
  const hasGap = action.kind === 'coats' && action.gapMsMin !== undefined;
  return [
    ...(isOwn ? [] : [fault('implied-not-later', `${place}.by`, { title: by[0] ?? '' })]),
    ...(hasGap ? [fault('implied-minimum', place, { title })] : []),
  ];
}

function impliedFindings(
  look: Look,
  step: Step,
  o: { readonly by: readonly string[]; readonly place: string },
): readonly Finding[] {
  const { protocol, steps } = look;
  const { by, place } = o;
  const { action } = step;
  if (action.kind === 'coats') return coatsFindings(step, o);
  const isAnswer = action.kind === 'confirm' && isAnswered(action.evidence);
  const minimum = protocol.windows.find(
    ({ minMs, from, to }) => minMs !== undefined && [from.step, to.step].includes(step.id),
  );
  return [
    ...(by.length === 0 ? [fault('implied-by-nothing', `${place}.by`)] : []),
    ...by.flatMap((id, i): Finding[] => {
      const later = steps.get(id);
      if (later === undefined) return [fault('unknown-step', `${place}.by[${i}]`, { id })];
      if (canImply(steps, step, later)) return [];
      // A step in between that was set back to a press of its own does no harm: this one keeps its press.
      const isLater = waitsFor(steps, { later, earlier: step.id, isThrough: isOfSame });
      const at = `${place}.by[${i}]`;
      const values = { title: later.title };
      return [
        isLater
          ? caution('implied-past-press', at, values)
          : fault('implied-not-later', at, values),
      ];
    }),
    ...(isAnswer ? [fault('implied-answer', place, { title: step.title })] : []),
    ...(minimum ? [fault('implied-minimum', place, { title: minimum.title })] : []),
  ];
}

function pacedFindings({ steps }: Look, step: Step, place: string): readonly Finding[] {
  const id = step.pressed?.kind === 'paced' ? step.pressed.confirmedBy : undefined;
  if (id === undefined) return [];
  const later = steps.get(id);
  if (later === undefined) return [fault('unknown-step', `${place}.confirmedBy`, { id })];
  if (canConfirm(steps, step, later)) return [];
  return [fault('paced-not-later', `${place}.confirmedBy`, { title: later.title })];
}

function pressedFindings(look: Look, step: Step, place: string): readonly Finding[] {
  const { pressed } = step;
  if (pressed === undefined) return [];
  if (!pressingFits(pressed.kind, step)) {
    return [fault('press-does-not-fit', place, { title: step.title, way: pressed.kind })];
  }
  switch (pressed.kind) {
    case 'list':
      return listFindings(look, pressed.list, place);
    case 'sweep':
      return sweepFindings(look, step, place);
    case 'implied':
      return impliedFindings(look, step, { by: pressed.by, place });
    case 'paced':
      return pacedFindings(look, step, place);
    default:
      return pressed satisfies never;
  }
}

/**
 * A sweep of starts that can never be: where the limit is under a minute on everything that the step is
 * done to, each start is pressed. Where only some have such a limit, those are.
 */
function shortFindings(step: Step, place: string): readonly Finding[] {
  const { pressed, action, title } = step;
  const limits = limitsMs(action);
  const isSwept = pressed?.kind === 'sweep' && pressed.start !== undefined;
  const limitMs = Math.max(...limits.map((ms) => ms ?? Number.POSITIVE_INFINITY));
  if (!isSwept || limits.length === 0 || limitMs >= SHORT_LIMIT_MS) return [];
  return [fault('start-not-pressed', `${place}.pressed.start`, { title, limitMs })];
}

/** A line, what it waits for outside of the list, and the line that this waits for; null where none does. */
function throughOutside({ protocol, steps }: Look, list: string): readonly Step[] | null {
  const isLine = ({ pressed }: Step) => pressed?.kind === 'list' && pressed.list === list;
  // What waits for the unit before comes up again with each unit, and is no circle.
  const held = ({ after, beginsWith }: Step): readonly Step[] =>
    [
      ...after
        .filter(({ link, where }) => link !== 'previous' && link !== 'earlier' && !where)
        .map((a) => a.step),
      ...(beginsWith === undefined ? [] : [beginsWith]),
    ]
      .flatMap((id) => steps.get(id) ?? [])
      // What only some cases have between two lines parts the list in those.
      .filter((other) => isLine(other) || !isLeftOut(other));
  for (const line of protocol.steps.filter(isLine)) {
    const seen = new Set<string>();
    const ways = held(line)
      .filter((other) => !isLine(other))
      .map((other) => [line, other]);
    for (let way = ways.shift(); way !== undefined; way = ways.shift()) {
      const last = way.at(-1);
      if (last === undefined || seen.has(last.id)) continue;
      seen.add(last.id);
      for (const other of held(last)) {
        if (isLine(other)) return [...way, other];
        ways.push([...way, other]);
      }
    }
  }
  return null;
}

function listsFindings(look: Look): readonly Finding[] {
  const { lists = [], steps } = look.protocol;
  const used = new Set(
    steps.flatMap(({ pressed }) => (pressed?.kind === 'list' ? [pressed.list] : [])),
  );
  return lists.flatMap(({ id, title }, i): Finding[] => {
    const place = `protocol.lists[${i}]`;
    if (!used.has(id)) return [caution('unused', `${place}.id`, { id })];
    const way = throughOutside(look, id);
    if (way === null) return [];
    return [caution('list-waits-outside', place, { title, chain: way.map((step) => step.title) })];
  });
}

/** Lines of one list are pressed at one instant, so no time can lie between them. */
function spannedFindings({ protocol, steps }: Look): readonly Finding[] {
  const listOf = (id: string): string | null => {
    const pressed = steps.get(id)?.pressed;
    return pressed?.kind === 'list' ? pressed.list : null;
  };
  return protocol.windows.flatMap(({ title, minMs, from, to }, i) => {
    const list = listOf(from.step);
    if (minMs === undefined || list === null || list !== listOf(to.step)) return [];
    return [fault('list-spans-minimum', `protocol.windows[${i}].minMs`, { title })];
  });
}

/** Ways of pressing that fit nothing, name what is not there, or leave a limit unjudged. */
export function checkPressing(protocol: Protocol): readonly Finding[] {
  const fitting = protocol.steps.map((step): Step => {
    const { pressed, ...rest } = step;
    return pressed === undefined || pressingFits(pressed.kind, step) ? step : rest;
  });
  // With a doubled id the first step counts, as it does everywhere else.
  const steps = new Map(fitting.toReversed().map((step) => [step.id, step]));
  const look = { protocol: { ...protocol, steps: fitting }, steps };
  return [
    ...listsFindings(look),
    ...protocol.steps.flatMap((step, i) => {
      const place = `protocol.steps[${i}]`;
      return [
        ...pressedFindings(look, step, `${place}.pressed`),
        ...shortFindings(fitting[i] ?? step, place),
      ];
    }),
    ...spannedFindings(look),
  ];
}
