/**
 * Lives from what was noted: one for each bonding of each unit, with what is known of its end for each end
 * point. Retention ends where the unit or a retainer of it is loose; survival where it is lost for good or
 * replaced; success at any finding that wants something done. A visit at which it was not looked at says
 * nothing. The rules are this project's own and have no source; the day that a patient states is exact.
 */
import { addDays, daysBetween } from './days.ts';
import type { BondedCase, BondedUnit, FollowUp, UnitFound } from './follow-up-types.ts';
import { asOneDay, foundOf, isLoose, isWholeSeen, type Look, looksAt } from './found.ts';
import { type LaterBonding, laterBondings, writings } from './later-bondings.ts';
import type { EndPoint, Life, LifeEnd, Timed } from './life-types.ts';
import { originOf } from './origin.ts';
import { END_POINTS } from './vocabulary.ts';

type Event = LifeEnd['event'];

/**
 * What one sight of a unit says for an end point. The life goes on at `none`.
 * @param o.isSaved it was bonded again, at that visit or later, also as another case.
 */
function eventOf(
  unit: UnitFound,
  { endPoint, isSaved }: { readonly endPoint: EndPoint; readonly isSaved: boolean },
): Event {
  const found = foundOf(unit);
  const isReplaced = unit.done === 'replaced';
  const isHurt = found.has('fractured') || found.has('caries');
  const isMarred = found.has('chipped') || found.has('margin-stained') || found.has('sensitive');
  const isTaken = found.has('replaced-other') || found.has('tooth-lost');
  // Whatever was replaced, or taken off to be bonded again, is no longer there to be looked at.
  const isOff = isTaken || isReplaced || unit.done === 'bonded-again';
  switch (endPoint) {
    case 'retention':
      return isLoose(found) ? 'event' : isOff ? 'competing' : 'none';
    case 'survival': {
      if (unit.done === 'bonded-again') return 'none';
      if (isLoose(found) && (!isSaved || isReplaced)) return 'event';
      if (isHurt && isReplaced) return 'event';
      return isOff ? 'competing' : 'none';
    }
    case 'success':
      if (isLoose(found) || isHurt || isMarred) return 'event';
      return isOff ? 'competing' : 'none';
  }
}

/** One sight of a unit, days from its bonding. */
interface Sight {
  readonly day: number;
  readonly stated: number | null;
  readonly unit: UnitFound;
}

interface Bonding {
  readonly id: string;
  readonly bondedOn: string;
  readonly seenFrom: string | null;
  readonly sights: readonly Sight[];
  /** The day from which another bonding is what stands on its tooth; null where none is. */
  readonly until: string | null;
}

/** The day from which it was looked after: of a unit from before the app the first on which it was looked at. */
function entryOf({ bondedOn, seenFrom }: Bonding): number {
  return seenFrom === null ? 0 : Math.max(0, daysBetween(bondedOn, seenFrom));
}

/**
 * What is known of the end. Null: at first sight it was over already. A stated day counts where it lies in
 * (last seen, visit]; a later entry may have taken that away, and then only the visits count.
 */
function endOf(bonding: Bonding, endPoint: EndPoint): LifeEnd | null {
  const entryDay = entryOf(bonding);
  const isSaved = bonding.until !== null || bonding.sights.some(isAgain);
  let afterDay = entryDay;
  // Of one that was not seen since, the day of the bonding itself can be the day of the loss.
  let isUnseen = entryDay === 0;
  for (const { day, stated, unit } of bonding.sights) {
    const event = eventOf(unit, { endPoint, isSaved });
    if (event === 'none') {
      // What was seen of a part of it says nothing of the rest.
      if (!isWholeSeen(unit)) continue;
      afterDay = Math.max(afterDay, day);
      isUnseen = false;
      continue;
    }
    if (entryDay > 0 && day <= entryDay) return null;
    const isLater = stated !== null && (stated > afterDay || (isUnseen && stated === 0));
    const isExact = isLater && stated <= day;
    return isExact
      ? { event, afterDay: stated, byDay: stated }
      : { event, afterDay, byDay: Math.max(day, afterDay) };
  }
  return { event: 'none', afterDay, byDay: null };
}

const isAgain = ({ unit }: Sight): boolean => unit.done === 'bonded-again';

/** What was seen of one unit, day by day; up to the day on which another case took its place. */
function seenOf(
  visits: FollowUp['visits'],
  o: { readonly unit: string; readonly later: LaterBonding | null },
): readonly Look[] {
  const { unit, later } = o;
  const byOnDay = new Map<string, UnitFound>();
  const looks = looksAt(
    visits.map(({ visit }) => visit),
    unit,
  );
  for (const { onDay: lookedOn, found } of looks) {
    const isPast = later !== null && lookedOn > later.bondedOn;
    // One that was written down later names the case that took its place.
    const isNamed = later !== null && found.bondedAgainIn === later.caseId;
    if (isPast && !isNamed) continue;
    const onDay = isPast ? later.bondedOn : lookedOn;
    const known = byOnDay.get(onDay);
    byOnDay.set(onDay, known === undefined ? found : asOneDay(known, found));
  }
  return [...byOnDay].map(([onDay, found]) => ({ onDay, found }));
}

