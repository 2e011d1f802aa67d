/**
 * What every form of a follow-up is made from: one row for each unit at each visit, with the life that the
 * visit fell into, and one for a life that no visit has looked at yet. Pure; the order in which the
 * follow-ups come changes nothing.
 */
import { type ContradictionKind, contradictionsIn } from '../outcomes/contradictions.ts';
import type {
  BondedCase,
  BondedUnit,
  FollowUp,
  KeptVisit,
  UnitFound,
} from '../outcomes/follow-up-types.ts';
import { isSeen } from '../outcomes/found.ts';
import { laterBondings, type TakenOn, takenOnIn } from '../outcomes/later-bondings.ts';
import type { Life } from '../outcomes/life-types.ts';
import { livesOf } from '../outcomes/lives.ts';
import { type Origin, originOf } from '../outcomes/origin.ts';

export interface FollowUpSource {
  readonly followUps: readonly FollowUp[];
  /** The calendar day up to which lives could have been followed. */
  readonly today: string;
  /** The one case that is told; every case when left out. */
  readonly only?: string;
  /** Hash of the first entry of each case, as far as it is known: the record's own resources are named by it. */
  readonly roots?: ReadonlyMap<string, string>;
}

export interface FollowUpRow {
  readonly followUp: FollowUp;
  readonly bonded: BondedCase;
  readonly origin: Origin;
  /** Null: what is told of a unit that the case did not bond. */
  readonly life: Life | null;
  readonly unit: BondedUnit | null;
  readonly seen: { readonly kept: KeptVisit; readonly found: UnitFound } | null;
  /** How what this visit says of the unit cannot be so beside what others say. */
  readonly contradicts: readonly ContradictionKind[];
}

const NONE: readonly ContradictionKind[] = [];

type ContradictionsOf = (kept: KeptVisit, unit: string) => readonly ContradictionKind[];

/** What contradicts what in one case, by visit and unit. */
function contradictionsOf(followUp: FollowUp, takenOn: TakenOn): ContradictionsOf {
  const all = contradictionsIn(followUp, takenOn);
  return (kept, unit) => [
    ...new Set(
      all
        .filter((one) => one.unit === unit && one.sights.some((s) => s.kept.id === kept.id))
        .map(({ kind }) => kind),
    ),
  ];
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

interface OfUnit extends Pick<FollowUpRow, 'followUp' | 'bonded' | 'origin'> {
  readonly unit: BondedUnit;
  /** Its lives in the order of its bondings. */
  readonly lives: readonly Life[];
  readonly of: ContradictionsOf;
}

/** A unit that was bonded again lives anew after the visit that says so. */
function rowsOfUnit({ lives, of, ...row }: OfUnit): readonly FollowUpRow[] {
  let at = 0;
  const told = row.followUp.visits.flatMap((kept) =>
    kept.visit.units
      .filter(({ unit }) => unit === row.unit.unit)
      .map((found): FollowUpRow => {
        const life = lives[Math.min(at, lives.length - 1)] ?? null;
        if (isSeen(found) && found.done === 'bonded-again') at += 1;
        return { ...row, life, seen: { kept, found }, contradicts: of(kept, found.unit) };
      }),
  );
  return lives.flatMap((life) => {
    const own = told.filter((each) => each.life === life);
    return own.length > 0 ? own : [{ ...row, life, seen: null, contradicts: NONE }];
  });
}

/** Visits may tell of a unit that the case did not bond: a hurt or a foreign entry. It is told all the same. */
function strayRows(row: Omit<OfUnit, 'unit' | 'lives' | 'of'>): readonly FollowUpRow[] {
  const known = new Set(row.bonded.units.map(({ unit }) => unit));
  return row.followUp.visits.flatMap((kept) =>
    kept.visit.units
      .filter(({ unit }) => !known.has(unit))
      .map(
        (found): FollowUpRow => ({
          ...row,
          ...{ life: null, unit: null, contradicts: NONE },
          seen: { kept, found },
        }),
      ),
  );
}

const unitKey = (caseId: string, unit: string): string => JSON.stringify([caseId, unit]);

function byUnit(lives: readonly Life[]): ReadonlyMap<string, readonly Life[]> {
  const found = new Map<string, Life[]>();
  for (const life of lives) {
    const key = unitKey(life.caseId, life.unit.unit);
    const before = found.get(key);
    if (before === undefined) found.set(key, [life]);
    else before.push(life);
  }
  return found;
}

/** By day of the bonding, case, unit as the case has it, then by visit. What bonded nothing has no row. */
export function followUpRows({ followUps, today, only }: FollowUpSource): readonly FollowUpRow[] {
  const livesOfUnit = byUnit(livesOf(followUps, today));
  const laterOf = laterBondings(followUps);
  return followUps
    .flatMap((followUp) =>
      followUp.bonded === null ? [] : [{ followUp, bonded: followUp.bonded }],
    )
    .filter(({ followUp }) => only === undefined || followUp.caseId === only)
    .toSorted(
      (a, b) =>
        compare(a.bonded.bondedOn, b.bonded.bondedOn) ||
        compare(a.followUp.caseId, b.followUp.caseId),
    )
    .flatMap(({ followUp, bonded }) => {
      const { caseId } = followUp;
      const row = { followUp, bonded, origin: originOf(caseId) };
      const of = contradictionsOf(followUp, takenOnIn(laterOf, caseId));
      const own = bonded.units.flatMap((unit) => {
        const lives = livesOfUnit.get(unitKey(caseId, unit.unit)) ?? [];
        return rowsOfUnit({ ...row, unit, lives, of });
      });
      return [...own, ...strayRows(row)];
    });
}

/** Id of the entry that noted a visit first. */
export const rootOf = ({ id, was }: KeptVisit): string => was[0]?.id ?? id;
