/**
 * What one case bonded, as it stood when it was signed: the units that were seated and not set aside, each
 * with whether its limits were kept. A visit that seats nothing bonds nothing: preparation and finishing
 * have no step that puts cement into a unit and none that gives light. Pure: the log of a closed case in.
 */
import { edgeInstant } from '../engine/edge-instant.ts';
import type { Instance } from '../engine/layout.ts';
import type { CaseLog } from '../engine/log.ts';
import { isLoading } from '../engine/mix-windows.ts';
import type { CaseInstant, CaseState } from '../engine/types.ts';
import type { BondedCase, BondedUnit } from '../outcomes/follow-up-types.ts';
import type { Unit } from '../protocol/case-types.ts';
import { unitSubject } from '../protocol/subjects.ts';
import type { Protocol, Step } from '../protocol/types.ts';
import { dayIn, type ZoneName } from '../words/zone.ts';
import { type Judged, judgedLimits, limitsOf } from './bonded-limits.ts';
import { namedMaterials, typedLots } from './named-materials.ts';
import { type RecordFrame, recordFrame } from './record-frame.ts';
import { stepFacts } from './record-steps.ts';
import { windowFacts } from './record-windows.ts';

/** Steps that put cement into a unit: the loading that is read aloud, else what uses a slot of a portion. */
function loadingSteps({ steps }: Protocol): readonly Step[] {
  const read = steps.filter(isLoading);
  if (read.length > 0) return read;
  const portions = new Set(steps.flatMap(({ per, uses = [] }) => (per === 'mix' ? uses : [])));
  return steps.filter(({ per, uses = [] }) => per === 'unit' && uses.some((s) => portions.has(s)));
}

/** Steps after which a unit is where it is to stay: those right behind the loading, else the loading itself. */
function seatingSteps(protocol: Protocol): readonly Step[] {
  const loads = loadingSteps(protocol);
  const seats = protocol.steps.filter(
    ({ per, after }) =>
      per === 'unit' &&
      after.some(({ link, step }) => link === 'same' && loads.some(({ id }) => id === step)),
  );
  return seats.length > 0 ? seats : loads;
}

/** The presses that set everything aside that was left of a unit, and those that stopped the visit. */
interface Left {
  readonly setAside: ReadonlySet<string>;
  readonly isStopped: boolean;
}

/** Units of which the last that was left was skipped together, without the visit being stopped. */
function leftIn({ log, state, layout }: Scene): Left {
  const taken = new Set(
    log.records.flatMap(({ event }) => (event.type === 'press-retracted' ? [event.press] : [])),
  );
  const counted = log.records.filter(({ press }) => !taken.has(press));
  const stops = new Set(
    counted.flatMap(({ event, press }) => (event.type === 'visit-stopped' ? [press] : [])),
  );
  const skips = new Map<number, Set<string>>();
  for (const { event, press } of counted) {
    if (event.type !== 'step-skipped' || stops.has(press)) continue;
    const keys = skips.get(press) ?? new Set<string>();
    for (const subject of event.subjects) keys.add(`${event.step}@${subject}`);
    skips.set(press, keys);
  }
  const setAside = state.plan.order.filter((unit) => {
    const own = exclusiveTo(layout.instances, { layout, unit });
    const isSkipped = ({ key }: Instance): boolean => state.runs[key]?.status === 'skipped';
    const last = own.filter((i) => i.step.action.kind === 'expose' || i.step.per === 'unit').at(-1);
    if (last === undefined || !isSkipped(last)) return false;
    // One step that is skipped by itself is no unit that is set aside.
    return [...skips.values()].some(
      (keys) => keys.has(last.key) && own.filter(({ key }) => keys.has(key)).length > 1,
    );
  });
  return { setAside: new Set(setAside), isStopped: stops.size > 0 };
}

interface Scene extends Pick<RecordFrame, 'layout'> {
  readonly log: CaseLog;
  readonly state: CaseState;
}

const exclusiveTo = (
  instances: readonly Instance[],
  { layout, unit }: Pick<Scene, 'layout'> & { readonly unit: string },
): readonly Instance[] =>
  instances.filter(({ subject }) => {
    const units = layout.subjects.linked(subject, 'unit');
    return units.length === 1 && units[0] === unitSubject(unit);
  });

