/**
 * Ways back where it depends on a step that nobody pressed yet because a later press would say it: cement is
 * mixed, nobody pressed that the unit is loaded, and it falls. Then people are asked whether it was done, and
 * either answer is a way back of its own. Proposes only; people decide.
 */
import type { SubjectId } from '../protocol/subjects.ts';
import type { Mishap, Protocol, WayBack } from '../protocol/types.ts';
import { FRESH } from './apply-run.ts';
import { byStepOf, type Instance, instanceKey, type Layout } from './layout.ts';
import type { ListLine } from './pressing-types.ts';
import { applies, StatusReader } from './status.ts';
import type { CaseState, InstanceKey, StepRun } from './types.ts';
import { type WayBackOffer, waysBackNow } from './ways-back.ts';

interface Situation {
  readonly state: CaseState;
  readonly layout: Layout;
}

type Done = Pick<ListLine, 'step' | 'subjects'>;

/** What is asked before a way back is taken, and which one either answer takes; null where none fits then. */
export interface WayBackQuestion {
  readonly done: readonly Done[];
  readonly yes: WayBackOffer;
  readonly no: WayBackOffer | null;
}

const hingesKnown = new WeakMap<WayBack, readonly string[]>();

/** Steps said by a later press that a way back reads: whether it begins, ends, voids or opens something. */
function hingesOf({ steps }: Protocol, wayBack: WayBack): readonly string[] {
  const hit = hingesKnown.get(wayBack);
  if (hit) return hit;
  const { id, from, until, voids } = wayBack;
  const read = new Set([from?.step, until?.step, ...voids.map(({ onlyAfter }) => onlyAfter)]);
  for (const { onlyIf = [] } of steps) {
    for (const c of onlyIf) if ('wayBack' in c && c.wayBack === id) read.add(c.voided);
  }
  const hinges = steps.flatMap((s) =>
    s.pressed?.kind === 'implied' && read.has(s.id) ? [s.id] : [],
  );
  hingesKnown.set(wayBack, hinges);
  return hinges;
}

/** Adds an instance that may have been done unpressed, behind what must have been done before it. */
function addPerhaps(
  { state, layout, statuses }: Situation & { readonly statuses: StatusReader },
  instance: Instance,
  found: Map<InstanceKey, Instance>,
): boolean {
  const { key, step } = instance;
  if (found.has(key)) return true;
  const status = statuses.of(instance);
  if (step.pressed?.kind !== 'implied' || step.action.kind !== 'confirm') return false;
  if (status !== 'open' && status !== 'blocked') return false;
  if (applies(state, layout, instance) !== 'yes') return false;
  const isMet = (other: Instance | undefined): boolean => {
    if (other === undefined) return true;
    const its = statuses.of(other);
    if (its === 'done' || its === 'skipped') return true;
    if (its !== 'not-applicable') return addPerhaps({ state, layout, statuses }, other, found);
    return other.needs.every((need) => isMet(layout.byKey.get(need.key)));
  };
  const missing = status === 'blocked' ? statuses.missing(instance) : [];
  if (!missing.every((need) => need.edge === 'end' && isMet(layout.byKey.get(need.key)))) {
    return false;
  }
  found.set(key, instance);
  return true;
}

/** What may have been done unpressed of the steps that these ways back read, in the order of the hands. */
function perhapsDone(
  scene: Situation & { readonly statuses?: StatusReader },
  ways: readonly WayBack[],
  subjects: readonly SubjectId[],
): readonly Instance[] {
  const { layout } = scene;
  const hinges = ways.flatMap((way) => hingesOf(layout.protocol, way));
  if (hinges.length === 0) return [];
  const read = { ...scene, statuses: scene.statuses ?? new StatusReader(scene.state, layout) };
  const found = new Map<InstanceKey, Instance>();
  for (const { id, per } of layout.protocol.steps.filter((s) => hinges.includes(s.id))) {
    for (const subject of subjects.flatMap((s) => layout.subjects.linked(s, per))) {
      const instance = layout.byKey.get(instanceKey(id, subject));
      const own = new Map(found);
      if (instance === undefined || !addPerhaps(read, instance, own)) continue;
      for (const [key, each] of own) found.set(key, each);
    }
  }
  return [...found.values()];
}

