/** What is wrong with a visit before it is noted. Codes are stable; an empty list: nothing. Pure. */
import { type Problem, problem } from '../base/problem.ts';
import { isDay } from './days.ts';
import type { BondedUnit, Finding, FollowUp, UnitFound, Visit } from './follow-up-types.ts';
import { foundOf, isBack, isGone, isSeen, isWholeSeen, looksAt } from './found.ts';

const VISIT_FAULTS = [
  'no-examiner',
  'no-units',
  'not-a-day',
  'before-bonding',
  'in-future',
  'no-finding',
  'stands-alone',
  'unit-unknown',
  'unit-twice',
  'tooth-unknown',
  'done-without-finding',
  'stated-without-finding',
  'stated-day-before-last-seen',
  'stated-day-after-visit',
  'seen-after-stated-day',
  'noted-that-day',
  'seen-after-gone',
  'gone-before-seen',
] as const;

export type VisitFault = (typeof VISIT_FAULTS)[number];

const fault = (code: VisitFault, place: string, came: unknown): Problem =>
  problem(place, EXPECTED[code], came, code);

const EXPECTED: Readonly<Record<VisitFault, string>> = {
  'no-examiner': 'who looked',
  'no-units': 'at least one unit',
  'not-a-day': 'a calendar day',
  'before-bonding': 'a day on or after the bonding',
  'in-future': 'a day up to today',
  'no-finding': 'at least one finding',
  'stands-alone': '"in place" and "not seen" to stand alone',
  'unit-unknown': 'a unit of the case',
  'unit-twice': 'each unit once',
  'tooth-unknown': 'a tooth that the unit is bonded to, once',
  'done-without-finding': 'something that was found',
  'stated-without-finding': 'something that was found',
  'stated-day-before-last-seen': 'a day after it was last seen in place',
  'stated-day-after-visit': 'a day up to the visit',
  'seen-after-stated-day': 'nothing seen in place after the day that the patient stated',
  'noted-that-day': 'no other visit of that day that looked at the unit',
  'seen-after-gone': 'nothing seen where an earlier visit found the unit gone',
  'gone-before-seen': 'nothing gone that the next visit found in place, unless it was bonded again',
};

const ALONE: ReadonlySet<Finding> = new Set(['in-place', 'not-seen']);

/** Whether something was found that ends or mars a life. */
const hasEvent = (unit: UnitFound): boolean =>
  [...foundOf(unit)].some((finding) => !ALONE.has(finding));

function findingFaults(place: string, findings: readonly Finding[]): readonly Problem[] {
  if (findings.length === 0) return [fault('no-finding', place, findings)];
  const mixed = findings.length > 1 && findings.some((finding) => ALONE.has(finding));
  return mixed ? [fault('stands-alone', place, findings)] : [];
}

function retainerFaults(
  place: string,
  { retainers = [] }: UnitFound,
  { teeth }: BondedUnit,
): readonly Problem[] {
  const named = retainers.map(({ tooth }) => tooth);
  return retainers.flatMap(({ tooth, findings }, at) => {
    const here = `${place}.retainers[${at}]`;
    const isKnown = teeth.includes(tooth) && named.indexOf(tooth) === at;
    return [
      ...(isKnown ? [] : [fault('tooth-unknown', here, tooth)]),
      ...findingFaults(here, findings),
    ];
  });
}

interface Scene {
  readonly visit: Visit;
  /** The other visits of the case. */
  readonly others: readonly Visit[];
  /** What it said so far, of one that is corrected. */
  readonly was?: Visit | undefined;
}

/** The last day before this visit on which the unit was seen where it was bonded; null where it was not. */
export function lastInPlace({ visit, others }: Scene, unit: string): string | null {
  const last = looksAt(others, unit).findLast(
    ({ onDay, found }) => onDay < visit.onDay && isWholeSeen(found) && !isGone(found),
  );
  return last?.onDay ?? null;
}

const isBondedAgainOn = (
  { others }: Scene,
  at: { readonly unit: string; readonly onDay: string },
): boolean =>
  others.some(
    ({ onDay, units }) =>
      onDay === at.onDay &&
      units.some(({ unit, done }) => unit === at.unit && done === 'bonded-again'),
  );

/** Another visit of that day looked at it too: that one is to be corrected. */
function twiceFaults(place: string, found: UnitFound, o: Scene): readonly Problem[] {
  const { onDay } = o.visit;
  const isToldIn = (visits: readonly Visit[]): boolean =>
    looksAt(visits, found.unit).some((look) => look.onDay === onDay);
  // Two tablets noted it twice: one that told of it before may be made to agree.
  const wasTold = o.was !== undefined && isToldIn([o.was]);
  const isTwice = isSeen(found) && !wasTold && isToldIn(o.others);
  return isTwice ? [fault('noted-that-day', place, onDay)] : [];
}

