/**
 * Early flags: one chart for each end point, and lots to look at. A failure stands on the day of the visit
 * that found it, or on the day that is known. Failures come in at once, and that a unit is in place only with
 * the next recall: until that is due it counts as in place, else hardly any clinic would be without a flag. What
 * was not looked at for longer is not expected to fail either. Another accepted rate hides no failure: the whole
 * chart, from its beginning or the last look, is drawn anew with the rate in force. Pure.
 */
import { type ChartPoint, exposureChart, limitFor } from '../figures/exposure-cusum.ts';
import { lotSays } from '../figures/lots.ts';
import { patientsWithFailure } from '../figures/patients.ts';
import { DAYS_A_YEAR } from '../figures/sizes.ts';
import type { Life } from '../life-types.ts';
import type { FlagLooked } from '../review-types.ts';
import type { RateInForce } from './accepted.ts';
import { type Dated, dated, dayNumber, dayOfNumber, failedOn } from './dated.ts';
import type { CaseOf, ChartShown, LotShown } from './outcomes-types.ts';

/** What was looked at: the days of one chart, or of one lot. */
const looksAt = (
  looked: readonly FlagLooked[],
  chart: FlagLooked['chart'],
  of: string,
): readonly string[] =>
  looked.flatMap((one) => (one.chart === chart && one.of === of ? [one.lookedOn] : [])).toSorted();

const UP = Math.log(2);

/** The points from the one that began at 0, before the flag, to the last. */
function runOf<P extends Pick<ChartPoint, 'day' | 'chart' | 'counted'>>(
  points: readonly P[],
  flagDay: number,
): readonly P[] {
  const from = points.findLastIndex(
    ({ day, chart, counted }) => day <= flagDay && chart <= UP * counted + 1e-9,
  );
  return points.slice(Math.max(0, from));
}

export function chartShown(o: {
  readonly lives: readonly Life[];
  readonly accepted: RateInForce;
  readonly looked: readonly FlagLooked[];
  readonly today: string;
  /** How long after a sight a unit counts as in place: until its next recall is due. */
  readonly recallDays: number;
  readonly nameOf: (one: Dated) => CaseOf;
}): ChartShown {
  const { endPoint, yearlyRate, before } = o.accepted;
  const all = dated(o.lives, endPoint);
  const lookedOn = looksAt(o.looked, 'cusum', endPoint);
  const today = dayNumber(o.today);
  const byId = new Map(all.map((one) => [one.life.id, one]));
  const watched = all.map(({ life, atVisit }) => {
    const from = dayNumber(life.bondedOn);
    const ended = Math.floor(from + atVisit.time);
    const isOver = atVisit.event !== 'none';
    return {
      id: life.id,
      patient: life.patient,
      fromDay: from + atVisit.entry,
      toDay: isOver ? ended : Math.max(ended, Math.min(today, ended + o.recallDays)),
      isFailed: atVisit.event === 'event',
    };
  });
  const chartAt = (rate: number) =>
    exposureChart({ watched, yearlyRate: rate, looks: lookedOn.map(dayNumber), today });
  const chart = chartAt(yearlyRate);
  const { openFlag } = chart;
  const points = chart.points.map(({ failed, ...point }) => ({
    ...point,
    cases: failed.flatMap((id) => {
      const one = byId.get(id);
      return one === undefined ? [] : [o.nameOf(one)];
    }),
  }));
  return {
    endPoint,
    points,
    flagged: openFlag === null ? [] : runOf(points, openFlag.day).flatMap(({ cases }) => cases),
    fromDay: Math.min(today, ...watched.map(({ fromDay }) => fromDay)),
    today,
    now: chart.now,
    limit: limitFor(chart.expectedPerYear),
    expected: chart.expected,
    expectedPerYear: chart.expectedPerYear,
    accepted: o.accepted,
    wasFlagged: before === null ? null : chartAt(before).openFlag !== null,
    failures: chart.points.reduce((sum, { counted }) => sum + counted, 0),
    flaggedOn: openFlag === null ? null : dayOfNumber(openFlag.day),
    lookedOn,
  };
}

/** Units that nobody has looked at yet count as in place: a lot is not made to look worse than it is known to be. */
export function lotsShown(
  all: readonly Dated[],
  o: {
    readonly looked: readonly FlagLooked[];
    /** Share of a lot that is usually lost in its first year: the accepted rate a year. */
    readonly usualShare: number;
    readonly nameOf: (one: Dated) => CaseOf;
  },
): readonly LotShown[] {
  const lots = new Map<string, { materialClass: string; lot: string; lives: Dated[] }>();
  for (const one of all) {
    for (const { materialClass, lot } of one.life.lots) {
      const key = `${materialClass} ${lot}`;
      const known = lots.get(key) ?? { materialClass, lot, lives: [] };
      if (known.lives.at(-1) !== one) known.lives.push(one);
      lots.set(key, known);
    }
  }
  return [...lots]
    .map(([key, { materialClass, lot, lives }]): LotShown => {
      // The recall after a year is often some days late: what it finds was lost within the year, by half way.
      const lost = lives.filter(
        ({ midGap }) => midGap.event === 'event' && midGap.time <= DAYS_A_YEAR,
      );
      const patients = patientsWithFailure(lost.map(({ atVisit }) => atVisit));
      const says = lotSays({
        failures: lost.length,
        units: lives.length,
        patientsWithFailure: patients,
        usualShare: o.usualShare,
      });
      const lastFailedOn = lost.map(failedOn).toSorted().at(-1) ?? null;
      const lookedOn = looksAt(o.looked, 'lot', key).at(-1) ?? null;
      const isNew = lookedOn === null || (lastFailedOn !== null && lastFailedOn > lookedOn);
      return {
        materialClass,
        lot,
        lives: lives.length,
        failures: lost.length,
        patientsWithFailure: patients,
        says,
        lastFailedOn,
        lookedOn,
        isOpen: says.isToLookAt && isNew,
        cases: lost.map(o.nameOf),
      };
    })
    .toSorted(
      (a, b) =>
        Number(b.isOpen) - Number(a.isOpen) ||
        b.says.pAboveTwice - a.says.pAboveTwice ||
        (a.lot < b.lot ? -1 : 1),
    );
}
