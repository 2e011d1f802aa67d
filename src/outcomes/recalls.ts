/**
 * When a case is to be seen again: 1 to 2 weeks, 6 and 12 months after the bonding, then at the clinic's
 * interval. The interval lies in 3 to 24 months (NICE CG19, intervals by risk); 1 to 2 weeks, 6 and 12
 * months, and how far from its day a recall may lie, are common practice without a source. Pure.
 */
import { addDays, addMonths, daysBetween } from './days.ts';
import type { FollowUp, KeptVisit } from './follow-up-types.ts';
import { isGone, isSeen, looksAt } from './found.ts';
import type { TakenOn } from './later-bondings.ts';

export const RECALL_MONTHS = { min: 3, max: 24, usual: 12 } as const;

export type RecallState =
  /** Its window is not open yet. */
  | 'ahead'
  | 'due'
  /** Its window is over, and that of the next one not open yet. */
  | 'overdue'
  /** There was a visit nearer to it than to any other. */
  | 'held'
  | 'missed';

/** One recall of a case. */
export interface Recall {
  /** `weeks`, `months-6`, `months-12`, then `later-1`, `later-2` … */
  readonly id: string;
  readonly dueOn: string;
  readonly opensOn: string;
  readonly closesOn: string;
  readonly state: RecallState;
  /** The entry of the visit that counts for it. */
  readonly visit: string | null;
}

export interface CaseRecalls {
  /** Those of the first year, and later ones up to the first that lies ahead. */
  readonly all: readonly Recall[];
  /** The one that is due or overdue today; null where none is. */
  readonly due: Recall | null;
  /** The next that lies ahead; null once recalls were ended or nothing is left to be seen. */
  readonly next: Recall | null;
  readonly ended: 'by-people' | 'nothing-left' | null;
}

type Planned = Omit<Recall, 'state' | 'visit'>;

const around = (id: string, dueOn: string, days: number): Planned => ({
  id,
  dueOn,
  opensOn: addDays(dueOn, -days),
  closesOn: addDays(dueOn, days),
});

/** No case is followed for longer than this many intervals. */
const LATER_MAX = 400;

/** Every recall of the first year, and later ones up to the first whose window opens after `until`. */
function planned(
  { bondedOn, seenFrom }: { readonly bondedOn: string; readonly seenFrom?: string | undefined },
  o: { readonly everyMonths: number; readonly until: string },
): readonly Planned[] {
  const isLate = seenFrom !== undefined && seenFrom > bondedOn;
  const first: readonly Planned[] = isLate
    ? []
    : [
        {
          id: 'weeks',
          dueOn: addDays(bondedOn, 14),
          opensOn: addDays(bondedOn, 7),
          closesOn: addDays(bondedOn, 21),
        },
        around('months-6', addMonths(bondedOn, 6), 28),
        around('months-12', addMonths(bondedOn, 12), 28),
      ];
  const [from, offset] = isLate ? [seenFrom, 0] : [bondedOn, 12];
  const days = o.everyMonths < 6 ? 14 : 28;
  const all = [...first];
  for (let n = 1; n <= LATER_MAX && (all.at(-1)?.opensOn ?? '') <= o.until; n += 1) {
    all.push(around(`later-${n}`, addMonths(from, offset + n * o.everyMonths), days));
  }
  // Those of the first year are known at once.
  const ahead = all.findIndex(({ opensOn }) => opensOn > o.until);
  return ahead < 0 ? all : all.slice(0, Math.max(ahead + 1, first.length));
}

/** Whether a unit is where it was bonded on a day: no other case took its place by then, and the last look so far found it. */
function isThere(
  { visits }: FollowUp,
  o: {
    readonly unit: string;
    readonly on: string;
    /** Looks of that day itself are left out. */
    readonly isBeforeLooks?: boolean;
    readonly takenOn: TakenOn;
  },
): boolean {
  const { on, isBeforeLooks = false } = o;
  const taken = o.takenOn(o.unit);
  if (taken !== null && taken <= on) return false;
  const looks = looksAt(
    visits.map(({ visit }) => visit),
    o.unit,
  );
  const last = looks.findLast(({ onDay }) => onDay < on || (onDay === on && !isBeforeLooks));
  return last === undefined || !isGone(last.found);
}

