/**
 * What is left of a case, as tasks, links and bounds. What waits for what, which clock begins with
 * which end, windows and maxima come from the one map of the case; tasks stand in the place of its
 * shortest lengths, since here people and the light are needed for as long as they are expected to
 * take. At the opening everything is left; in the middle of a case what has happened stands as known
 * moments.
 */
import { present, unreachable } from '../base/assert.ts';
import { finiteEarlyMs, finiteLateMs } from '../engine/axis.ts';
import {
  type BoundOrigin,
  type CaseBound,
  caseBounds,
  type Moment,
} from '../engine/case-bounds.ts';
import { edgeInstant } from '../engine/edge-instant.ts';
import { type Instance, layoutOf } from '../engine/layout.ts';
import { applies, StatusReader } from '../engine/status.ts';
import type { CaseInstant, CaseState, InstanceKey } from '../engine/types.ts';
import { windowMaxMs } from '../engine/window-bounds.ts';
import { paceOf } from '../protocol/pace.ts';
import type { Activities, Bound, When } from './activity.ts';
import { ActivityDraft, type Made, type OwnPace } from './activity-draft.ts';
import { makeCoats, makeDwell, makeHands, makeRound } from './activity-steps.ts';
import { makeLight } from './light-walk.ts';

interface ActivityInput {
  readonly state: CaseState;
  /** The present moment on the case axis. */
  readonly nowMs: number;
  readonly paces?: Readonly<Record<string, OwnPace>>;
}

/** Bounds of one kind by the instance that they end at. */
function boundsTo(
  bounds: readonly CaseBound[],
  kind: BoundOrigin['kind'],
): ReadonlyMap<InstanceKey, readonly CaseBound[]> {
  const found = new Map<InstanceKey, CaseBound[]>();
  for (const bound of bounds) {
    if (bound.origin.kind !== kind) continue;
    const own = found.get(bound.to.key);
    if (own) own.push(bound);
    else found.set(bound.to.key, [bound]);
  }
  return found;
}

class ActivityBuilder {
  readonly #draft: ActivityDraft;
  readonly #statuses: StatusReader;
  readonly #left: ReadonlySet<Instance>;
  readonly #bounds: readonly CaseBound[];
  readonly #orderTo: ReadonlyMap<InstanceKey, readonly CaseBound[]>;
  readonly #handoverTo: ReadonlyMap<InstanceKey, readonly CaseBound[]>;
  readonly #lengthOf: ReadonlyMap<InstanceKey, readonly CaseBound[]>;
  readonly #turns: (readonly (readonly Instance[])[])[] = [];

