/**
 * What could be pressed now, step by step: for each step the offers of its current round, with how
 * long they should still wait. Ranking is done in `agenda.ts`. Times in ms.
 */
import { present, unreachable } from '../base/assert.ts';
import { paceOf } from '../protocol/pace.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Action } from '../protocol/types.ts';
import { elapsed } from './axis.ts';
import { edgeInstant } from './edge-instant.ts';
import type { Instance } from './layout.ts';
import { lightOffers } from './light-offers.ts';
import type { CaseNow, Draft } from './offer-draft.ts';
import type { Status } from './status.ts';
import type { Offer } from './view-types.ts';

function offerId(kind: Offer['kind'], step: string, subjects: readonly SubjectId[]): string {
  return `${kind} ${step} ${subjects.join(' ')}`;
}

/** Longest wait that windows with a minimum still ask of this edge of these instances. */
function heldMs(scene: CaseNow, instances: readonly Instance[], edge: 'start' | 'end'): number {
  const waits = instances.flatMap((instance) =>
    (scene.layout.windowsTo.get(instance.key) ?? []).map(({ window, from }) => {
      const since = edgeInstant(scene.state.runs[from], window.from.edge);
      if (!since || window.to.edge !== edge || !window.minMs) return 0;
      return window.minMs.value - elapsed(since, scene.now).loMs;
    }),
  );
  return Math.max(0, ...waits);
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
  const first = present(o.instances[0], 'instance');
  const subjects = o.instances.map((i) => i.subject);
  const tail = o.more?.option ? `${o.more.option}` : '';
  return {
    offer: {
      id: `${offerId(o.kind, first.step.id, subjects)}${tail}`,
      step: first.step.id,
      subjects,
      kind: o.kind,
      dueInMs: o.dueInMs,
      ...o.more,
    },
    instances: o.instances,
    step: first.step,
    round: first.round,
    phase: o.phase,
    busyMs: o.busyMs,
  };
}

function beginOffers(scene: CaseNow, instances: readonly Instance[]): Draft[] {
  const { step } = present(instances[0], 'instance');
  const { action } = step;
  const base = {
    instances,
    phase: 'begin',
    busyMs: paceOf(step, instances.length).medianMs,
  } as const;
  const held = heldMs(scene, instances, 'start');
  switch (action.kind) {
    case 'confirm':
      return [draft({ ...base, kind: 'confirm', dueInMs: heldForPress(scene, instances) })];
    case 'dwell': {
      const busyMs = step.hands?.applyMs.value ?? 0;
      return [draft({ ...base, busyMs, kind: 'start', dueInMs: held })];
    }
    case 'coats':
      return [coatOffer(scene, instances, action, held)];
    case 'tally':
      return tallyOffers(scene, instances, { passesMax: action.passesMax.value, heldMs: held });
    case 'choose':
      return action.options.map((o) =>
        draft({ ...base, kind: 'choose', dueInMs: held, more: { option: o.id } }),
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
  return draft({
    kind: 'coat',
    instances,
    phase: done === 0 ? 'begin' : 'go-on',
    dueInMs: Math.max(0, ...waits),
    busyMs: paceOf(step, instances.length).medianMs / Math.max(1, of),
    more: { count: done + 1, of },
  });
}

/**
 * How long one dwell should still run: until its target by the shortest time that may have passed, but no
 * longer than until its limit by the longest. Behind a gap the limit may come first.
 */
function dwellWaitMs(
  scene: CaseNow,
  { key, step }: Instance,
  action: Extract<Action, { kind: 'dwell' }>,
): number {
  const since = scene.state.runs[key]?.startedAt;
  if (!since) return 0;
  const own = step.action.kind === 'dwell' ? step.action : action;
  const { loMs, hiMs } = elapsed(since, scene.now);
  const leftMs = own.targetMs.value - loMs;
  return own.maxMs === undefined ? leftMs : Math.min(leftMs, own.maxMs.value - hiMs);
}

function goOnOffers(scene: CaseNow, instances: readonly Instance[]): Draft[] {
  const { step } = present(instances[0], 'instance');
  const { action } = step;
  const busyMs = step.hands?.rinseMs.value ?? 0;
  switch (action.kind) {
    case 'dwell': {
      const waits = instances.map((i) => dwellWaitMs(scene, i, action));
      const dueInMs = Math.max(0, heldMs(scene, instances, 'end'), ...waits);
      return [draft({ kind: 'end', instances, phase: 'go-on', dueInMs, busyMs })];
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
  const having = (status: Status) => round.filter((i) => scene.statuses.of(i) === status);
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
  return round.flatMap((instance) => {
    const status = scene.statuses.of(instance);
    if (status === 'running') return goOnOffers(scene, [instance]);
    return status === 'open' ? beginOffers(scene, [instance]) : [];
  });
}

/** All that can be pressed at `scene.now`, in document order. */
export function draftsOf(scene: CaseNow): Draft[] {
  const work = [...scene.layout.rounds].flatMap(([, rounds]) =>
    rounds.flatMap((round) => {
      const { step } = present(round[0], 'instance');
      if (step.action.kind === 'expose') return [];
      return step.together ? togetherOffers(scene, round) : singleOffers(scene, round);
    }),
  );
  return [...work, ...lightOffers(scene)];
}
