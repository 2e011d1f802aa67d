/** Lives with their end for one end point, dated in both ways, and where each leads. Pure. */
import { addDays, daysBetween } from '../days.ts';
import type { Followed } from '../figures/follow-up-length.ts';
import { patientsWithFailure } from '../figures/patients.ts';
import { unitYears } from '../figures/sizes.ts';
import type { Between } from '../figures/turnbull.ts';
import type { FollowUp } from '../follow-up-types.ts';
import type { EndPoint, Life, LifeEnd } from '../life-types.ts';
import { timed } from '../lives.ts';
import type { CaseOf, Counts } from './outcomes-types.ts';

/** One life that tells something of the end point. */
export interface Dated {
  readonly life: Life;
  readonly end: LifeEnd;
  /** A failure between two visits on the day of the visit that found it. */
  readonly atVisit: Followed;
  /** The same half way between the two. */
  readonly midGap: Followed;
}

/** In the order of `lives`; those that were over before they were looked after are left out. */
export function dated(lives: readonly Life[], endPoint: EndPoint): readonly Dated[] {
  const told = lives.flatMap((life) => {
    const end = life.ends[endPoint];
    return end === null ? [] : [{ life, end }];
  });
  const only = told.map(({ life }) => life);
  const atVisit = timed(only, endPoint, 'visit');
  const midGap = timed(only, endPoint, 'mid-gap');
  return told.flatMap(({ life, end }, at) => {
    const [visit, mid] = [atVisit[at], midGap[at]];
    const possible = life.possibleDays;
    return visit === undefined || mid === undefined
      ? []
      : [{ life, end, atVisit: { ...visit, possible }, midGap: { ...mid, possible } }];
  });
}

const MONTH_DAYS = 30.4375;
/** Added to the interval between two recalls: who is late by less is not lost (a choice). */
const LATE_MONTHS = 6;

/** Days after which a life that was not looked at counts as unseen. */
export const graceOf = (everyMonths: number): number => (everyMonths + LATE_MONTHS) * MONTH_DAYS;

/** Whether it was looked at after the day from which it counts. */
export const isSeen = ({ atVisit }: Dated): boolean => atVisit.time > atVisit.entry;

export const isUnseen = ({ atVisit }: Dated, graceDays: number): boolean =>
  atVisit.event === 'none' && atVisit.possible - atVisit.time > graceDays;

export function countsOf(
  all: readonly Dated[],
  o: { readonly graceDays: number; readonly leftOut: number },
): Counts {
  const lives = all.map(({ atVisit }) => atVisit);
  const patients = new Set(lives.map(({ patient }) => patient)).size;
  return {
    lives: lives.length,
    seen: all.filter(isSeen).length,
    patients,
    failures: lives.filter(({ event }) => event === 'event').length,
    patientsWithFailure: patientsWithFailure(lives),
    competing: lives.filter(({ event }) => event === 'competing').length,
    unseen: all.filter((one) => isUnseen(one, o.graceDays)).length,
    notKnown: all.filter(
      (one) => one.atVisit.event === 'none' && (!isSeen(one) || isUnseen(one, o.graceDays)),
    ).length,
    leftOut: o.leftOut,
    hasSeveral: patients < lives.length,
    unitYears: unitYears(lives),
  };
}

/** Of each tooth of each patient the life that was bonded first: what came after a loss began with the loss. */
export function firstLives(all: readonly Dated[]): readonly Dated[] {
  const isBefore = (a: Life, b: Life): boolean =>
    a.bondedOn < b.bondedOn || (a.bondedOn === b.bondedOn && a.id < b.id);
  const first = new Map<string, Life>();
  for (const { life } of all) {
    for (const tooth of life.unit.teeth) {
      const key = `${tooth} ${life.patient}`;
      const known = first.get(key);
      if (known === undefined || isBefore(life, known)) first.set(key, life);
    }
  }
  return all.filter(({ life }) =>
    life.unit.teeth.some((tooth) => first.get(`${tooth} ${life.patient}`) === life),
  );
}

/** Between which two days each failed; other ends close the observation. */
export const betweensOf = (all: readonly Dated[]): readonly Between[] =>
  all.map(({ end, life, atVisit }) => ({
    after: end.event === 'event' ? end.afterDay : atVisit.time,
    by: end.event === 'event' ? Math.max(end.byDay ?? atVisit.time, end.afterDay) : null,
    entry: life.entryDay,
  }));

/** Days since 1970 of a calendar day. */
export const dayNumber = (day: string): number => daysBetween('1970-01-01', day);
export const dayOfNumber = (number: number): string => addDays('1970-01-01', Math.floor(number));

/** Calendar day on which it was found, or is said to have happened. */
export const failedOn = ({ life, atVisit }: Dated): string =>
  addDays(life.bondedOn, Math.floor(atVisit.time));

/** How a failed life is named, and where it leads. */
export function caseNamer(followUps: readonly FollowUp[]): (one: Dated) => CaseOf {
  const titles = new Map(followUps.map(({ caseId, bonded }) => [caseId, bonded?.title ?? '']));
  return (one) => ({
    life: one.life.id,
    caseId: one.life.caseId,
    patient: one.life.patient,
    title: titles.get(one.life.caseId) ?? '',
    unit: one.life.unit.unit,
    teeth: one.life.unit.teeth,
    bondedOn: one.life.bondedOn,
    failedOn: failedOn(one),
    isStated: one.end.afterDay === one.end.byDay,
  });
}
