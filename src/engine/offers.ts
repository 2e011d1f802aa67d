/**
 * What could be pressed now, step by step: for each step the offers of its current round, with how
 * long they should still wait. Ranking is done in `agenda.ts`. Times in ms.
 */
import { present, unreachable } from '../base/assert.ts';
import { paceOf } from '../protocol/pace.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Action } from '../protocol/types.ts';
import { elapsed, untilMs } from './axis.ts';
import { edgeInstant } from './edge-instant.ts';
import { coatsBetween, impliedBy, impliedByAll } from './implied.ts';
import { byStepOf, type Instance } from './layout.ts';
import { lightOffers } from './light-offers.ts';
import { allLed } from './light-pass.ts';
import { listDrafts, listOf } from './list-offers.ts';
import type { CaseNow, Draft } from './offer-draft.ts';
import type { SweepMs } from './pressing-types.ts';
import type { Status } from './status.ts';
import { sweepOver } from './sweep.ts';
import type { LightPass } from './types.ts';
import type { Offer } from './view-types.ts';

function offerId(kind: Offer['kind'], step: string, subjects: readonly SubjectId[]): string {
  return `${kind} ${step} ${subjects.join(' ')}`;
}

/** Longest wait that windows with a minimum still ask of this edge of these instances. */
function heldMs(scene: CaseNow, instances: readonly Instance[], edge: 'start' | 'end'): number {
  let longestMs = 0;
  for (const { key } of instances) {
    const pairs = scene.layout.windowsTo.get(key);
    if (pairs === undefined) continue;
    for (const { window, from } of pairs) {
      if (window.to.edge !== edge || !window.minMs) continue;
      const since = edgeInstant(scene.state.runs[from], window.from.edge);
      if (!since) continue;
      const leftMs = window.minMs.value - elapsed(since, scene.now).loMs;
      if (leftMs > longestMs) longestMs = leftMs;
    }
  }
  return longestMs;
}

/** A step whose begin and end are one press closes the windows of both edges. */
function heldForPress(scene: CaseNow, instances: readonly Instance[]): number {
  return Math.max(heldMs(scene, instances, 'start'), heldMs(scene, instances, 'end'));
}

function draft(o: {
  readonly kind: Offer['kind'];
  readonly instances: readonly Instance[];
  readonly phase: Draft['phase'];
  readonly dueInMs: number;
  readonly busyMs: number;
  readonly more?: Partial<Offer>;
}): Draft {
  const { kind, instances, dueInMs, more } = o;
  const first = present(instances[0], 'instance');
  const subjects = instances.map((i) => i.subject);
  const id = `${offerId(kind, first.step.id, subjects)}${more?.option ?? ''}`;
  const step = first.step.id;
  // Most offers have no more: a spread of nothing costs as much as one of something.
  const offer: Offer =
    more === undefined
      ? { id, step, subjects, kind, dueInMs, slackMs: null, boundBy: null }
      : { id, step, subjects, kind, dueInMs, ...more, slackMs: null, boundBy: null };
  return {
    offer,
    instances,
    step: first.step,
    round: first.round,
    phase: o.phase,
    busyMs: o.busyMs,
  };
}

function beginOffers(scene: CaseNow, instances: readonly Instance[]): Draft[] {
  const { step } = present(instances[0], 'instance');
  const { action } = step;
  const phase = 'begin';
  const busyMs = paceOf(step, instances.length).medianMs;
  const held = heldMs(scene, instances, 'start');
  switch (action.kind) {
    case 'confirm': {
      const dueInMs = heldForPress(scene, instances);
      return [draft({ kind: 'confirm', instances, phase, dueInMs, busyMs })];
    }
    case 'dwell': {
      const applyMs = step.hands?.applyMs.value ?? 0;
      // A sweep is pressed as it begins: the hands are busy with it afterwards.
      const swept = sweepOver(scene.layout, instances, 'start');
      const handsMs = swept === null ? applyMs : swept.longestMs * instances.length;
      return [draft({ kind: 'start', instances, phase, dueInMs: held, busyMs: handsMs })];
    }
    case 'coats':
      return [coatOffer(scene, instances, action, held)];
    case 'tally':
      return tallyOffers(scene, instances, { passesMax: action.passesMax.value, heldMs: held });
    case 'choose':
      return action.options.map((o) =>
        draft({
          kind: 'choose',
          instances,
          phase,
          dueInMs: held,
          busyMs,
          more: { option: o.id },
        }),
      );
    case 'expose':
      return [];
    default:
      return unreachable(action);
  }
}

