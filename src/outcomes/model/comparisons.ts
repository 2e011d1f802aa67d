/**
 * Groups beside one another. Failures are dated half way between two visits, since dating at the visit
 * flatters whoever is seen less often. Limits: broken against kept, within each class of material. Others:
 * each group against the rest. Revisions only over the years that both have. Pure.
 */
import { present } from '../../base/assert.ts';
import { overCommonYears } from '../figures/common-years.ts';
import { type Comparison, compareTwo } from '../figures/comparison.ts';
import type { Followed } from '../figures/follow-up-length.ts';
import { kaplanMeier, lastDay } from '../figures/kaplan-meier.ts';
import { type Permutable, permutable } from '../figures/permuted-within.ts';
import { unitYears } from '../figures/sizes.ts';
import { ratePer100 } from '../figures/yearly-rate.ts';
import { type Dated, isUnseen } from './dated.ts';
import type { Grouping } from './groupings.ts';
import { thinFrom, yearsAtRisk } from './observed.ts';
import type {
  Also,
  ComparisonShown,
  GroupingShown,
  GroupShown,
  PlainCurve,
} from './outcomes-types.ts';

/** One comparison with what it is made of. */
export interface Made {
  readonly key: string;
  readonly comparison: Comparison;
  readonly lives: readonly Followed[];
  readonly isFirst: readonly boolean[];
  readonly strata: readonly string[] | null;
  readonly commonDays: number | null;
}

interface Named {
  readonly name: string;
  readonly dated: Dated;
}

const isLimit = ({ kind }: Grouping): boolean => kind === 'limit' || kind === 'limits';

const namedOf = (grouping: Grouping, all: readonly Dated[]): readonly Named[] =>
  all.flatMap((dated) => {
    if (!grouping.isAbout(dated.life)) return [];
    const name = grouping.nameOf(dated.life);
    return name === null ? [] : [{ name, dated }];
  });

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

const namesOf = (named: readonly Named[]): readonly string[] =>
  [...new Set(named.map(({ name }) => name))].toSorted((a, b) =>
    a.localeCompare(b, 'en', { numeric: true }),
  );

/** All comparisons of a grouping. */
export function comparisonsOf(
  grouping: Grouping,
  all: readonly Dated[],
  graceDays: number,
): readonly Made[] {
  const named = namedOf(grouping, all);
  if (isLimit(grouping)) {
    const judged = named.filter(({ name }) => name !== 'cannot-tell');
    return [madeOf(grouping, judged, { first: 'broken', rest: 'kept', graceDays })];
  }
  const names = namesOf(named);
  if (names.length < 2) return [];
  // Of two groups one comparison says all.
  const firsts = names.length === 2 ? names.slice(0, 1) : names;
  return firsts.map((first) => {
    const others = names.filter((name) => name !== first);
    return madeOf(grouping, named, {
      first,
      rest: others.length === 1 ? (others[0] ?? '') : '',
      graceDays,
    });
  });
}

function madeOf(
  grouping: Grouping,
  named: readonly Named[],
  o: { readonly first: string; readonly rest: string; readonly graceDays: number },
): Made {
  const isFirst = named.map(({ name }) => name === o.first);
  const lives = named.map(({ dated }) => dated.midGap);
  const about = { names: [o.first, o.rest] as const, graceDays: o.graceDays };
  const key = `${grouping.id} ${o.first}`;
  if (grouping.kind === 'revision') {
    const groups = isFirst.map((first) => (first ? 'first' : 'rest'));
    const common = overCommonYears({ lives, groups });
    const kept = common.groups.map((group) => group === 'first');
    return {
      key,
      comparison: compareTwo({ lives: common.lives, isFirst: kept, ...about }),
      lives: common.lives,
      isFirst: kept,
      strata: null,
      commonDays: Number.isFinite(common.untilDay)
        ? Math.max(0, common.untilDay - common.fromDay)
        : 0,
    };
  }
  const strata = isLimit(grouping) ? named.map(({ dated }) => dated.life.unit.material) : null;
  const inStrata = strata === null ? {} : { strata };
  return {
    key,
    comparison: compareTwo({ lives, isFirst, ...inStrata, ...about }),
    lives,
    isFirst,
    strata,
    commonDays: null,
  };
}