/** The case as it would stand if these were done. */
export function withDone(state: CaseState, instances: readonly Instance[]): CaseState {
  const at = state.anchor.at;
  const run: StepRun = {
    ...FRESH,
    status: 'done',
    startedAt: at,
    endedAt: at,
    pressed: 'implied',
  };
  const runs = Object.fromEntries(instances.map(({ key }) => [key, run]));
  return { ...state, runs: { ...state.runs, ...runs } };
}

const doneOf = (instances: readonly Instance[]): readonly Done[] =>
  byStepOf(instances).map((own) => ({
    step: own[0]?.step.id ?? '',
    subjects: own.map(({ subject }) => subject),
  }));

/** The way back itself where it fits any of these, else another one for the same mishap. */
function fitting(offers: readonly WayBackOffer[], asked: WayBackOffer): WayBackOffer | null {
  const own = (offer: WayBackOffer): WayBackOffer | null => {
    const subjects = asked.subjects.filter((s) => offer.subjects.includes(s));
    return subjects.length === 0 ? null : { wayBack: offer.wayBack, subjects };
  };
  const itself = offers.find(({ wayBack }) => wayBack.id === asked.wayBack.id);
  const found = itself === undefined ? null : own(itself);
  if (found !== null) return found;
  const { mishap, per } = asked.wayBack;
  for (const offer of offers) {
    if (offer.wayBack.mishap !== mishap || offer.wayBack.per !== per) continue;
    const other = own(offer);
    if (other !== null) return other;
  }
  return null;
}

/** What must be known before this way back is taken for these; null where nothing has to be asked. */
export function wayBackQuestion(scene: Situation, asked: WayBackOffer): WayBackQuestion | null {
  const { state, layout } = scene;
  const { mishap, per } = asked.wayBack;
  const kin = layout.protocol.waysBack.filter((w) => w.mishap === mishap && w.per === per);
  const done = perhapsDone(scene, kin, asked.subjects);
  if (done.length === 0) return null;
  const yes = fitting(waysBackNow(withDone(state, done), layout, mishap), asked);
  if (yes === null) return null;
  const no = fitting(waysBackNow(state, layout, mishap), asked);
  const hinges = hingesOf(layout.protocol, yes.wayBack);
  // What neither answer reads is not asked.
  if (no?.wayBack === yes.wayBack && !done.some(({ step }) => hinges.includes(step.id)))
    return null;
  return { done: doneOf(done), yes, no };
}

/** What taking a way back confirms first, where people say that it was done. */
export function doneUnpressed(scene: Situation, wayBack: WayBack, subjects: readonly SubjectId[]) {
  const { mishap, per } = wayBack;
  const { waysBack } = scene.layout.protocol;
  const kin = waysBack.filter((w) => w.mishap === mishap && w.per === per);
  return perhapsDone(scene, kin, subjects);
}

/** The ways back that fit now, and those that would if what nobody pressed yet was done. */
export function waysBackOffered(
  state: CaseState,
  layout: Layout,
  mishap?: Mishap,
): readonly WayBackOffer[] {
  const statuses = new StatusReader(state, layout);
  const now = new Map(waysBackNow(state, layout, mishap).map((o) => [o.wayBack.id, o]));
  return layout.protocol.waysBack.flatMap((wayBack): WayBackOffer[] => {
    if (mishap !== undefined && wayBack.mishap !== mishap) return [];
    const fits = now.get(wayBack.id)?.subjects ?? [];
    const more = layout.subjects.order[wayBack.per].filter((subject) => {
      if (fits.includes(subject)) return false;
      const done = perhapsDone({ state, layout, statuses }, [wayBack], [subject]);
      if (done.length === 0) return false;
      const then = waysBackNow(withDone(state, done), layout, wayBack.mishap);
      return then.some((o) => o.wayBack.id === wayBack.id && o.subjects.includes(subject));
    });
    const all = layout.subjects.order[wayBack.per].filter(
      (s) => fits.includes(s) || more.includes(s),
    );
    return all.length === 0 ? [] : [{ wayBack, subjects: all }];
  });
}