  constructor(input: ActivityInput) {
    const { state, nowMs, paces = {} } = input;
    const layout = layoutOf(state);
    this.#draft = new ActivityDraft({ state, layout, nowMs, paces });
    this.#statuses = new StatusReader(state, layout);
    this.#left = new Set(layout.instances.filter((i) => this.#isLeft(i)));
    this.#bounds = caseBounds({
      layout,
      paceMs: (step, subjects) => paces[step.id]?.medianMs ?? paceOf(step, subjects).medianMs,
      windowMaxMs: (pair) => windowMaxMs(state, pair),
    });
    this.#orderTo = boundsTo(this.#bounds, 'order');
    this.#handoverTo = boundsTo(this.#bounds, 'handover');
    this.#lengthOf = boundsTo(this.#bounds, 'length');
  }

  /** Steps that only open on a choice or a mishap are not expected until they have opened. */
  #isLeft(instance: Instance): boolean {
    const { state, layout } = this.#draft.context;
    const status = this.#statuses.of(instance);
    if (status === 'running') return true;
    if (status !== 'open' && status !== 'blocked') return false;
    return applies(state, layout, instance) === 'yes';
  }

  build(): Activities {
    const draft = this.#draft;
    const { layout, nowMs } = draft.context;
    for (const rounds of layout.rounds.values()) this.#makeStep(rounds);
    for (const instance of this.#left) this.#handOver(instance);
    for (const groups of this.#turns) this.#takeTurns(groups);
    for (const instance of this.#left) this.#waitForNeeds(instance);
    const windows = this.#bounds.flatMap((bound) => this.#window(bound));
    const dwells = [...this.#left].flatMap((instance) => this.#dwellBound(instance));
    return { nowMs, tasks: draft.tasks, links: draft.links, bounds: [...dwells, ...windows] };
  }

  #makeStep(rounds: readonly (readonly Instance[])[]): void {
    const { step } = present(rounds[0]?.[0], 'instance');
    const open = rounds.map((round) => round.filter((i) => this.#left.has(i)));
    if (step.action.kind === 'expose') {
      const groups = byNeeds(open.flat());
      for (const group of groups) this.#makeGroup(group);
      this.#turns.push(groups);
      return;
    }
    const groups = open.flatMap((round) => this.#groupsOf(round));
    for (const group of groups) this.#makeGroup(group);
    if (step.together !== true) this.#turns.push(groups);
  }

  /** What is pressed as one: a round that leads its own, a round taken together, or one subject. */
  #groupsOf(round: readonly Instance[]): (readonly Instance[])[] {
    const step = round[0]?.step;
    if (step === undefined) return [];
    if (step.action.kind === 'dwell' && step.hands && step.together !== true) return [round];
    if (step.together !== true) return round.map((i) => [i]);
    const isRunning = (i: Instance): boolean => this.#statuses.of(i) === 'running';
    return [round.filter(isRunning), round.filter((i) => !isRunning(i))].filter(
      (part) => part.length > 0,
    );
  }

  #makeGroup(group: readonly Instance[]): void {
    const { action, hands, together } = present(group[0], 'instance').step;
    const draft = this.#draft;
    switch (action.kind) {
      case 'confirm':
      case 'choose':
      case 'tally':
        makeHands(draft, group);
        return;
      case 'coats':
        makeCoats(draft, group, action);
        return;
      case 'dwell':
        if (hands && together !== true) makeRound(draft, group, action);
        else makeDwell(draft, group, action);
        return;
      case 'expose':
        makeLight(draft, group, action);
        return;
      default:
        unreachable(action);
    }
  }

  /** One pair of hands goes from subject to subject, and from round to round. */
  #takeTurns(groups: readonly (readonly Instance[])[]): void {
    const { made } = this.#draft;
    groups.slice(1).forEach((group, i) => {
      const entry = made.get(group[0]?.key ?? '')?.entry ?? null;
      if (entry === null) return;
      for (const before of groups[i] ?? []) {
        const earlier = made.get(before.key);
        if (earlier === undefined) continue;
        this.#draft.link(earlier.end, { task: entry, edge: 'start' });
        if (earlier.last !== null) this.#draft.chain(earlier.last, entry);
      }
    });
  }

  /** A clock that begins with the end of another step: the one is ended as the other is begun. */
  #handOver(instance: Instance): void {
    const { made } = this.#draft;
    const own = made.get(instance.key);
    if (own === undefined || own.entry === null) return;
    for (const { from } of this.#handoverTo.get(instance.key) ?? []) {
      const before = made.get(from.key);
      if (before === undefined) continue;
      const isSelfEnded = before.endedBy === 'self';
      const begin: When = isSelfEnded ? before.end : { task: own.entry, edge: 'start' };
      made.set(instance.key, { ...own, start: begin });
      made.set(from.key, { ...before, end: begin });
    }
  }

  #waitForNeeds(instance: Instance): void {
    const { made } = this.#draft;
    const own = made.get(instance.key);
    if (own === undefined || own.entry === null) return;
    for (const need of this.#needsOf(instance)) {
      const other = made.get(need.key);
      if (other === undefined) continue;
      const to = { task: own.entry, edge: 'start' } as const;
      const isTakenOver = need.key.startsWith(`${instance.step.beginsWith ?? ''}@`);
      if (need.edge === 'start') this.#draft.link(other.start, to);
      else if (isTakenOver) this.#takeOver(other, own.entry);
      else this.#draft.link(other.end, to);
    }
  }

  #takeOver({ ready, last }: Made, entry: number): void {
    this.#draft.link(ready.from, { task: entry, edge: 'start' }, ready.minMs);
    if (last !== null) this.#draft.chain(last, entry);
  }

  /** A step that is not expected hands the waiting on to what it waits for itself. */
  #needsOf(instance: Instance, seen: ReadonlySet<string> = new Set()): readonly Moment[] {
    const { layout } = this.#draft.context;
    return (this.#orderTo.get(instance.key) ?? []).flatMap(({ from: need }) => {
      const other = layout.byKey.get(need.key);
      if (other === undefined || seen.has(need.key)) return [];
      if (this.#left.has(other) || this.#isPast(other)) return [need];
      return this.#needsOf(other, new Set([...seen, need.key]));
    });
  }

  #isPast(instance: Instance): boolean {
    const status = this.#statuses.of(instance);
    return status === 'done' || status === 'skipped';
  }

  /**
   * Where an edge of a step lies, known or planned; null when it will not come. Known as an interval, a
   * minimum counts from its end and a maximum from its beginning.
   */
  #when({ key, edge }: Moment, from: (at: CaseInstant) => number = finiteEarlyMs): When | null {
    const { state } = this.#draft.context;
    const known = edgeInstant(state.runs[key], edge);
    if (known !== null) return { atMs: from(known) };
    const made = this.#draft.made.get(key);
    if (made === undefined) return null;
    return edge === 'start' ? made.start : made.end;
  }

  #window({ from: since, to: until, minMs, maxMs, origin }: CaseBound): Bound[] {
    if (origin.kind !== 'window') return [];
    const { window, subject } = origin.pair;
    const from = this.#when(since);
    const to = this.#when(until);
    if (from === null || to === null || !('task' in to)) return [];
    const latest = this.#when(since, finiteLateMs);
    if (minMs !== undefined && latest !== null) this.#draft.link(latest, to, minMs);
    if (maxMs === undefined) return [];
    const { severity, protects } = window;
    const fromSubject = since.key.slice(since.key.indexOf('@') + 1);
    const what = 'window';
    return [{ of: window.id, what, subject, fromSubject, from, to, maxMs, severity, protects }];
  }

  #dwellBound(instance: Instance): Bound[] {
    const made = this.#draft.made.get(instance.key);
    const maxMs = this.#lengthOf.get(instance.key)?.[0]?.maxMs;
    if (maxMs === undefined || made === undefined) return [];
    const { end } = made;
    const start = this.#when({ key: instance.key, edge: 'start' }) ?? made.start;
    if (!('task' in end)) return [];
    const { subject } = instance;
    return [
      {
        of: instance.step.id,
        what: 'dwell',
        subject,
        fromSubject: subject,
        from: start,
        to: end,
        maxMs,
        severity: 'warning',
        protects: null,
      },
    ];
  }
}

/** Units that wait for the same things are lit in one walk. */
function byNeeds(instances: readonly Instance[]): Instance[][] {
  const groups = new Map<string, Instance[]>();
  for (const instance of instances) {
    const key = instance.needs.map((need) => `${need.key}/${need.edge}`).join(' ');
    const group = groups.get(key);
    if (group) group.push(instance);
    else groups.set(key, [instance]);
  }
  return [...groups.values()];
}

/** The tasks, links and bounds of what is left of a case. */
export function activitiesOf(input: ActivityInput): Activities {
  return new ActivityBuilder(input).build();
}