/** When a unit was seated for good; null where it was not, or did not stay. */
function seatedAt(scene: Scene, unit: string, { setAside, isStopped }: Left): CaseInstant | null {
  const { layout, state } = scene;
  if (setAside.has(unit)) return null;
  const subject = unitSubject(unit);
  const lights = layout.instances.filter(
    (i) =>
      i.step.action.kind === 'expose' &&
      layout.subjects.linked(i.subject, 'unit').includes(subject),
  );
  const lit = lights.flatMap(({ key }) => state.lightEnds[key] ?? []);
  const seats = seatingSteps(layout.protocol);
  const seated = seats.flatMap(
    ({ id }) => edgeInstant(state.runs[`${id}@${subject}`], 'end') ?? [],
  );
  // A visit that was stopped before any light fell on it: what holds it is not known to have stayed.
  if (isStopped && lights.length > 0 && lit.length === 0) return null;
  // A protocol that names no loading bonds what it gives light to.
  return (seats.length > 0 ? seated : lit).at(-1) ?? null;
}

function bondedUnit(frame: RecordFrame, unit: Unit, judged: readonly Judged[]): BondedUnit {
  const { id, teeth, pontics = [], restoration, material } = unit;
  const retainers = teeth.filter((tooth) => !pontics.includes(tooth));
  return {
    unit: id,
    teeth: retainers,
    isBridge: pontics.length > 0 || retainers.length > 1,
    restoration,
    material,
    limits: limitsOf(frame, unitSubject(id), judged),
  };
}

/** Every lot that was used, once; typed ones too. */
function lotsOf({
  log,
  protocol,
}: Pick<Scene, 'log'> & { readonly protocol: Protocol }): BondedCase['lots'] {
  const classOf = new Map(protocol.slots.map(({ id, materialClass }) => [id, materialClass]));
  const named = namedMaterials(log)
    .filter(({ usedFor }) => usedFor.length > 0)
    .map(({ materialClass, lot }) => ({ materialClass, lot: lot?.trim() ?? '' }));
  const typed = typedLots(log.state)
    .filter(({ usedFor }) => usedFor.length > 0)
    .map(({ slot, lot }) => ({ materialClass: classOf.get(slot) ?? slot, lot }));
  const all = [...named, ...typed].filter(({ lot }) => lot !== '');
  const texts = all.map(({ materialClass, lot }) => `${materialClass}\n${lot}`);
  return all.filter((_, at) => texts.indexOf(texts[at] ?? '') === at);
}

/**
 * What a case bonded, with what is known of it at its signature. Null: it is a rehearsal, is not closed, or
 * seated nothing.
 * @param o.clinicZone in which the day of a case is told that names no zone.
 */
export function bondedCase(log: CaseLog, o: { readonly clinicZone?: ZoneName }): BondedCase | null {
  const { opened, closed } = log.state;
  if (closed === null || opened.mode !== 'patient') return null;
  const verification = { goodCount: log.records.length, firstBad: null };
  const zone = o.clinicZone === undefined ? {} : { clinicZone: o.clinicZone };
  const frame = recordFrame({ log, entries: [], verification, ...zone });
  const { state, layout, spec, protocol } = frame;
  const scene: Scene = { log, state, layout };
  const left = leftIn(scene);
  const seated = spec.units.flatMap((unit) => {
    const at = seatedAt(scene, unit.id, left);
    return at === null ? [] : [{ unit, at }];
  });
  if (seated.length === 0) return null;
  const judged = judgedLimits({ windows: windowFacts(frame), steps: stepFacts(frame) });
  const lastMs = Math.max(...seated.map(({ at }) => at.loMs));
  return {
    what: 'bonded',
    patient: spec.chartRef,
    title: spec.title,
    bondedOn: dayIn(frame.openedWallMs + lastMs, frame.zone.name),
    protocol: {
      id: protocol.id,
      title: protocol.title,
      revision: protocol.revision,
      hash: opened.protocolHash,
    },
    people: spec.people.map(({ role, label }) => ({ role, label })),
    lots: lotsOf({ log, protocol }),
    units: seated.map(({ unit }) => bondedUnit(frame, unit, judged)),
  };
}
