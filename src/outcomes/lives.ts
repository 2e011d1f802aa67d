/**
 * Lives from what was noted: one for each bonding of each unit, with what is known of its end for each end
 * point. Retention ends where the unit or a retainer of it is loose; survival where it is lost for good or
 * replaced; success at any finding that wants something done. A visit at which it was not looked at says
 * nothing. The rules are this project's own and have no source; the day that a patient states is exact.
 */
import { daysBetween } from './days.ts';
import type { BondedCase, BondedUnit, FollowUp, UnitFound, Visit } from './follow-up-types.ts';
import { foundOf, isLoose, isSeen } from './found.ts';
import type { EndPoint, Life, LifeEnd, Timed } from './life-types.ts';
import { END_POINTS } from './vocabulary.ts';

type Event = LifeEnd['event'];

/**
 * What one sight of a unit says for an end point. The life goes on at `none`.
 * @param o.isSaved it was bonded again, at that visit or later.
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
      if ((isLoose(found) && !isSaved) || (isHurt && isReplaced)) return 'event';
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
}

/** The day from which it was looked after: of a unit from before the app that of the first sight. */
function entryOf({ bondedOn, seenFrom, sights }: Bonding): number {
  if (seenFrom === null || seenFrom <= bondedOn) return 0;
  return sights[0]?.day ?? daysBetween(bondedOn, seenFrom);
}

/**
 * What is known of the end. Null: at first sight it was over already. A stated day counts where it lies in
 * (last seen, visit]; a later entry may have taken that away, and then only the visits count.
 */
function endOf(bonding: Bonding, endPoint: EndPoint): LifeEnd | null {
  const entryDay = entryOf(bonding);
  const isSaved = bonding.sights.some(isAgain);
  let afterDay = entryDay;
  for (const { day, stated, unit } of bonding.sights) {
    const event = eventOf(unit, { endPoint, isSaved });
    if (event === 'none') {
      afterDay = Math.max(afterDay, day);
      continue;
    }
    if (entryDay > 0 && day <= entryDay) return null;
    const isExact = stated !== null && stated > afterDay && stated <= day;
    return isExact
      ? { event, afterDay: stated, byDay: stated }
      : { event, afterDay, byDay: Math.max(day, afterDay) };
  }
  return { event: 'none', afterDay, byDay: null };
}

const byDay = (a: Visit, b: Visit): number => (a.onDay < b.onDay ? -1 : a.onDay > b.onDay ? 1 : 0);

const isAgain = ({ unit }: Sight): boolean => unit.done === 'bonded-again';

/** The bondings of one unit under one case: its own, and those again that have no case of their own. */
function bondingsOf(
  { caseId, visits }: FollowUp,
  o: {
    readonly bonded: BondedCase;
    readonly unit: string;
    readonly hasCase: (caseId: string) => boolean;
  },
): readonly Bonding[] {
  const { bonded, unit } = o;
  const seen = visits
    .map(({ visit }) => visit)
    .toSorted(byDay)
    .flatMap(({ onDay, units }) =>
      units
        .filter((found) => found.unit === unit && isSeen(found))
        .map((found) => ({ onDay, found })),
    );
  const bondings: Bonding[] = [];
  let left = seen;
  let [bondedOn, seenFrom] = [bonded.bondedOn, bonded.seenFrom ?? null];
  for (let n = 1; ; n += 1) {
    const sights = left.map(({ onDay, found }): Sight => {
      const stated = found.statedDay === undefined ? null : daysBetween(bondedOn, found.statedDay);
      return { day: daysBetween(bondedOn, onDay), stated, unit: found };
    });
    const id = n === 1 ? `${caseId}/${unit}` : `${caseId}/${unit}#${n}`;
    const at = sights.findIndex(isAgain);
    const own = at < 0 ? sights : sights.slice(0, at + 1);
    bondings.push({ id, bondedOn, seenFrom, sights: own });
    const again = left[at];
    // What was bonded with a case of its own is told by that.
    const { bondedAgainIn } = again?.found ?? {};
    if (again === undefined) return bondings;
    if (bondedAgainIn !== undefined && o.hasCase(bondedAgainIn)) return bondings;
    left = left.slice(at + 1);
    bondedOn = again.onDay;
    seenFrom = null;
  }
}

/** Of a bonding that has no record nothing is known but the unit itself. */
const unrecorded = (unit: BondedUnit): BondedUnit => ({ ...unit, limits: [] });

/**
 * Every life that the follow-ups tell of, by case and unit; the order of the follow-ups changes nothing else.
 * @param today the calendar day up to which they could have been followed.
 */
export function livesOf(followUps: readonly FollowUp[], today: string): readonly Life[] {
  const bondedHere = new Set(followUps.flatMap(({ caseId, bonded }) => (bonded ? [caseId] : [])));
  const hasCase = (caseId: string): boolean => bondedHere.has(caseId);
  return followUps.flatMap((followUp) => {
    const { caseId, bonded } = followUp;
    if (bonded === null) return [];
    return bonded.units.flatMap((unit) =>
      bondingsOf(followUp, { bonded, unit: unit.unit, hasCase }).map((bonding, n): Life => {
        const { id, bondedOn } = bonding;
        const ends = Object.fromEntries(
          END_POINTS.map((endPoint) => [endPoint, endOf(bonding, endPoint)]),
        ) as Record<EndPoint, LifeEnd | null>;
        return {
          id,
          caseId,
          patient: bonded.patient,
          bondedOn,
          entryDay: entryOf(bonding),
          possibleDays: Math.max(0, daysBetween(bondedOn, today)),
          ends,
          unit: n === 0 ? unit : unrecorded(unit),
          revision: n === 0 ? (bonded.protocol?.hash ?? null) : null,
          lots: n === 0 ? bonded.lots : [],
          people: n === 0 ? bonded.people.map(({ label }) => label) : [],
        };
      }),
    );
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