/** The bondings of one unit under one case: its own, and those again that have no case of their own. */
function bondingsOf(
  { caseId, visits }: FollowUp,
  o: {
    readonly bonded: BondedCase;
    readonly unit: string;
    readonly hasCase: (caseId: string) => boolean;
    readonly later: LaterBonding | null;
  },
): readonly Bonding[] {
  const { bonded, unit, later } = o;
  const until = later?.bondedOn ?? null;
  let left = seenOf(visits, { unit, later });
  const bondings: Bonding[] = [];
  let [bondedOn, seenFrom] = [bonded.bondedOn, bonded.seenFrom ?? null];
  for (let n = 1; ; n += 1) {
    const sights = left.map(({ onDay, found }): Sight => {
      const stated = found.statedDay === undefined ? null : daysBetween(bondedOn, found.statedDay);
      return { day: daysBetween(bondedOn, onDay), stated, unit: found };
    });
    const id = n === 1 ? `${caseId}/${unit}` : `${caseId}/${unit}#${n}`;
    const at = sights.findIndex(isAgain);
    const own = at < 0 ? sights : sights.slice(0, at + 1);
    const again = left[at];
    const over =
      again === undefined || (until !== null && until < again.onDay) ? until : again.onDay;
    bondings.push({ id, bondedOn, seenFrom, sights: own, until: over });
    // What was bonded with a case of its own is told by that.
    const { bondedAgainIn } = again?.found ?? {};
    if (again === undefined) return bondings;
    if (bondedAgainIn !== undefined && o.hasCase(bondedAgainIn)) return bondings;
    if (until !== null && again.onDay >= until) return bondings;
    left = left.slice(at + 1);
    bondedOn = again.onDay;
    seenFrom = null;
  }
}

/**
 * Up to when it could have been seen: today, the day on which another bonding took its place, and of what was left of a
 * deleted case the end that was kept with it, or its last visit where none was. Nobody can be called after that, and
 * the day of the deletion is not known.
 */
function possibleUntil(
  { caseId, bonded, visits }: FollowUp,
  until: string | null,
  today: string,
): string {
  const isLeft = originOf(caseId) === 'left' && bonded !== null;
  const ends = [today, ...(isLeft ? [leftUntil(bonded, visits)] : []), until ?? today];
  return ends.toSorted()[0] ?? today;
}

function leftUntil({ bondedOn, followedDays = 0 }: BondedCase, visits: FollowUp['visits']): string {
  const days = visits.map(({ visit }) => visit.onDay);
  return [bondedOn, addDays(bondedOn, followedDays), ...days].toSorted().at(-1) ?? bondedOn;
}

/** Of a bonding that has no record nothing is known but the unit itself. */
const unrecorded = (unit: BondedUnit): BondedUnit => ({ ...unit, limits: [] });

/** What lies after `today`, by a clock that is wrong or in another zone, has not happened yet. */
function upTo(followUps: readonly FollowUp[], today: string): readonly FollowUp[] {
  return followUps
    .filter(({ bonded }) => bonded === null || bonded.bondedOn <= today)
    .map((one) =>
      one.visits.every(({ visit }) => visit.onDay <= today)
        ? one
        : { ...one, visits: one.visits.filter(({ visit }) => visit.onDay <= today) },
    );
}

/**
 * Every life that the follow-ups tell of, by case and unit; the order of the follow-ups changes nothing else.
 * @param today the calendar day up to which they could have been followed.
 */
export function livesOf(all: readonly FollowUp[], today: string): readonly Life[] {
  const followUps = upTo(all, today);
  const bondedHere = new Set(followUps.flatMap(({ caseId, bonded }) => (bonded ? [caseId] : [])));
  const hasCase = (caseId: string): boolean => bondedHere.has(caseId);
  const laterOf = laterBondings(followUps);
  const writtenAs = writings(followUps);
  return followUps.flatMap((followUp) => {
    const { caseId, bonded } = followUp;
    if (bonded === null) return [];
    return bonded.units.flatMap((unit) => {
      const later = laterOf(caseId, unit.unit);
      return bondingsOf(followUp, { bonded, unit: unit.unit, hasCase, later }).map(
        (bonding, n): Life => {
          const { id, bondedOn, until } = bonding;
          const ends = Object.fromEntries(
            END_POINTS.map((endPoint) => [endPoint, endOf(bonding, endPoint)]),
          ) as Record<EndPoint, LifeEnd | null>;
          return {
            id,
            caseId,
            patient: writtenAs(bonded.patient),
            bondedOn,
            entryDay: entryOf(bonding),
            possibleDays: Math.max(0, daysBetween(bondedOn, possibleUntil(followUp, until, today))),
            ends,
            unit: n === 0 ? unit : unrecorded(unit),
            revision: n === 0 ? (bonded.protocol?.hash ?? null) : null,
            lots: n === 0 ? bonded.lots : [],
            people: n === 0 ? bonded.people.map(({ label }) => label) : [],
          };
        },
      );
    });
  });
}

/** Lives that were over before they were looked after: they tell nothing, and are counted. */
export const leftOut = (lives: readonly Life[], endPoint: EndPoint): number =>
  lives.filter(({ ends }) => ends[endPoint] === null).length;

/** What is found on the day from which a life counts happened on that day: half a day is the least. */
const SAME_DAY = 0.5;

/**
 * Lives as the figures take them: one time each, in the same order; what tells nothing is left out.
 * @param dating of what lies between two visits: at the visit that found it, or half way between the two.
 */
export function timed(
  lives: readonly Life[],
  endPoint: EndPoint,
  dating: 'visit' | 'mid-gap',
): readonly Timed[] {
  return lives.flatMap(({ ends, entryDay: entry, patient }): readonly Timed[] => {
    const end = ends[endPoint];
    if (end === null) return [];
    const { event, afterDay, byDay: by } = end;
    if (by === null) return [{ entry, time: afterDay, event, patient }];
    const day = dating === 'visit' ? by : (afterDay + by) / 2;
    return [{ entry, time: day > entry ? day : entry + SAME_DAY, event, patient }];
  });
}