/** The visit before found it gone, or this one does and the next found it in place; and nothing says that it was bonded again. */
function goneFaults(place: string, found: UnitFound, o: Scene): readonly Problem[] {
  const { onDay } = o.visit;
  const looks = looksAt(o.others, found.unit);
  const before = looks.findLast((look) => look.onDay < onDay)?.found;
  const next = looks.find((look) => look.onDay > onDay)?.found;
  return [
    ...(isBack(found) && before !== undefined && isGone(before)
      ? [fault('seen-after-gone', place, onDay)]
      : []),
    ...(isGone(found) && next !== undefined && isBack(next)
      ? [fault('gone-before-seen', place, onDay)]
      : []),
  ];
}

/** The day that the patient states lies in (last seen in place, visit]; it may be the day of the bonding. */
function statedFaults(
  place: string,
  found: UnitFound,
  o: Scene & { readonly bondedOn: string; readonly hasDay: boolean },
): readonly Problem[] {
  const { statedDay } = found;
  if (statedDay === undefined) return [];
  const here = `${place}.statedDay`;
  if (!isDay(statedDay)) return [fault('not-a-day', here, statedDay)];
  if (!hasEvent(found)) return [fault('stated-without-finding', here, statedDay)];
  // Held against a day that is wrong itself it would be told a second time.
  if (!o.hasDay) return [];
  if (statedDay > o.visit.onDay) return [fault('stated-day-after-visit', here, statedDay)];
  const seen = lastInPlace(o, found.unit);
  // Of what was bonded on that day and not seen since, the loss may lie on the evening of it.
  const isBonding = seen === null || isBondedAgainOn(o, { unit: found.unit, onDay: seen });
  const from = seen ?? o.bondedOn;
  return statedDay > from || (isBonding && statedDay === from)
    ? []
    : [fault('stated-day-before-last-seen', here, statedDay)];
}

/** A later visit whose patient states a day on or before this one, at which the unit was in place. */
function contradictedFaults(place: string, found: UnitFound, o: Scene): readonly Problem[] {
  if (!isWholeSeen(found) || isGone(found)) return [];
  const { onDay } = o.visit;
  const later = o.others.some(
    (other) =>
      other.onDay > onDay &&
      other.units.some((u) => u.unit === found.unit && (u.statedDay ?? other.onDay) <= onDay),
  );
  return later ? [fault('seen-after-stated-day', place, onDay)] : [];
}

function unitFaults(
  found: UnitFound,
  o: Scene & {
    readonly place: string;
    readonly bonded: BondedUnit;
    readonly bondedOn: string;
    readonly hasDay: boolean;
  },
): readonly Problem[] {
  const { place, bonded } = o;
  const isDone = found.done !== undefined || found.bondedAgainIn !== undefined;
  return [
    ...findingFaults(`${place}.findings`, found.findings),
    ...retainerFaults(place, found, bonded),
    ...(isDone && !hasEvent(found)
      ? [fault('done-without-finding', `${place}.done`, found.done)]
      : []),
    ...statedFaults(place, found, o),
    ...contradictedFaults(place, found, o),
    ...twiceFaults(place, found, o),
    ...goneFaults(place, found, o),
  ];
}

function dayFaults(onDay: string, o: { readonly bondedOn: string; readonly today: string }) {
  if (!isDay(onDay)) return [fault('not-a-day', 'visit.onDay', onDay)];
  if (onDay < o.bondedOn) return [fault('before-bonding', 'visit.onDay', onDay)];
  return onDay > o.today ? [fault('in-future', 'visit.onDay', onDay)] : [];
}

/**
 * Everything that is wrong with a visit of a case.
 * @param o.replaces the entry that it corrects; absent for a new visit.
 */
export function checkVisit(
  visit: Visit,
  o: { readonly followUp: FollowUp; readonly today: string; readonly replaces?: string },
): readonly Problem[] {
  const { bonded, visits } = o.followUp;
  const { bondedOn = '', units = [] } = bonded ?? {};
  const others = visits.filter(({ id }) => id !== o.replaces).map((kept) => kept.visit);
  const was = visits.find(({ id }) => id === o.replaces)?.visit;
  const named = visit.units.map(({ unit }) => unit);
  const ofDay = dayFaults(visit.onDay, { bondedOn, today: o.today });
  const hasDay = ofDay.length === 0;
  return [
    ...(visit.examiner.trim() === '' ? [fault('no-examiner', 'visit.examiner', '')] : []),
    ...(visit.units.length === 0 ? [fault('no-units', 'visit.units', [])] : []),
    ...ofDay,
    ...visit.units.flatMap((found, at) => {
      const place = `visit.units[${at}]`;
      if (named.indexOf(found.unit) !== at) return [fault('unit-twice', place, found.unit)];
      const own = units.find(({ unit }) => unit === found.unit);
      if (own === undefined) return [fault('unit-unknown', place, found.unit)];
      return unitFaults(found, { place, bonded: own, bondedOn, hasDay, visit, others, was });
    }),
  ];
}