function coatOffer(
  scene: CaseNow,
  instances: readonly Instance[],
  action: Extract<Action, { kind: 'coats' }>,
  heldForStartMs: number,
): Draft {
  const { key, step } = present(instances[0], 'instance');
  const run = scene.state.runs[key];
  const done = run?.counts.length ?? 0;
  const gapMs = action.gapMsMin?.value ?? 0;
  const waits = instances.map((i) => {
    const last = scene.state.runs[i.key]?.counts.at(-1);
    return last ? gapMs - elapsed(last, scene.now).loMs : heldForStartMs;
  });
  const of = action.count.value;
  const between = coatsBetween(step, done);
  return draft({
    kind: 'coat',
    instances,
    phase: done === 0 ? 'begin' : 'go-on',
    dueInMs: Math.max(0, ...waits),
    busyMs: (paceOf(step, instances.length).medianMs * (between + 1)) / Math.max(1, of),
    more: { count: done + 1 + between, of, ...(between > 0 && { between }) },
  });
}

/**
 * How long one dwell should still run: until its target by the shortest time that may have passed, but no
 * longer than until its limit by the longest. Behind a gap the limit may come first. Where the press begins
 * a sweep, the hands may come to each subject only after all that the others take.
 */
function dwellWaitMs(
  scene: CaseNow,
  { key, step }: Instance,
  o: {
    readonly action: Extract<Action, { kind: 'dwell' }>;
    readonly sweep: SweepMs | null;
    readonly index: number;
  },
): number {
  const since = scene.state.runs[key]?.startedAt;
  if (!since) return 0;
  const own = step.action.kind === 'dwell' ? step.action : o.action;
  const longestMs = o.sweep?.longestMs ?? 0;
  const leftMs = untilMs(since, scene.now, own.targetMs.value).byShortest;
  if (own.maxMs === undefined) return leftMs;
  const room = untilMs(since, scene.now, own.maxMs.value);
  return Math.min(leftMs, room.byLongest - (o.sweep === null ? 0 : (o.index + 1) * longestMs));
}

function goOnOffers(scene: CaseNow, instances: readonly Instance[]): Draft[] {
  const { step } = present(instances[0], 'instance');
  const { action } = step;
  const busyMs = step.hands?.rinseMs.value ?? 0;
  switch (action.kind) {
    case 'dwell': {
      const swept = sweepOver(scene.layout, instances, 'end');
      const waits = instances.map((i, index) =>
        dwellWaitMs(scene, i, { action, sweep: swept, index }),
      );
      const dueInMs = Math.max(0, heldMs(scene, instances, 'end'), ...waits);
      const handsMs = swept === null ? busyMs : swept.longestMs * instances.length;
      return [draft({ kind: 'end', instances, phase: 'go-on', dueInMs, busyMs: handsMs })];
    }
    case 'coats':
      return [coatOffer(scene, instances, action, 0)];
    case 'tally':
      return tallyOffers(scene, instances, { passesMax: action.passesMax.value, heldMs: 0 });
    case 'confirm':
    case 'choose':
    case 'expose':
      return [];
    default:
      return unreachable(action);
  }
}

/** All passes with one press, or pass by pass; as many as were made, or none where none is needed. */
function tallyOffers(
  scene: CaseNow,
  instances: readonly Instance[],
  o: { readonly passesMax: number; readonly heldMs: number },
): Draft[] {
  const { passesMax, heldMs: dueInMs } = o;
  const first = present(instances[0], 'instance');
  const made = scene.state.runs[first.key]?.counts.length ?? 0;
  const phase = made === 0 ? 'begin' : 'go-on';
  const busyMs = paceOf(first.step, instances.length).medianMs;
  const base = { instances, phase, dueInMs, busyMs } as const;
  const pass = draft({ ...base, kind: 'pass', more: { count: made + 1, of: passesMax } });
  const done = draft({ ...base, kind: 'passes-done', more: { count: made, of: passesMax } });
  if (made >= passesMax) return [done, pass];
  if (made > 0) return [pass, done];
  const all = { ...base, busyMs: busyMs * passesMax, more: { count: passesMax, of: passesMax } };
  return [draft({ ...all, kind: 'all-passes' }), pass, done];
}

/**
 * Offers of a step whose round is pressed as one. Waits until the whole round can go. Where a way
 * back has put some of the round behind, those begin again beside the ones that go on.
 */
function togetherOffers(scene: CaseNow, round: readonly Instance[]): Draft[] {
  const having = (status: Status) => round.filter((i) => standing(scene, i) === status);
  if (having('blocked').length > 0) return [];
  const open = having('open');
  const running = having('running');
  const [first] = open.length > 0 ? open : running;
  if (first?.step.action.kind === 'coats') return catchUp(scene, open, running);
  return [
    ...(running.length > 0 ? goOnOffers(scene, running) : []),
    ...(open.length > 0 ? beginOffers(scene, open) : []),
  ];
}