/** Whether a visit looked at every unit that was there before it. */
function isWholeLook({ visit }: KeptVisit, followUp: FollowUp, takenOn: TakenOn): boolean {
  const looked = new Set(visit.units.filter(isSeen).map(({ unit }) => unit));
  return (followUp.bonded?.units ?? []).every(
    ({ unit }) =>
      looked.has(unit) ||
      !isThere(followUp, { unit, on: visit.onDay, isBeforeLooks: true, takenOn }),
  );
}

/**
 * Which recall each visit is held for: the nearest, of two as near the earlier one. Where nothing was seen, or in the
 * midst between two recalls only a part, as when somebody came with pain, no recall was held.
 */
function heldBy(
  followUp: FollowUp,
  all: readonly Planned[],
  takenOn: TakenOn,
): ReadonlyMap<string, KeptVisit> {
  const held = new Map<string, KeptVisit>();
  const [first] = all;
  if (first === undefined) return held;
  const due = all.map(({ dueOn }) => daysBetween(first.dueOn, dueOn));
  for (const kept of followUp.visits) {
    const { onDay, units } = kept.visit;
    if (!units.some(isSeen)) continue;
    const day = daysBetween(first.dueOn, onDay);
    let nearest = 0;
    for (const [at, own] of due.entries()) {
      if (Math.abs(own - day) < Math.abs((due[nearest] ?? 0) - day)) nearest = at;
    }
    const recall = all[nearest];
    if (recall === undefined || held.has(recall.id)) continue;
    const isInside = onDay >= recall.opensOn && onDay <= recall.closesOn;
    if (isInside || isWholeLook(kept, followUp, takenOn)) held.set(recall.id, kept);
  }
  return held;
}

/** Whether no unit of the case is left where it was bonded. */
function isNothingLeft(followUp: FollowUp, today: string, takenOn: TakenOn): boolean {
  const units = followUp.bonded?.units ?? [];
  return (
    units.length > 0 && units.every(({ unit }) => !isThere(followUp, { unit, on: today, takenOn }))
  );
}

/**
 * The recalls of one case.
 * @param o.today the calendar day in the clinic.
 * @param o.everyMonths the clinic's interval after the first year; 3 to 24.
 * @param o.takenOn where another case bonded to the same tooth: from when.
 */
export function recallsOf(
  followUp: FollowUp,
  o: { readonly today: string; readonly everyMonths: number; readonly takenOn?: TakenOn },
): CaseRecalls {
  const { takenOn = () => null } = o;
  const { bonded, recallsEnded } = followUp;
  if (bonded === null) return { all: [], due: null, next: null, ended: null };
  const { min, max } = RECALL_MONTHS;
  const everyMonths = Math.min(max, Math.max(min, Math.round(o.everyMonths)));
  let all = planned(bonded, { everyMonths, until: o.today });
  let held = heldBy(followUp, all, takenOn);
  // A visit may be nearest to one whose window is not open yet: then the one after it lies ahead.
  for (let last = all.at(-1); last && held.has(last.id); last = all.at(-1)) {
    all = planned(bonded, { everyMonths, until: last.opensOn });
    if (all.at(-1)?.id === last.id) break;
    held = heldBy(followUp, all, takenOn);
  }
  const states = all.map((recall, at): Recall => {
    const visit = held.get(recall.id)?.id ?? null;
    const next = all[at + 1];
    const laterHeld = all.slice(at + 1).some(({ id }) => held.has(id));
    const isOver = laterHeld || (next !== undefined && next.opensOn <= o.today);
    const open = o.today <= recall.closesOn ? ('due' as const) : ('overdue' as const);
    const unseen =
      o.today < recall.opensOn ? ('ahead' as const) : isOver ? ('missed' as const) : open;
    return { ...recall, visit, state: visit === null ? unseen : 'held' };
  });
  const ended =
    recallsEnded !== null
      ? 'by-people'
      : isNothingLeft(followUp, o.today, takenOn)
        ? 'nothing-left'
        : null;
  if (ended !== null) return { all: states, due: null, next: null, ended };
  const due = states.find(({ state }) => state === 'due' || state === 'overdue') ?? null;
  const next = states.find(({ state }) => state === 'ahead') ?? null;
  return { all: states, due, next, ended };
}