/** What labels permuted within patients are drawn from; null where no patient has units in both groups. */
export function permutableOf({ lives, isFirst, strata, comparison }: Made): Permutable | null {
  if (comparison.patientsInBoth === 0) return null;
  const found = permutable({ lives, isFirst, ...(strata === null ? {} : { strata }) });
  return found.patientsThatDiffer === 0 ? null : found;
}

function plainCurve(lives: readonly Followed[]): PlainCurve {
  const steps = kaplanMeier(lives).map(({ day, survival }) => ({ day, survival }));
  return {
    lastDay: lastDay(lives),
    thinFrom: thinFrom(lives),
    atRisk: yearsAtRisk(lives),
    steps,
  };
}

function shownOf({ key, comparison, lives, isFirst, commonDays }: Made): ComparisonShown {
  const { gates, first, rest, smallestRatio, patientsInBoth } = comparison;
  const side = (of: boolean) => plainCurve(lives.filter((_, at) => isFirst[at] === of));
  return {
    key,
    first,
    rest,
    missing: gates.isOpen ? [] : gates.missing,
    smallestRatio,
    patientsInBoth,
    commonDays,
    curves: gates.isOpen ? [side(true), side(false)] : null,
  };
}

/** ISO 3950: up to 3 counted from the midline stand in front. */
const isFront = (tooth: string): boolean => Number(tooth.slice(-1)) <= 3;

function alsoOf(all: readonly Dated[], unitsIn: ReadonlyMap<string, number>): Also {
  const materials = new Map<string, number>();
  for (const { life } of all) {
    materials.set(life.unit.material, (materials.get(life.unit.material) ?? 0) + 1);
  }
  const days = all.map(({ life }) => life.bondedOn).toSorted();
  const together = all.reduce((sum, { life }) => sum + (unitsIn.get(life.caseId) ?? 1), 0);
  return {
    frontTeeth: all.filter(({ life }) => life.unit.teeth.every(isFront)).length,
    materials: [...materials].toSorted(([a, m], [b, n]) => n - m || compare(a, b)),
    unitsPerCase: together / all.length,
    firstBonded: present(days[0], 'a day'),
    lastBonded: present(days.at(-1), 'a day'),
  };
}

function groupShown(
  name: string,
  all: readonly Dated[],
  o: { readonly graceDays: number; readonly unitsIn: ReadonlyMap<string, number> },
): GroupShown {
  const lives = all.map(({ atVisit }) => atVisit);
  const failures = lives.filter(({ event }) => event === 'event').length;
  const years = unitYears(lives);
  return {
    name,
    lives: lives.length,
    patients: new Set(lives.map(({ patient }) => patient)).size,
    failures,
    unseen: all.filter((one) => isUnseen(one, o.graceDays)).length,
    rate: years > 0 ? ratePer100({ failures, unitYears: years }) : null,
    also: alsoOf(all, o.unitsIn),
  };
}

export function groupingShown(
  grouping: Grouping,
  all: readonly Dated[],
  graceDays: number,
): GroupingShown {
  const unitsIn = new Map<string, number>();
  for (const { life } of all) unitsIn.set(life.caseId, (unitsIn.get(life.caseId) ?? 0) + 1);
  const about = all.filter(({ life }) => grouping.isAbout(life));
  const named = namedOf(grouping, all);
  return {
    id: grouping.id,
    kind: grouping.kind,
    about: grouping.about,
    groups: namesOf(named).map((name) =>
      groupShown(
        name,
        named.flatMap((one) => (one.name === name ? [one.dated] : [])),
        { graceDays, unitsIn },
      ),
    ),
    unknown: about.length - named.length,
    comparisons: comparisonsOf(grouping, all, graceDays).map(shownOf),
  };
}
