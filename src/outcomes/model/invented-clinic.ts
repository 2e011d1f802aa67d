/**
 * A clinic that never was, for whoever wants to see what the page will say, and for measuring. Everything of it is
 * drawn from a seed; its cases say in their titles that they are invented, and it is kept nowhere. Patients differ
 * in how much is lost; a hard unit breaks a limit more often and is lost more often; one lot loses more. Pure.
 */
import { type Dice, diceOf, uniform } from '../../plan/random.ts';
import { addDays, daysBetween } from '../days.ts';
import type {
  BondedCase,
  BondedUnit,
  FollowUp,
  KeptVisit,
  UnitFound,
  Visit,
} from '../follow-up-types.ts';

export interface Invented {
  readonly patients: number;
  readonly unitsEach: number;
  /** Years over which the cases were bonded, up to today. */
  readonly years: number;
  /** Months between two visits after the first weeks. */
  readonly everyMonths: number;
  /** Share of the patients that come no more after some time. */
  readonly lostShare: number;
  readonly seed: number;
  readonly today: string;
}

const DAYS = 365.25;
const TEETH = ['14', '13', '12', '11', '21', '22', '23', '24'] as const;
const LIMITS = [
  { limit: 'window/open-adhesive', title: 'Adhesive left open' },
  { limit: 'window/working-time', title: 'Working time of the cement' },
] as const;
const POOR_LOT = 'INV-C4';

interface Drawn {
  readonly unit: BondedUnit;
  /** Day on which it is lost, chipped or replaced, days from the bonding. */
  readonly lostOn: number;
  readonly chippedOn: number;
  readonly replacedOn: number;
}

const after = (dice: Dice, yearly: number): number => (-Math.log(uniform(dice)) / yearly) * DAYS;

function drawUnit(
  dice: Dice,
  o: {
    readonly tooth: string;
    readonly factor: number;
    readonly lot: string;
    readonly material: string;
  },
): Drawn {
  const isHard = uniform(dice) < 0.25;
  const limits = LIMITS.map((limit) => {
    const broken = isHard ? 0.4 : 0.12;
    const drawn = uniform(dice);
    const state = drawn < broken ? 'broken' : drawn < broken + 0.05 ? 'cannot-tell' : 'kept';
    return { ...limit, state } as const;
  });
  const poor = o.lot === POOR_LOT ? 6 : 1;
  const rate = 0.012 * o.factor * (isHard ? 2.4 : 0.8);
  return {
    unit: {
      unit: o.tooth,
      teeth: [o.tooth],
      isBridge: false,
      restoration: 'veneer',
      material: o.material,
      limits,
    },
    // A poor lot shows in its first year.
    lostOn: Math.min(
      after(dice, rate),
      poor > 1 ? after(dice, rate * poor) : Number.POSITIVE_INFINITY,
    ),
    chippedOn: after(dice, 0.012 * o.factor),
    replacedOn: after(dice, 0.005),
  };
}

function foundOn(drawn: Drawn, day: number): UnitFound {
  const { unit } = drawn.unit;
  const first = Math.min(drawn.lostOn, drawn.replacedOn);
  if (first <= day) {
    return drawn.lostOn <= drawn.replacedOn
      ? { unit, findings: ['lost-retention'], done: 'replaced' }
      : { unit, findings: ['replaced-other'], done: 'replaced' };
  }
  return drawn.chippedOn <= day
    ? { unit, findings: ['chipped'], done: 'left' }
    : { unit, findings: ['in-place'] };
}

function visitsOf(
  dice: Dice,
  drawn: readonly Drawn[],
  o: Invented & { readonly bondedOn: string; readonly caseId: string },
): readonly KeptVisit[] {
  const last = daysBetween(o.bondedOn, o.today);
  const goneAfter = uniform(dice) < o.lostShare ? uniform(dice) * last : Number.POSITIVE_INFINITY;
  const days = [14];
  for (let month = 6; month * 30.4 < last; month += month < 12 ? 6 : o.everyMonths) {
    days.push(Math.round(month * 30.4 + (uniform(dice) - 0.5) * 40));
  }
  const gone = new Set<string>();
  return days
    .filter((day) => day <= last && day <= goneAfter)
    .map((day, at) => {
      const units = drawn.map((each) => foundOn(each, day)).filter(({ unit }) => !gone.has(unit));
      for (const found of units) if (found.done === 'replaced') gone.add(found.unit);
      const visit: Visit = {
        onDay: addDays(o.bondedOn, day),
        examiner: 'Invented examiner',
        isOwnWork: false,
        units,
      };
      return { id: `${o.caseId}-${at}`, visit, by: null, atWallMs: 0, was: [] };
    })
    .filter(({ visit }) => visit.units.length > 0);
}

/** One case a patient. Every title says that it is invented. */
export function inventedClinic(o: Invented): readonly FollowUp[] {
  const dice = diceOf(o.seed);
  const span = Math.round(o.years * DAYS);
  return Array.from({ length: o.patients }, (_, n): FollowUp => {
    const bondedOn = addDays(o.today, -Math.round(span * (1 - n / o.patients)));
    const caseId = `invented-${n}`;
    // Two of the patient's dice make some of them lose far more than others.
    const factor = 0.25 + (0.75 * (-Math.log(uniform(dice)) - Math.log(uniform(dice)))) / 0.75 / 2;
    const share = n / o.patients;
    const lot = `INV-C${1 + Math.floor(share * 10)}`;
    const material = uniform(dice) < 0.7 ? 'lithium-disilicate' : 'feldspathic';
    const from = n % 3 === 0 ? 0 : TEETH.length - o.unitsEach;
    const drawn = Array.from({ length: o.unitsEach }, (_unused, at) =>
      drawUnit(dice, { tooth: TEETH[Math.max(0, from) + at] ?? `${at}`, factor, lot, material }),
    );
    const bonded: BondedCase = {
      what: 'bonded',
      patient: `INVENTED ${n + 1}`,
      title: 'Invented case',
      bondedOn,
      protocol: {
        id: 'invented',
        title: 'Invented protocol',
        revision: share < 0.5 ? 1 : 2,
        hash: (share < 0.5 ? '1' : '2').repeat(64),
      },
      people: [{ role: 'dentist', label: n % 2 === 0 ? 'Invented A' : 'Invented B' }],
      lots: [{ materialClass: 'cement', lot }],
      units: drawn.map(({ unit }) => unit),
    };
    return {
      caseId,
      bonded,
      visits: visitsOf(dice, drawn, { ...o, bondedOn, caseId }),
      struck: [],
      recallsEnded: null,
      differing: [],
      unread: [],
      heads: [],
    };
  });
}
