/** The curve of all lives with its cases, and the table at 1, 3, 5 and 10 years in every way that is told. Pure. */
import { cumulativeIncidence, incidenceAt } from '../figures/cumulative-incidence.ts';
import {
  completeness,
  completenessSays,
  extremes,
  medianFollowUp,
} from '../figures/follow-up-length.ts';
import { kaplanMeier, survivalAt } from '../figures/kaplan-meier.ts';
import { logLogLimits } from '../figures/log-log-limits.ts';
import { medianLife } from '../figures/median-life.ts';
import { patientsAsLives } from '../figures/patients.ts';
import { DAYS_A_YEAR } from '../figures/sizes.ts';
import { curveAt, survivalCurve, survivalTable } from '../figures/survival-curve.ts';
import type { Limits } from '../figures/tails.ts';
import { turnbull } from '../figures/turnbull.ts';
import { wideGaps } from '../figures/wide-gaps.ts';
import { compoundRate } from '../figures/yearly-rate.ts';
import { betweensOf, type Dated, firstLives } from './dated.ts';
import { fewAt, thinFrom, yearsAtRisk } from './observed.ts';
import type {
  CaseOf,
  CurveShown,
  FollowedShown,
  IncidenceShown,
  RowShown,
} from './outcomes-types.ts';

export function curveShown(all: readonly Dated[], nameOf: (one: Dated) => CaseOf): CurveShown {
  const lives = all.map(({ atVisit }) => atVisit);
  const curve = survivalCurve(lives);
  const failed = new Map<number, Dated[]>();
  for (const one of all) {
    if (one.atVisit.event !== 'event') continue;
    failed.set(one.atVisit.time, [...(failed.get(one.atVisit.time) ?? []), one]);
  }
  return {
    lastDay: curve.lastDay,
    thinFrom: thinFrom(lives),
    fewAt: fewAt(curve.steps, lives),
    steps: curve.steps.map((step) => ({
      ...step,
      cases: (failed.get(step.day) ?? []).map(nameOf),
    })),
    atRisk: yearsAtRisk(lives),
    hasFewPatients: curve.hasFewPatients,
  };
}

/** Nothing is said of years that nobody was followed for. */
export function rowsShown(
  all: readonly Dated[],
  o: { readonly graceDays: number; readonly hasFewPatients: boolean },
): readonly RowShown[] {
  const lives = all.map(({ atVisit }) => atVisit);
  const atMidGap = kaplanMeier(all.map(({ midGap }) => midGap));
  const bounds = extremes(lives, o.graceDays);
  const [ifAll, ifNone] = [kaplanMeier(bounds.allFailed), kaplanMeier(bounds.noneFailed)];
  const check = turnbullAt(all);
  const incidence = incidenceOf(all);
  const first = firstLives(all).map(({ atVisit }) => atVisit);
  const patients = o.hasFewPatients ? patientsAsLives(first) : null;
  return survivalTable(lives).map(({ years, point }): RowShown => {
    const day = years * DAYS_A_YEAR;
    const isThere = point !== null;
    return {
      years,
      point,
      atMidGap: isThere ? survivalAt(atMidGap, day) : null,
      turnbull: isThere ? check(day) : null,
      ifAllFailed: isThere ? survivalAt(ifAll, day) : null,
      ifNoneFailed: isThere ? survivalAt(ifNone, day) : null,
      compound: isThere ? compoundRate({ failedShare: 1 - point.survival, years }) : null,
      incidence: isThere ? incidence(day) : null,
      patients: patients === null ? null : curveAt(patients, day),
    };
  });
}

/** Inside a stretch in which the curve falls it lies between two shares. */
function turnbullAt(all: readonly Dated[]): (day: number) => Limits | null {
  const lives = betweensOf(all);
  if (!wideGaps(lives).wantsCheck) return () => null;
  const { falls } = turnbull(lives);
  return (day) => {
    const over = falls.findLast(({ by }) => by !== null && by <= day);
    const high = over?.survivalAfter ?? 1;
    const within = falls.find(({ after, by }) => after < day && (by === null || by > day));
    return { low: within?.survivalAfter ?? high, high };
  };
}

function incidenceOf(all: readonly Dated[]): (day: number) => IncidenceShown | null {
  const lives = all.map(({ atVisit }) => atVisit);
  if (!lives.some(({ event }) => event === 'competing')) return () => null;
  const steps = cumulativeIncidence(lives);
  return (day) => {
    const step = incidenceAt(steps, day);
    if (step === null) return { failed: 0, limits: null, competingFirst: 0, eventFree: 1 };
    const { failed, errorFailed, competingFirst, eventFree } = step;
    const kept = logLogLimits({ survival: 1 - failed, error: errorFailed });
    const limits = kept === null ? null : { low: 1 - kept.high, high: 1 - kept.low };
    return { failed, limits, competingFirst, eventFree };
  };
}

export function followedShown(all: readonly Dated[]): FollowedShown {
  const lives = all.map(({ atVisit }) => atVisit);
  const share = completeness(lives);
  return {
    // What entered late was followed for so long, not since its bonding.
    median: medianFollowUp(
      lives.map((life) => ({ ...life, entry: 0, time: life.time - life.entry })),
    ),
    medianLife: medianLife(lives).median,
    completeness: share,
    says: share === null ? null : completenessSays(share),
    ...wideGaps(betweensOf(all)),
  };
}