/** The subjects with the fewest coats come first, until all of the round have as many. */
function catchUp(scene: CaseNow, open: readonly Instance[], running: readonly Instance[]): Draft[] {
  if (open.length > 0) return beginOffers(scene, open);
  const coats = (i: Instance) => scene.state.runs[i.key]?.counts.length ?? 0;
  const fewest = Math.min(...running.map(coats));
  return goOnOffers(
    scene,
    running.filter((i) => coats(i) === fewest),
  );
}

function singleOffers(scene: CaseNow, round: readonly Instance[]): Draft[] {
  const drafts: Draft[] = [];
  for (const instance of round) {
    const status = standing(scene, instance);
    if (status === 'running') drafts.push(...goOnOffers(scene, [instance]));
    else if (status === 'open') drafts.push(...beginOffers(scene, [instance]));
  }
  return drafts;
}

/** Open too where a press would speak for all that is in the way. */
function standing(scene: CaseNow, instance: Instance): Status {
  const status = scene.statuses.of(instance);
  return status === 'blocked' && impliedBy(scene, instance) !== null ? 'open' : status;
}

/** A dwell of which one press stands for a whole round at one of its edges. */
function sweptOffers(scene: CaseNow, round: readonly Instance[]): Draft[] {
  const having = (...found: readonly Status[]) =>
    round.filter((i) => found.includes(standing(scene, i)));
  const isStart = sweepOver(scene.layout, having('open'), 'start') !== null;
  const isEnd = sweepOver(scene.layout, having('open', 'running'), 'end') !== null;
  const isSwept = ({ offer: { kind } }: Draft) => (kind === 'start' ? isStart : isEnd);
  const running = having('running');
  const whole = togetherOffers(scene, round);
  // One that is held back does not keep the clocks of the others from being ended.
  const others = whole.length === 0 && running.length > 0 ? goOnOffers(scene, running) : whole;
  return [
    ...others.filter(isSwept),
    // An edge that is not swept is pressed subject by subject.
    ...singleOffers(scene, round).filter((each) => !isSwept(each)),
  ];
}

/** With what the same press says of earlier steps. */
function withImplied(scene: CaseNow, each: Draft): Draft {
  if (each.implied !== undefined || each.phase !== 'begin') return each;
  const implied = impliedByAll(scene, each.instances);
  return implied.steps.length === 0 && !implied.pass ? each : { ...each, implied };
}

/** The step and the teeth of a pass, as a press that confirms it names them. */
function ledBy(pass: LightPass) {
  const subjects = [...new Set(allLed(pass).map(({ subject }) => subject))];
  return { step: pass.step, subjects };
}

/** What earlier steps a press speaks for, step by step, and how long they keep the hands. */
function told({ state: { lightPass } }: CaseNow, each: Draft): Draft {
  const { implied } = each;
  if (implied === undefined) return each;
  const bySteps = byStepOf(implied.steps);
  const said = bySteps.map((list) => ({
    step: present(list[0], 'instance').step.id,
    subjects: list.map(({ subject }) => subject),
  }));
  const implies = [...(implied.pass && lightPass ? [ledBy(lightPass)] : []), ...said];
  const moreMs = bySteps.reduce((ms, list) => {
    const { step } = present(list[0], 'instance');
    return ms + paceOf(step, list.length).medianMs * (step.together ? 1 : list.length);
  }, 0);
  const offer = implies.length === 0 ? each.offer : { ...each.offer, implies };
  return { ...each, offer, busyMs: each.busyMs + moreMs };
}

function roundOffers(scene: CaseNow, round: readonly Instance[]): Draft[] {
  const { step } = present(round[0], 'instance');
  if (step.pressed?.kind === 'sweep' && step.action.kind === 'dwell') {
    return sweptOffers(scene, round);
  }
  return step.together ? togetherOffers(scene, round) : singleOffers(scene, round);
}

/** All that can be pressed at `scene.now`, in document order; what binds it is not known yet. */
export function draftsOf(scene: CaseNow): Draft[] {
  const drafts: Draft[] = [];
  for (const rounds of scene.layout.rounds.values()) {
    for (const round of rounds) {
      const { step } = present(round[0], 'instance');
      if (step.action.kind === 'expose') continue;
      drafts.push(...roundOffers(scene, round));
    }
  }
  drafts.push(...lightOffers(scene));
  const all = drafts.map((each) => told(scene, withImplied(scene, each)));
  const lists = listDrafts(scene, (line) => heldForPress(scene, line)).map((each) =>
    told(scene, withImplied(scene, each)),
  );
  if (lists.length === 0) return all;
  const taken = new Set(lists.flatMap((each) => each.instances));
  const isAlone = ({ step, instances }: Draft) =>
    listOf(step) === null || !instances.every((instance) => taken.has(instance));
  return [...lists, ...all.filter(isAlone)];
}
